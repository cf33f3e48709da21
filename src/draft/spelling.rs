//! How cards spell amounts: in words, with a decimal comma, with `and` between pours.

use std::ops::Range;

use crate::quantity::{Amount, Unit};

/// Numbers in words.
const NUMBERS: [(&str, &str); 9] = [
    ("a", "1"),
    ("an", "1"),
    ("one", "1"),
    ("two", "2"),
    ("three", "3"),
    ("four", "4"),
    ("five", "5"),
    ("half", "1/2"),
    ("quarter", "1/4"),
];
/// Units in words, and as quantities have them. A drop is a twentieth of a millilitre: common practice, no source.
const UNITS: [(&str, &str); 16] = [
    ("ounce", "oz"),
    ("ounces", "oz"),
    ("oz.", "oz"),
    ("ml.", "ml"),
    ("mls", "ml"),
    ("millilitre", "ml"),
    ("millilitres", "ml"),
    ("milliliter", "ml"),
    ("milliliters", "ml"),
    ("teaspoon", "tsp"),
    ("teaspoons", "tsp"),
    ("tablespoon", "tbsp"),
    ("tablespoons", "tbsp"),
    ("barspoonful", "barspoon"),
    ("drop", DROP),
    ("drops", DROP),
];
const DROP: &str = "drop";
const DROP_ML: f64 = 0.05;
/// What stands between two pours beside commas, where an amount follows.
const BETWEEN: [&str; 5] = [" and ", " & ", " - ", " – ", " / "];

/// Whether a piece begins with an amount, in figures or in words.
pub fn begins(piece: &str) -> bool {
    let first = piece.split_whitespace().next().unwrap_or_default().to_lowercase();
    let worded = NUMBERS.iter().any(|(word, _)| *word == first) && piece.trim().contains(' ');
    worded || piece.starts_with(|c: char| c.is_numeric() || c == '.' || c == '-')
}

/// Whether a text is an amount with its unit, and nothing else.
pub fn is_amount(text: &str) -> bool {
    let text = plain(text);
    text.contains(char::is_alphabetic) && Amount::parse(&text, Unit::Ml).is_ok()
}

/// An amount as quantities have it: `two ounces` is `2 oz`, `1,5 cl` is `1.5 cl`.
pub fn plain(text: &str) -> String {
    let mut words: Vec<String> = Vec::new();
    for (at, word) in text.split_whitespace().enumerate() {
        let lower = word.to_lowercase();
        let number = NUMBERS.iter().find(|(name, _)| *name == lower).map(|(_, figure)| *figure);
        let unit = UNITS.iter().find(|(name, _)| *name == lower).map(|(_, unit)| *unit);
        match (number, unit) {
            // Half an ounce is not one and a half.
            (Some("1"), _) if at > 0 => {}
            (Some(figure), _) => words.push(figure.to_owned()),
            (None, Some(unit)) => words.push(unit.to_owned()),
            (None, None) => words.push(decimal_point(word)),
        }
    }
    match words.as_slice() {
        [count, unit] if unit == DROP => match count.parse::<f64>() {
            Ok(count) => format!("{} ml", count * DROP_ML),
            Err(_) => words.join(" "),
        },
        _ => words.join(" "),
    }
}

/// `1,5` as `1.5`.
fn decimal_point(word: &str) -> String {
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    match word.split_once(',') {
        Some((whole, rest)) if digits(whole) && rest.starts_with(|c: char| c.is_ascii_digit()) => {
            format!("{whole}.{rest}")
        }
        _ => word.to_owned(),
    }
}

/// The pieces of a line: between commas, semicolons, plus signs and line ends, at an `and` or a dash before an amount, and
/// at a full stop before what begins a sentence.
pub fn split(line: &str, begins: impl Fn(&str) -> bool) -> Vec<Range<usize>> {
    let mut pieces = Vec::new();
    let mut start = 0;
    let mut skip = 0;
    for (at, letter) in line.char_indices().filter(|(_, c)| matches!(c, ',' | ';' | '\n' | '+' | ' ' | '.')) {
        if at < skip {
            continue;
        }
        let rest = &line[at..];
        let before = line[start..at].trim();
        let after = BETWEEN.iter().find(|word| rest.to_lowercase().starts_with(*word));
        let end = match (letter, after) {
            (' ', Some(word)) if before.contains(' ') && amount_at(&rest[word.len()..]) => at + word.len(),
            (' ', _) => continue,
            (',', _) if is_decimal(before, rest) => continue,
            ('.', _) if !(rest[1..].starts_with(' ') && begins(rest[1..].trim_start())) => continue,
            _ => at + letter.len_utf8(),
        };
        pieces.push(start..at);
        (start, skip) = (end, end);
    }
    pieces.push(start..line.len());
    pieces
}

/// Whether a comma is that of a decimal: nothing but digits stand before it in its piece, and a digit behind.
fn is_decimal(before: &str, rest: &str) -> bool {
    let digits = !before.is_empty() && before.bytes().all(|b| b.is_ascii_digit());
    digits && rest[1..].starts_with(|c: char| c.is_ascii_digit())
}

fn amount_at(text: &str) -> bool {
    text.starts_with(|c: char| c.is_numeric())
}
