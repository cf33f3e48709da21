//! Measures and figures of them as the command line names them: `--along sugar --from "6 brix"`.

use super::findings::{closest, guess_key};
use super::measured;
use super::shape::{also, shown};
use crate::brief::{Brief, Measure};
use crate::quantity::NotAQuantity;

/// The measure of a word: a target's name, a trade's word for one, or a property of the brief.
///
/// # Errors
/// When nothing goes by that name.
pub fn measure_named(brief: &Brief, word: &str) -> Result<Measure, NotAQuantity> {
    let all: Vec<Measure> = brief.measures().collect();
    let folded = word.trim().replace([' ', '-', '/'], "_").to_lowercase();
    let named = |word: &str| {
        all.iter().copied().find(|m| {
            let name = brief.measure_name(*m);
            name == word || name.replace([' ', '-'], "_").to_lowercase() == word
        })
    };
    let trade = || also(word, &|ours| named(ours).is_some()).and_then(named);
    named(&folded).or_else(trade).ok_or_else(|| {
        let names: Vec<&str> = all.iter().map(|m| brief.measure_name(*m)).collect();
        let meant = closest(word, names.iter().copied());
        let help = guess_key(meant, || format!("what is measured is {}", names.join(", ")));
        NotAQuantity::new(format!("`{}` is nothing that is measured", shown(word)), help)
    })
}

/// A figure of a measure, in its own unit: a number, or a quantity with its unit.
///
/// # Errors
/// When it is none, or under zero.
pub fn figure_of(brief: &Brief, measure: Measure, text: &str) -> Result<f64, NotAQuantity> {
    let value = measured::target(measure, text, Some(&brief.currency))?;
    if value.is_finite() && (0.0..=1e9).contains(&value) {
        return Ok(value);
    }
    Err(NotAQuantity::new(
        format!("`{}` is no figure of a drink", shown(text)),
        "write a number of 0 or more",
    ))
}
