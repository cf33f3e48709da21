//! Names that every solver reads, as near as possible to those of the brief.

use std::collections::BTreeSet;

/// The longest that the part from the brief may be: rows stay readable, and MPS readers stop at 255.
const LONGEST: usize = 40;

/// Hands out names, none of them twice.
#[derive(Debug, Default)]
pub struct Names(BTreeSet<String>);

impl Names {
    /// `prefix_words`, with a number behind it where that is taken.
    pub fn take(&mut self, prefix: &str, words: &str) -> String {
        let plain = plain(words);
        let base = if plain.is_empty() { prefix.to_owned() } else { format!("{prefix}_{plain}") };
        let mut name = base.clone();
        let mut count = 2;
        while !self.0.insert(name.clone()) {
            name = format!("{base}_{count}");
            count += 1;
        }
        name
    }
}

/// Letters and digits of ASCII, everything else as single underscores.
fn plain(words: &str) -> String {
    let mut name = String::new();
    for letter in words.chars().flat_map(unaccented) {
        if letter.is_ascii_alphanumeric() {
            name.push(letter);
        } else if !name.is_empty() && !name.ends_with('_') {
            name.push('_');
        }
        if name.len() >= LONGEST {
            break;
        }
    }
    name.truncate(name.trim_end_matches('_').len());
    name
}

/// The plain letters for those of western Europe; other letters stay, and become underscores.
fn unaccented(letter: char) -> impl Iterator<Item = char> {
    let plain = match letter.to_lowercase().next().unwrap_or(letter) {
        'à'..='å' => "a",
        'æ' => "ae",
        'ç' => "c",
        'è'..='ë' => "e",
        'ì'..='ï' => "i",
        'ñ' => "n",
        'ò'..='ö' | 'ø' => "o",
        'ù'..='ü' => "u",
        'ý' | 'ÿ' => "y",
        'ß' => "ss",
        'œ' => "oe",
        _ => "",
    };
    let kept = if plain.is_empty() { letter.to_lowercase().next() } else { None };
    plain.chars().chain(kept)
}

/// A text for a comment: no line breaks or other control characters, and nothing beyond ASCII, at which
/// some readers stop.
pub fn remark(text: &str) -> String {
    text.chars()
        .flat_map(|letter| {
            let ascii = if letter.is_ascii() && !letter.is_ascii_control() {
                vec![letter]
            } else {
                let plain: Vec<char> = unaccented(letter).filter(char::is_ascii_alphabetic).collect();
                if plain.is_empty() { vec!['?'] } else { plain }
            };
            ascii.into_iter()
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_plain_and_never_given_twice() {
        let mut names = Names::default();
        assert_eq!(names.take("pour", "Crème de mûre (16 %)"), "pour_creme_de_mure_16");
        assert_eq!(names.take("pour", "crème de mure, 16 %"), "pour_creme_de_mure_16_2");
        assert_eq!(names.take("pour", "日本酒"), "pour");
        assert_eq!(names.take("pour", "…"), "pour_2");
        assert_eq!(names.take("pour", &"x".repeat(300)).len(), "pour_".len() + LONGEST);
        assert_eq!(names.take("pour", "end\n max: 3 x >= 1"), "pour_end_max_3_x_1");
    }

    #[test]
    fn remarks_cannot_break_out_of_their_line() {
        assert_eq!(remark("a\nb\r\u{b}ä\u{2028}é\tß"), "a?b??a?e?ss");
    }
}
