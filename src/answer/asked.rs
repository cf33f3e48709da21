//! What was asked, so that an answer can be had again.

use crate::read::Changes;

/// The question as it stood on the command line. There is no time in it: the same question gives the same bytes.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Asked {
    /// The file of the brief, as it was named; `-` for standard input.
    pub brief: String,
    /// Settings for this run, `KEY=VALUE`, in their order.
    pub set: Vec<String>,
    /// Swaps for this run, `OLD=NEW`, in their order.
    pub swap: Vec<String>,
    /// The version that answered.
    pub version: &'static str,
}

impl Asked {
    /// What was asked of a brief.
    pub fn of(brief: &str, changes: &Changes, version: &'static str) -> Self {
        let pair = |key: &str, value: &str| format!("{key}={value}");
        Self {
            brief: brief.to_owned(),
            set: changes.settings.iter().map(|s| pair(&s.key, &s.value)).collect(),
            swap: changes.swaps.iter().map(|s| pair(&s.old, &s.new)).collect(),
            version,
        }
    }
}
