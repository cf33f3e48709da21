//! From bytes to text, and from text to tables.

use std::collections::BTreeSet;

use serde_json::Value;
use toml::Spanned;
use toml::de::{DeTable, Error};

use super::codes;
use crate::finding::{Finding, line_and_column};

/// A brief is a page or two; a file beyond this many bytes is something else.
pub const MOST_BYTES: usize = 4 * 1024 * 1024;

/// After so many places that are no TOML the rest only echoes the first ones.
const MOST_ERRORS: usize = 20;

/// What a file is meant to be.
#[derive(Debug, Default, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A brief.
    #[default]
    Brief,
    /// A house.
    House,
}

/// The text of a file that is meant to be one or the other.
///
/// # Errors
/// When it is too large, no UTF-8 or says nothing.
pub fn decode(bytes: &[u8], kind: Kind) -> Result<&str, Finding> {
    let (one, help, empty) = match kind {
        Kind::Brief => (
            "brief",
            "give a brief, which is a page or two of TOML",
            "`washline new FILE` writes a commented starter brief",
        ),
        Kind::House => (
            "house",
            "give a house, which is a few pages of TOML",
            "write one table [[candidate]] a bottle or preparation, as in a brief",
        ),
    };
    if bytes.len() > MOST_BYTES {
        let what = format!("the file has more than the {MOST_BYTES} bytes that a {one} may have");
        return Err(Finding::placeless(codes::TOO_LARGE, what, help));
    }
    let text = std::str::from_utf8(bytes).map_err(|error| not_utf8(bytes, error.valid_up_to()))?;
    if text.trim_start_matches('\u{feff}').trim().is_empty() {
        return Err(Finding::placeless(codes::EMPTY, format!("the {one} is empty"), empty));
    }
    Ok(text)
}

fn not_utf8(bytes: &[u8], valid: usize) -> Finding {
    let (good, rest) = bytes.split_at(valid);
    let (line, column) = line_and_column(&String::from_utf8_lossy(good), valid);
    let byte = rest.first().copied().unwrap_or_default();
    let what = format!("line {line}, column {column}: the byte 0x{byte:02X} is not UTF-8 text");
    let help = "save the file as UTF-8; some editors call it \"UTF-8 without BOM\"";
    Finding::placeless(codes::NOT_UTF8, what, help)
}

/// The tables of a text.
///
/// # Errors
/// Every place where it is no TOML.
pub fn parse(text: &str) -> Result<DeTable<'_>, Vec<Finding>> {
    let (table, errors) = DeTable::parse_recoverable(text);
    if errors.is_empty() {
        return Ok(Spanned::into_inner(table));
    }
    let mut places = BTreeSet::new();
    let firsts = errors.iter().filter(|error| places.insert(error.span().map(|place| place.start)));
    Err(firsts.take(MOST_ERRORS).map(|error| not_toml(text, error)).collect())
}

/// What a parser's message means, in plain words, and what to do; the first one that fits counts.
const PLAIN: [(&str, &str, &str); 10] = [
    ("duplicate key", "this key or table stands twice", "take one of the two away"),
    ("recurs", "this is nested too deep", "a brief is nested three deep at most"),
    ("key with no value", "a key without a value", "a line is KEY = VALUE, a [table], or a # comment"),
    ("missing value", "a key without a value", "a line is KEY = VALUE, a [table], or a # comment"),
    (
        "expected newline",
        "something stands behind the value",
        "one key and value a line; decimals have a full stop, text stands between quotes",
    ),
    (
        "unquoted key",
        "this cannot be a key",
        "put keys with spaces or accents between quotes: \"crème de mûre\" = 10",
    ),
    ("unclosed", "a bracket is not closed", "close it: [table], [[table]], [ list ], { key = value }"),
    ("comma", "the commas do not fit", "put one comma between two entries"),
    ("string", VALUE, "text stands between quotes, decimals have a full stop: title = \"Sour\", acid = 9.5"),
    ("invalid", VALUE, "text stands between quotes, decimals have a full stop: title = \"Sour\", acid = 9.5"),
];
const VALUE: &str = "this is neither a number, nor true or false, nor text in quotes";

fn not_toml(text: &str, error: &Error) -> Finding {
    let message = error.message();
    let plain = PLAIN.iter().find(|(part, ..)| message.contains(part));
    let (what, help) = plain.map_or(
        (message, "a line is KEY = VALUE, a [table], or a # comment; text stands between quotes"),
        |(_, what, help)| (*what, *help),
    );
    let what = format!("not TOML: {what}");
    match error.span() {
        Some(place) if place.end <= text.len() => Finding::error(codes::NOT_TOML, place, what, help),
        _ => Finding::placeless(codes::NOT_TOML, what, help),
    }
}
/// A text between quotes, as TOML has it: JSON's strings are among them.
pub fn quoted(text: &str) -> String {
    Value::from(text).to_string()
}
