//! One question asked many times: what a drink is along something that moves.

pub mod flight;
pub mod swap;
pub mod sweep;
pub mod tasters;
