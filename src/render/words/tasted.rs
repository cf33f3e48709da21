//! What was said of a glass.

use crate::answer::SaidLine;

/// `sweet too much, sour right: "thin at the end"`.
pub fn tasted(said: &[SaidLine], words: Option<&str>) -> String {
    let said: Vec<String> = said.iter().map(|line| format!("{} {}", line.facet, line.said)).collect();
    let quoted = words.map(|words| format!("\"{}\"", words.trim()));
    match (said.is_empty(), quoted) {
        (_, None) => said.join(", "),
        (true, Some(words)) => words,
        (false, Some(words)) => format!("{}: {words}", said.join(", ")),
    }
}
