//! What was said of a glass.

use crate::brief::{Tasted, Word};

/// `sweet too much, sour right: "thin at the end"`.
pub fn tasted(tasted: &Tasted) -> String {
    let word = |word: &Word| format!("{} {}", word.facet.keyword(), word.said.keyword());
    let said: Vec<String> = tasted.said.iter().map(word).collect();
    let quoted = tasted.words.as_ref().map(|words| format!("\"{}\"", words.trim()));
    match (said.is_empty(), quoted) {
        (_, None) => said.join(", "),
        (true, Some(words)) => words,
        (false, Some(words)) => format!("{}: {words}", said.join(", ")),
    }
}
