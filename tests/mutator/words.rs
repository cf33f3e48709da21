//! The parsers of single words and lines: amounts, prices, currencies, the line of a spec, swept keys.

use rand::SeedableRng;
use rand::seq::IndexedRandom;
use rand_pcg::Pcg64Mcg;

use super::checks;
use super::damage::damaged;
use super::run::{further, over};
use crate::effort::some;

const WORDS: [&str; 19] = [
    "2.5 ml",
    "1 l",
    "0.75 fl oz",
    "1 imp fl oz",
    "2 dashes",
    "1e3 ml",
    "0.1 g",
    "1 kg",
    "barspoon",
    "1 1/2 oz",
    "¾ fl oz",
    "3/8 l",
    "GBP",
    "eur",
    "14.50 per 700 ml",
    "0.28 per 25 ml",
    "9 per 1 kg",
    "79228162514264337593543950335 per 1 ml",
    "0.0 per 1 l",
];

fn damaged_word(words: &[&str], seed: u64) -> String {
    let mut rng = Pcg64Mcg::seed_from_u64(seed);
    let (one, other) = (words.choose(&mut rng).expect("a word"), words.choose(&mut rng).expect("a word"));
    String::from_utf8_lossy(&damaged(one.as_bytes(), other.as_bytes(), &mut rng)).into_owned()
}

fn parse(seeds: impl Iterator<Item = u64> + Clone + Send) {
    over(seeds, |seed| checks::word(&damaged_word(&WORDS, seed)));
}

#[test]
fn no_word_breaks_an_amount_or_a_price() {
    parse(some(0..100_000, 9));
}

#[test]
#[ignore = "minutes"]
fn no_word_of_very_many_breaks_an_amount_or_a_price() {
    parse(further(100_000, 2_900_000));
}

#[test]
fn no_line_breaks_a_spec() {
    let brief = checks::plain();
    let names: Vec<&str> = brief.candidates.iter().map(|c| c.name.as_str()).collect();
    let whole = names.iter().map(|name| format!("25 ml {name}")).collect::<Vec<_>>().join(", ");
    let short = format!("50 ml {}, 1 dash {}; 1 1/2 fl oz {}", names[0], names[1], names[names.len() - 1]);
    over(some(0..30_000, 9), |seed| checks::line(&brief, &damaged_word(&[&whole, &short], seed)));
}

#[test]
fn no_key_breaks_a_sweep() {
    let keys =
        ["targets.strength.max", "serve.most", "candidate.\"lime juice\".price", "serve.pour", "answer"];
    over(some(0..1_500, 9), |seed| checks::key(&damaged_word(&keys, seed)));
}
