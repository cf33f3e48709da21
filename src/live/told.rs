//! Findings at the fields that they concern, in the words of the command line.

use serde::Serialize;

use crate::finding::{Finding, Severity, Text, line_and_column};
use crate::read::edits::fields_at;

/// One thing that is wrong, or worth a second look.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Told {
    /// The keys that it concerns, the innermost first; empty where it concerns none.
    pub fields: Vec<String>,
    /// Whether the brief cannot be used with it.
    pub error: bool,
    /// The code, where it stands, what is wrong and what to do, as the command line says it.
    pub said: String,
}

/// Findings about a text.
pub fn told(text: &str, findings: &[Finding]) -> Vec<Told> {
    let one = |finding: &Finding| {
        let place = finding.place.as_ref().filter(|_| finding.text == Text::Given).map(|place| place.start);
        let place = place.filter(|place| *place <= text.len());
        let line = place.map_or_else(String::new, |place| {
            let (line, column) = line_and_column(text, place);
            format!(" (line {line}, column {column})")
        });
        let of_house = if finding.text == Text::House { "in the house: " } else { "" };
        let help = if finding.help.is_empty() { String::new() } else { format!(" – {}", finding.help) };
        Told {
            fields: place.map_or_else(Vec::new, |place| fields_at(text, place)),
            error: finding.severity == Severity::Error,
            said: format!("{of_house}{}{line}{help}", finding.what),
        }
    };
    findings.iter().map(one).collect()
}
