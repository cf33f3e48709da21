//! Names without what does not tell them apart: letter case, accents, hyphens.

/// Lower case, accents off, hyphens and runs of blanks as one blank.
pub fn folded(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for letter in text.chars().flat_map(char::to_lowercase).map(unaccented) {
        if !letter.is_whitespace() {
            plain.push(letter);
        } else if !plain.is_empty() && !plain.ends_with(' ') {
            plain.push(' ');
        }
    }
    plain.truncate(plain.trim_end().len());
    plain
}

fn unaccented(letter: char) -> char {
    match letter {
        'à'..='å' => 'a',
        'ç' => 'c',
        'è'..='ë' => 'e',
        'ì'..='ï' => 'i',
        'ñ' => 'n',
        'ò'..='ö' => 'o',
        'ù'..='ü' => 'u',
        '-' | '\u{2010}'..='\u{2013}' => ' ',
        other => other,
    }
}
