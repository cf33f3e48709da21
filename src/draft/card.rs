//! What stands on a card beside what is poured: what the drink is called, how it is made, what is laid on it.

use std::ops::Range;

use super::spelling;
use crate::liquid::Method;

/// What may stand before a word of making: `double strain`, `then shake`.
const HOW: [&str; 8] = ["double", "fine", "dry", "hard", "reverse", "then", "and", "again"];
/// Words of making that bring nothing into the drink and name no method.
const MADE: [&str; 11] = [
    "strain", "strained", "serve", "served", "pour", "poured", "fill", "filled", "muddle", "swizzle", "churn",
];
/// What is laid on a drink, with or without the word `garnish`: `lemon twist`, `2 mint sprigs`.
const LAID: [&str; 8] = ["twist", "wheel", "wedge", "slice", "sprig", "peel", "leaf", "leaves"];
/// How a card says that a method has been used, and the method's own word.
const DONE: [(&str, &str); 4] =
    [("shaken", "shake"), ("stirred", "stir"), ("built", "build"), ("blended", "blend")];
/// What may stand beside ice in a piece that speaks of nothing else: `over fresh ice`, `on the rocks`.
const BESIDE_ICE: [&str; 17] = [
    "over", "on", "with", "add", "top", "up", "the", "a", "of", "fresh", "more", "plenty", "large", "cubed",
    "cracked", "crushed", "pebble",
];

/// How a card says that its drink is made and served.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Making {
    /// The first method that it names.
    pub method: Option<Method>,
    /// What it is served on, beside the ice that every built drink has.
    pub ice: Option<Ice>,
}

/// Ice in a glass.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ice {
    /// In cubes.
    Cubed,
    /// Crushed.
    Crushed,
}

impl Ice {
    /// How a brief says so: each line, and what it is for.
    pub fn lines(self) -> &'static [(&'static str, &'static str)] {
        let lines = &[
            ("served = \"on ice\"", "ice in the glass: give its mass as ice = \"120 g\""),
            ("crushed = true", "it melts sooner"),
        ];
        if self == Self::Crushed { lines } else { &lines[..1] }
    }
}

/// Where the first line of several stands: what the drink is called, if it is nothing else.
pub fn first_line(card: &str) -> Option<Range<usize>> {
    let start = card.len() - card.trim_start().len();
    let end = start + card[start..].find('\n')?;
    let place = start..start + card[start..end].trim_end().len();
    (!card[end..].trim().is_empty()).then_some(place)
}

/// Where a name before a colon stands, `Weir Fizz: 50 ml gin, …`, and what comes behind the colon.
pub fn before_colon(card: &str) -> Option<(Range<usize>, &str)> {
    let start = card.len() - card.trim_start().len();
    let (name, rest) = card[start..].split_once(':')?;
    let first = split(rest).into_iter().next()?;
    Some((start..start + name.len(), rest[first].trim()))
}

/// A piece without the mark of a list before it.
pub fn unmarked(piece: &str) -> &str {
    let text = piece.trim_start();
    let rest =
        text.strip_prefix(['-', '–', '•', '·', '*']).filter(|rest| rest.starts_with(char::is_whitespace));
    rest.unwrap_or(text).trim_start()
}

/// What a piece pours: what stands behind words of making, `muddle 10 ml sugar syrup`, or all of it; nothing where it only
/// says how the drink is made or what is laid on it.
pub fn poured(piece: &str) -> Option<&str> {
    match amount_behind(piece) {
        Some(at) => Some(&piece[at..]),
        None => (!is_made(piece)).then_some(piece),
    }
}

/// Where an amount stands behind words of making.
fn amount_behind(piece: &str) -> Option<usize> {
    let mut rest = piece.trim_start();
    loop {
        let first = rest.split_whitespace().next()?;
        let word = words(first).next()?;
        if !(is_making(&word) || HOW.contains(&word.as_str()) || word == "with") {
            return None;
        }
        rest = rest[first.len()..].trim_start();
        if is_measured(rest) {
            return Some(piece.len() - rest.len());
        }
    }
}

/// Whether a text begins with an amount and its unit.
fn is_measured(text: &str) -> bool {
    let parts: Vec<&str> = text.split_whitespace().take(2).collect();
    (1..=parts.len()).any(|count| spelling::is_amount(&parts[..count].join(" ")))
}

fn is_making(word: &str) -> bool {
    MADE.contains(&word) || method_of(word).is_some()
}

/// Whether a piece of a card says how the drink is made or what is laid on it, and nothing of it is poured.
pub fn is_made(piece: &str) -> bool {
    let word = words(piece).find(|word| !HOW.contains(&word.as_str())).unwrap_or_default();
    let only_ice = || words(piece).all(|word| is_ice(&word) || BESIDE_ICE.contains(&word.as_str()));
    word.starts_with("garnish")
        || is_laid(piece)
        || is_making(&word) && amount_behind(piece).is_none()
        || words(piece).any(|word| is_ice(&word)) && only_ice()
}

/// The pieces of a card.
pub fn split(card: &str) -> Vec<Range<usize>> {
    spelling::split(card, |rest| is_made(rest) || words(rest).next().is_some_and(|word| word == "top"))
}

/// How a card says that its drink is made and served, in the first of its pieces that does.
pub fn making(card: &str) -> Making {
    let pieces: Vec<&str> = split(card).into_iter().map(|place| unmarked(&card[place])).collect();
    let mut made = pieces.iter().filter(|piece| poured(piece) != Some(**piece));
    let method = made.clone().find_map(|piece| words(piece).find_map(|word| method_of(&word)));
    let ice = made.find_map(|piece| ice(piece));
    Making { method, ice: ice.filter(|ice| method != Some(Method::Build) || *ice == Ice::Crushed) }
}

/// The ice that a piece serves the drink on: what stands behind `over` or `on`, and is not what it is worked with
/// (`stir over ice and strain`).
fn ice(piece: &str) -> Option<Ice> {
    let (mut on, mut worked, mut crushed) = (false, false, false);
    for word in words(piece) {
        match word.as_str() {
            "over" | "on" | "top" | "fill" | "filled" => on = true,
            "crushed" | "pebble" => crushed = true,
            "rocks" if on => return Some(Ice::Cubed),
            _ if is_ice(&word) && on && !worked => {
                return Some(if crushed { Ice::Crushed } else { Ice::Cubed });
            }
            _ if MADE.contains(&word.as_str()) => (on, worked) = (false, false),
            _ => {
                if let Some(method) = method_of(&word) {
                    (on, worked) = (method == Method::Build, method != Method::Build);
                }
            }
        }
    }
    None
}

/// A few words that begin or end with what is laid on a drink, however many of it, without an amount: `2 mint sprigs`,
/// `3 slices of cucumber`.
fn is_laid(piece: &str) -> bool {
    let laid = |word: &str| LAID.iter().any(|laid| word == *laid || word.strip_suffix('s') == Some(laid));
    let words: Vec<String> = words(piece).filter(|word| !word.is_empty()).collect();
    words.len() <= 5
        && !is_measured(piece)
        && words.first().into_iter().chain(words.last()).any(|word| laid(word))
}

/// A name without the ice that it is worked with: `lemon juice with ice`.
pub fn without_ice(name: &str) -> &str {
    let tails = [" with ice", " over ice", " on ice"];
    tails.into_iter().find_map(|tail| name.strip_suffix(tail)).unwrap_or(name)
}

fn is_ice(word: &str) -> bool {
    matches!(word, "ice" | "rocks" | "cube" | "cubes")
}

/// The words of a piece, in small letters and without their punctuation.
fn words(piece: &str) -> impl Iterator<Item = String> {
    let plain = |word: &str| word.trim_matches(|c: char| !c.is_alphabetic()).to_lowercase();
    piece.split_whitespace().map(plain)
}

fn method_of(word: &str) -> Option<Method> {
    let word = DONE.iter().find(|(done, _)| *done == word).map_or(word, |(_, plain)| plain);
    super::method(word).filter(|method| *method != Method::None)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_card_says_how_its_drink_is_made() {
        let of = |card: &str| making(card).method;
        assert_eq!(of("50 ml gin, 25 ml lemon juice\nDry shake, then shake with ice."), Some(Method::Shake));
        assert_eq!(of("50 ml gin\n25 ml dry vermouth\nStir, strain"), Some(Method::Stir));
        assert_eq!(of("- 50 ml gin\n- 25 ml dry vermouth\n- Stirred."), Some(Method::Stir));
        assert_eq!(of("50 ml gin, 25 ml dry vermouth. Stir over ice."), Some(Method::Stir));
        assert_eq!(of("50 ml gin, built in the glass"), Some(Method::Build));
        assert_eq!(of("50 ml gin, 25 ml lemon juice, garnish with a wheel"), None);
        for made in [
            "Double strain into a coupe",
            "Garnish: a wheel",
            "Ice",
            "over fresh ice",
            "fill with ice",
            "Lemon twist",
            "2 mint sprigs.",
            "3 slices of cucumber",
        ] {
            assert!(is_made(made), "{made}");
        }
        for poured in [
            "dry vermouth",
            "double cream",
            "double",
            "ice wine 50 ml",
            "top with iced tea",
            "5 g lemon peel",
            "20 ml orange peel cordial",
            "muddle 10 ml sugar syrup",
            "",
        ] {
            assert!(!is_made(poured), "{poured}");
        }
    }

    #[test]
    fn a_card_says_on_what_its_drink_is_served() {
        let of = |made: &str| making(&format!("50 ml gin, 25 ml lemon juice\n{made}")).ice;
        for on in [
            "Shake and strain over ice",
            "Shake, serve on the rocks",
            "Stir with ice, fine strain over a cube",
        ] {
            assert_eq!(of(on), Some(Ice::Cubed), "{on}");
        }
        for on in ["Shake, top up with crushed ice", "Shake\nover pebble ice", "Build, fill with crushed ice"]
        {
            assert_eq!(of(on), Some(Ice::Crushed), "{on}");
        }
        for up in
            ["Stir over ice and strain", "Shake hard with ice, strain into a coupe", "Ice", "Build over ice"]
        {
            assert_eq!(of(up), None, "{up}");
        }
    }

    #[test]
    fn the_first_line_of_several_has_a_place() {
        assert_eq!(first_line("50 ml gin"), None);
        assert_eq!(first_line("50 ml gin\n"), None);
        assert_eq!(first_line(" Weir \n\n50 ml gin"), Some(1..5));
    }
}
