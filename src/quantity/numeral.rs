//! Numbers as a card writes them: decimals, and the fractions of a jigger.
//!
//! `2.5`, `1/4`, `1 1/2`, `¾`, `1½`. A fraction has whole numbers over and under its stroke.

use super::NotAQuantity;

/// The fractions that have a sign of their own (Unicode, Number Forms and Latin-1): the sign, what stands over
/// the stroke, and what under it.
pub const SIGNS: [(char, u32, u32); 18] = [
    ('¼', 1, 4),
    ('½', 1, 2),
    ('¾', 3, 4),
    ('⅓', 1, 3),
    ('⅔', 2, 3),
    ('⅛', 1, 8),
    ('⅜', 3, 8),
    ('⅝', 5, 8),
    ('⅞', 7, 8),
    ('⅕', 1, 5),
    ('⅖', 2, 5),
    ('⅗', 3, 5),
    ('⅘', 4, 5),
    ('⅙', 1, 6),
    ('⅚', 5, 6),
    ('⅐', 1, 7),
    ('⅑', 1, 9),
    ('⅒', 1, 10),
];

/// No jigger and no card has a fraction of more digits.
const DIGITS: usize = 6;

/// The fraction at the start of a text, with or without whole ones before it, and the bytes that it takes:
/// `1/4`, `1 1/2`, `¾`, `1½`. `None` where there is none, such as before a plain decimal.
pub fn fraction(text: &str) -> Option<(f64, usize)> {
    if let Some((value, length)) = part(text) {
        return Some((value, length));
    }
    let (whole, digits) = count(text)?;
    let rest = &text[digits..];
    let gap = rest.len() - rest.trim_start_matches([' ', '\t']).len();
    let (value, length) = part(&rest[gap..])?;
    Some((f64::from(whole) + value, digits + gap + length))
}

/// A fraction alone: `3/4`, `¾`.
fn part(text: &str) -> Option<(f64, usize)> {
    let first = text.chars().next()?;
    if let Some((_, over, under)) = SIGNS.iter().find(|(sign, ..)| *sign == first) {
        return Some((f64::from(*over) / f64::from(*under), first.len_utf8()));
    }
    let (over, digits) = count(text)?;
    // The stroke of a keyboard, and the one that type has for fractions.
    let stroke = text[digits..].chars().next().filter(|c| matches!(c, '/' | '\u{2044}'))?.len_utf8();
    let (under, more) = count(&text[digits + stroke..])?;
    (under > 0).then(|| (f64::from(over) / f64::from(under), digits + stroke + more))
}

/// The whole number at the start of a text, and its digits.
fn count(text: &str) -> Option<(u32, usize)> {
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    if !(1..=DIGITS).contains(&digits) {
        return None;
    }
    text[..digits].parse().ok().map(|number| (number, digits))
}

/// The number at the start of a text, in whichever way it is written, and the bytes that it takes: what a
/// line has before a unit. The number may still be refused by [`parse`] (`1.2.3`, `-5`).
pub fn length(text: &str) -> usize {
    let plain =
        text.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '-' | '+'))).unwrap_or(text.len());
    fraction(text).map_or(plain, |(_, length)| length.max(plain))
}

/// Reads a finite number that is not negative.
///
/// # Errors
/// When it is no number, is negative, or beyond any bar's measure.
pub fn parse(digits: &str) -> Result<f64, NotAQuantity> {
    let help = "write it like 2.5, with a full stop for the decimals, or like 1 1/2";
    if let Some((value, length)) = fraction(digits)
        && length == digits.len()
    {
        return Ok(value);
    }
    let number: f64 =
        digits.parse().map_err(|_| NotAQuantity::new(format!("`{digits}` is not a number"), help))?;
    if !number.is_finite() || number.abs() > 1e9 {
        return Err(NotAQuantity::new(format!("`{digits}` is beyond any bar's measure"), help));
    }
    if number < 0.0 {
        return Err(NotAQuantity::new(format!("`{digits}` is negative"), "write an amount of zero or more"));
    }
    Ok(number.abs())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fractions_are_read_as_a_card_has_them() {
        for (text, value) in [
            ("1/4", 0.25),
            ("3/4", 0.75),
            ("¾", 0.75),
            ("1½", 1.5),
            ("1 ½", 1.5),
            ("1 1/2", 1.5),
            ("2 2/3", 2.0 + 2.0 / 3.0),
            ("3\u{2044}8", 0.375),
            ("11/2", 5.5),
            ("0/3", 0.0),
        ] {
            assert_eq!(parse(text), Ok(value), "{text}");
            assert_eq!(length(text), text.len(), "{text}");
        }
    }

    #[test]
    fn every_sign_is_the_number_that_unicode_gives_it() {
        // Unicode 16, UnicodeData.txt, field 8: a compatibility mapping of "digits, fraction slash, digits".
        for (sign, over, under) in SIGNS {
            assert!(sign.is_numeric() && !sign.is_ascii_digit(), "{sign}");
            assert_eq!(parse(&format!("{over}\u{2044}{under}")), parse(&sign.to_string()));
        }
    }

    #[test]
    fn what_is_no_fraction_is_refused() {
        for text in
            ["1/0", "1/", "/2", "1//2", "1 2", "1.5 1/2", "-1/2", "1/2/3", "½½", "1234567/2", "½ 1", ""]
        {
            assert!(parse(text).is_err(), "{text}");
        }
    }

    #[test]
    fn a_number_ends_where_it_ends() {
        for (text, length) in
            [("1 1/2 oz", 5), ("¾ oz", 2), ("1/4oz", 3), ("50 ml", 2), ("2.5ml", 3), ("1 oz", 1)]
        {
            assert_eq!(super::length(text), length, "{text}");
        }
    }
}
