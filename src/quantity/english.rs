//! Words around figures: how many of something, and lists.

/// `1 ingredient`, `2 ingredients`.
pub fn counted(count: usize, noun: &str) -> String {
    if count == 1 { format!("1 {noun}") } else { format!("{count} {noun}s") }
}

/// `a`, `a and b`, `a, b and c`.
pub fn listed<T: AsRef<str>>(names: &[T]) -> String {
    joined(names, "and")
}

/// `a`, `a or b`, `a, b or c`.
pub fn either<T: AsRef<str>>(names: &[T]) -> String {
    joined(names, "or")
}

fn joined<T: AsRef<str>>(names: &[T], word: &str) -> String {
    let names: Vec<&str> = names.iter().map(AsRef::as_ref).collect();
    match names.as_slice() {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [rest @ .., last] => format!("{} {word} {last}", rest.join(", ")),
    }
}

/// The text with a capital first letter.
pub fn upper_first(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
