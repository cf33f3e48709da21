//! What an answer means: what asks for care, and which rules a given spec breaks.

pub mod cautions;
pub mod rules;
