//! How far pours are off, and what natural ranges are between.

use super::quantity;
use crate::brief::{Known, Natural, PourError, Poured, Spread, Varies};
use crate::larder::{Between, Entry};
use crate::quantity::Unit;
use crate::read::codes;
use crate::read::file::{self, At, Pour, Quantity};
use crate::read::findings::Findings;
use crate::read::shape::shown;

/// A pour error in `unit`.
pub fn poured(written: &At<file::PourError>, unit: Unit, findings: &mut Findings) -> Option<Poured> {
    let text = match &written.value.0 {
        Quantity::Number(number) => return Some(Poured::Stated(PourError::fixed(*number))),
        Quantity::Text(text) => text.trim(),
    };
    if let Some((_, way)) = Poured::WORDS.into_iter().find(|(word, _)| *word == text) {
        return Some(way);
    }
    if text.starts_with(|c: char| c.is_alphabetic()) {
        let words = Poured::WORDS.map(|(word, _)| word);
        let help = match findings.closest(text, words) {
            Some(meant) => format!("did you mean \"{meant}\"? The words here are {}", words.join(", ")),
            None => format!("write \"1 ml\", \"3 %\", \"1 ml + 3 %\", or one of {}", words.join(", ")),
        };
        let what = format!("nothing is poured by \"{}\"", shown(text));
        findings.error(codes::UNKNOWN_WORD, written.place(), what, help);
        return None;
    }
    let (amount, share) = match text.split_once('+').filter(|(amount, _)| !amount.trim().is_empty()) {
        Some((amount, share)) => (Some(amount), Some(share)),
        None if text.ends_with('%') => (None, Some(text)),
        None => (Some(text), None),
    };
    let share = match share.map(percent) {
        Some(None) => {
            let what = format!("\"{}\" has no share that could be read", shown(text));
            let help = "write the share of what is poured last, in %: \"1 ml + 3 %\"";
            findings.error(codes::BAD_QUANTITY, written.place(), what, help);
            return None;
        }
        share => share.flatten().unwrap_or(0.0),
    };
    let fixed = match amount {
        Some(amount) => {
            let amount = At { value: Quantity::Text(amount.trim().to_owned()), place: written.place() };
            quantity::amount(&amount, unit, "the pour error", findings)?
        }
        None => 0.0,
    };
    Some(Poured::Stated(PourError { fixed, share }))
}

/// The most that a pour may be off, as a share of it.
const MOST_SHARE: f64 = 1.0;

/// `3 %` as a share.
fn percent(text: &str) -> Option<f64> {
    let number: f64 = text.trim().strip_suffix('%')?.trim().parse().ok()?;
    let share = number / 100.0;
    (0.0..=MOST_SHARE).contains(&share).then_some(share)
}

/// How a candidate is poured that is counted in `unit`, where that is not as everything in the brief is.
pub fn own(
    written: &At<file::Candidate>,
    unit: Unit,
    bar: Option<&At<file::PourError>>,
    findings: &mut Findings,
) -> Option<Poured> {
    if let Some(own) = &written.pour_error {
        return poured(own, unit, findings);
    }
    // What is measured in dashes is dashed, unless the brief says how far its pours are off.
    let dashed = written.pour.as_ref().is_some_and(|pour| match &pour.value.0 {
        Pour::Step(Quantity::Text(text)) => text.to_ascii_lowercase().contains("dash"),
        Pour::Step(Quantity::Number(_)) | Pour::List(_) => false,
    });
    (dashed && bar.is_none()).then_some(Poured::Dash)
}

/// What the ranges of a candidate are between: as written, or as its shelf has it. A range of the brief's own of a
/// bottled thing is between the bottles that the bar may get.
pub fn varies(written: &At<file::Candidate>, entry: Option<&Entry>) -> Varies {
    let shelf = entry.map(|entry| entry.group.ranges());
    match (&written.varies, shelf) {
        (Some(word), _) => word.0,
        (None, Some(Between::Makes)) => Varies::Make,
        (None, _) => Varies::Lot,
    }
}

/// The larder's ranges that are drawn from: all but those between makes.
pub fn drawn(varies: Varies, entry: &Entry) -> Natural {
    if varies == Varies::Make { Natural::default() } else { entry.natural }
}

/// How a candidate differs from pour to pour; how it is poured follows in `pours`.
pub fn between(written: &At<file::Candidate>, entry: Option<&Entry>) -> Spread {
    let varies = varies(written, entry);
    let mut makes = entry.filter(|_| varies == Varies::Make).map(|e| e.natural).unwrap_or_default();
    // What the brief states is no question any more.
    if written.strength.is_some() {
        makes.strength = None;
    }
    if written.sugar.is_some() || written.brix.is_some() {
        makes.sugar = None;
    }
    if written.acid.is_some() {
        makes.acid = None;
    }
    let known = if written.measured.is_some() { Known::Measured } else { Known::Before };
    Spread { poured: None, varies, makes, known }
}
