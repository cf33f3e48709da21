//! What an answer means: what asks for care, which rules a given spec breaks, and why it is as it is.

pub mod cautions;
pub mod conflict;
pub mod demand;
pub mod loosen;
pub mod oracle;
pub mod rules;
