//! The text of a brief that is being written.

use super::names::Found;
use crate::brief::Measure;
use crate::liquid::Method;
use crate::read::file::Keyword;

/// The text of a brief; one line a key, each with a comment.
pub struct Text(pub String);

impl Text {
    /// A line and what it is for.
    pub fn line(&mut self, line: &str, comment: &str) {
        self.0.push_str(&format!("{line:<44}  # {comment}\n"));
    }

    /// A gap before the next table.
    pub fn gap(&mut self) {
        self.0.push('\n');
    }
}

/// The line that names an ingredient.
pub fn from(what: &Found) -> String {
    match what {
        Found::House(name) => format!("house = {}", toml(name)),
        Found::Larder(name) => format!("larder = {}", toml(name)),
    }
}

/// Where its figures stand.
pub fn source(what: &Found) -> &'static str {
    match what {
        Found::House(_) => "its figures and price stand in the house",
        Found::Larder(_) => "built-in figures; add price = \"17.50 per 700 ml\"",
    }
}

/// The unit of a measure, in words.
pub fn unit(measure: Measure) -> &'static str {
    match measure {
        Measure::Sweetness => "g/L, as sucrose",
        Measure::Acid => "g/L, as citric",
        other => other.unit(),
    }
}

/// The word of a method.
pub fn method_word(method: Method) -> &'static str {
    Method::words().into_iter().find(|(_, known)| *known == method).map_or("none", |(word, _)| word)
}

/// A text between quotes, as TOML has it: JSON's strings are among them.
pub fn toml(text: &str) -> String {
    serde_json::Value::from(text).to_string()
}
