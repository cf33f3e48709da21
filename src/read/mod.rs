//! From the text of a brief to a [`Brief`], or to everything that is wrong with it.

pub mod spec_line;

use crate::brief::Brief;
use crate::finding::Finding;

/// One `--set KEY=VALUE`: a change to the brief before it is read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Setting {
    /// Dotted key, such as `targets.strength.max`.
    pub key: String,
    /// The value as TOML, or a bare string.
    pub value: String,
}

/// A brief that has been read, and what is worth a second look in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// The validated question.
    pub brief: Brief,
    /// Findings that do not stop it.
    pub warnings: Vec<Finding>,
}

/// Reads a brief from the bytes of a file.
///
/// # Errors
/// All findings, in the order of the text, when at least one of them is an error.
pub fn read(_bytes: &[u8], _settings: &[Setting]) -> Result<Reading, Vec<Finding>> {
    todo!()
}

/// The JSON Schema of a brief.
pub fn schema() -> serde_json::Value {
    todo!()
}

/// A commented brief to start from.
pub fn starter() -> &'static str {
    todo!()
}
