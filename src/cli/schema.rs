//! `washline schema`

use super::exit::{Exit, Failure};
use super::output;
use crate::read;

/// Writes the JSON Schema of the brief.
pub fn run() -> Result<Exit, Failure> {
    output::answer(&format!("{:#}\n", read::schema()))?;
    Ok(Exit::Answered)
}
