//! What is wrong with an input: a stable code, a place, what is wrong and what to do.
//!
//! A finding is data. How it is drawn (colours, the line with its mark) is the business of `cli`.

use std::ops::Range;

/// How much a finding matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// The brief cannot be used.
    Error,
    /// The brief can be used, but probably does not say what was meant.
    Warning,
}

/// The text in which a finding has its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Text {
    /// The one that was given: the brief, the line of a spec.
    #[default]
    Given,
    /// The house that the brief names.
    House,
}

/// One thing that is wrong with an input.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// A stable code in kebab case, such as `unknown-key`: for tests and searches.
    pub code: &'static str,
    /// Whether the brief can still be used.
    pub severity: Severity,
    /// Where in the text, in bytes; `None` where no place can be named (an unreadable file).
    pub place: Option<Range<usize>>,
    /// In which text.
    pub text: Text,
    /// What is wrong, one sentence without a full stop.
    pub what: String,
    /// What to do about it.
    pub help: String,
}

impl Finding {
    /// An error at a place.
    pub fn error(
        code: &'static str,
        place: Range<usize>,
        what: impl Into<String>,
        help: impl Into<String>,
    ) -> Self {
        Self { place: Some(place), ..Self::placeless(code, what, help) }
    }

    /// An error that has no place in the text.
    pub fn placeless(code: &'static str, what: impl Into<String>, help: impl Into<String>) -> Self {
        let (what, help) = (what.into(), help.into());
        Self { code, severity: Severity::Error, place: None, text: Text::Given, what, help }
    }

    /// A warning at a place.
    pub fn warning(
        code: &'static str,
        place: Range<usize>,
        what: impl Into<String>,
        help: impl Into<String>,
    ) -> Self {
        Self { severity: Severity::Warning, ..Self::error(code, place, what, help) }
    }
}

/// Line and column (both from 1; columns in characters) of a byte offset in `text`.
pub fn line_and_column(text: &str, offset: usize) -> (usize, usize) {
    let offset = offset.min(text.len());
    let before = &text.as_bytes()[..offset];
    let line = before.split(|&b| b == b'\n').count();
    let start = before.iter().rposition(|&b| b == b'\n').map_or(0, |at| at + 1);
    let column = String::from_utf8_lossy(&before[start..]).chars().count() + 1;
    (line, column)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_count_characters_not_bytes() {
        let text = "a = 1\né = 2\n";
        assert_eq!(line_and_column(text, 0), (1, 1));
        assert_eq!(line_and_column(text, 6), (2, 1));
        assert_eq!(line_and_column(text, 8), (2, 2));
        assert_eq!(line_and_column(text, 999), (3, 1));
    }
}
