//! What was said of a glass.

/// `sweet too much, sour right: "thin at the end"`.
pub fn tasted(said: &[(&'static str, &'static str)], words: Option<&str>) -> String {
    let said: Vec<String> = said.iter().map(|(facet, word)| format!("{facet} {word}")).collect();
    let quoted = words.map(|words| format!("\"{}\"", words.trim()));
    match (said.is_empty(), quoted) {
        (_, None) => said.join(", "),
        (true, Some(words)) => words,
        (false, Some(words)) => format!("{}: {words}", said.join(", ")),
    }
}
