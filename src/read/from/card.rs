//! What stands on a card beside what is poured: what the drink is called, how it is made, what is laid on it.

use std::ops::Range;

use super::spelling;
use crate::liquid::Method;

/// What may stand before a word of making: `double strain`, `then shake`.
const HOW: [&str; 8] = ["double", "fine", "dry", "hard", "reverse", "then", "and", "again"];
/// Words of making that bring nothing into the drink and name no method.
const MADE: [&str; 4] = ["strain", "strained", "serve", "served"];
/// How a card says that a method has been used, and the method's own word.
const DONE: [(&str, &str); 4] =
    [("shaken", "shake"), ("stirred", "stir"), ("built", "build"), ("blended", "blend")];

/// Where the first line of several stands: what the drink is called, if it is nothing else.
pub fn first_line(card: &str) -> Option<Range<usize>> {
    let start = card.len() - card.trim_start().len();
    let end = start + card[start..].find('\n')?;
    let place = start..start + card[start..end].trim_end().len();
    (!card[end..].trim().is_empty()).then_some(place)
}

/// A piece without the mark of a list before it.
pub fn unmarked(piece: &str) -> &str {
    let text = piece.trim_start();
    let rest =
        text.strip_prefix(['-', '–', '•', '·', '*']).filter(|rest| rest.starts_with(char::is_whitespace));
    rest.unwrap_or(text).trim_start()
}

/// Whether a piece of a card says how the drink is made or what is laid on it: nothing of that is poured.
pub fn is_made(piece: &str) -> bool {
    let word = making(piece);
    word.starts_with("garnish") || MADE.contains(&word.as_str()) || method_of(&word).is_some()
}

/// How a card says that its drink is made, by the first of its pieces that does.
pub fn method(card: &str) -> Option<Method> {
    spelling::split(card).into_iter().find_map(|place| method_of(&making(unmarked(&card[place]))))
}

/// The first word of a piece that does not only say how, in small letters and without its punctuation.
fn making(piece: &str) -> String {
    let mut words =
        piece.split_whitespace().map(|word| word.trim_matches(|c: char| !c.is_alphabetic()).to_lowercase());
    words.find(|word| !HOW.contains(&word.as_str())).unwrap_or_default()
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
        let of = |card: &str| method(card);
        assert_eq!(of("50 ml gin, 25 ml lemon juice\nDry shake, then shake with ice."), Some(Method::Shake));
        assert_eq!(of("50 ml gin\n25 ml dry vermouth\nStir, strain"), Some(Method::Stir));
        assert_eq!(of("- 50 ml gin\n- 25 ml dry vermouth\n- Stirred."), Some(Method::Stir));
        assert_eq!(of("50 ml gin, built in the glass"), Some(Method::Build));
        assert_eq!(of("50 ml gin, 25 ml lemon juice, garnish with a wheel"), None);
        assert!(
            is_made("Double strain into a coupe") && is_made("Garnish: a wheel") && !is_made("dry vermouth")
        );
        assert!(!is_made("double cream") && !is_made("double"));
    }

    #[test]
    fn the_first_line_of_several_has_a_place() {
        assert_eq!(first_line("50 ml gin"), None);
        assert_eq!(first_line("50 ml gin\n"), None);
        assert_eq!(first_line(" Weir \n\n50 ml gin"), Some(1..5));
    }
}
