//! In which amounts each candidate is measured out: step, least and most, rounded inwards.

use super::serve::Bar;
use super::{quantity, spread};
use crate::brief::{Candidate, Step};
use crate::liquid::Form;
use crate::quantity::Unit;
use crate::quantity::number::trimmed;
use crate::read::codes;
use crate::read::file::{self, At};
use crate::read::findings::Findings;
use crate::read::shape::shown;

/// What a scale shows, g; common practice, no source.
const POWDER_STEP: f64 = 0.1;
/// An ingredient poured in any amount counts as used from here on, ml or g, where the brief names no
/// least: without one, a set of ingredients and the same with nothing more would be two. Common
/// practice, no source.
const FREE_LEAST: f64 = 0.1;

/// Gives every candidate its step and its least and greatest amount.
pub fn all(
    written: &[At<file::Candidate>],
    candidates: Vec<Candidate>,
    bar: &Bar,
    hand: Option<&At<file::PourError>>,
    findings: &mut Findings,
) -> Vec<Candidate> {
    let pairs = written.iter().zip(candidates);
    pairs.map(|(written, candidate)| one(written, candidate, (bar, hand), findings)).collect()
}

fn one(
    written: &At<file::Candidate>,
    mut candidate: Candidate,
    (bar, hand): (&Bar, Option<&At<file::PourError>>),
    findings: &mut Findings,
) -> Candidate {
    // By its form, also where nothing else of it could be read.
    let (unit, usual, smallest) = match candidate.label.form {
        Form::Liquid => (Unit::Ml, bar.step.clone(), bar.smallest.unwrap_or(0.0)),
        Form::Powder => (Unit::G, Step::Every(POWDER_STEP), 0.0),
    };
    candidate.spread.poured = spread::own(written, unit, hand, findings);
    let of = format!("\"{}\"", shown(&candidate.name));
    let own = written.pour.as_ref().and_then(|pour| quantity::step(pour, unit, &of, findings));
    let step = own.unwrap_or(usual);
    let min = written.min.as_ref().and_then(|min| quantity::amount(min, unit, &of, findings));
    let max = written.max.as_ref().and_then(|max| quantity::amount(max, unit, &of, findings));
    candidate.least = step.up(min.unwrap_or(0.0).max(smallest));
    candidate.most = max.map(|max| step.down(max));
    if step == Step::Free && candidate.least == 0.0 {
        candidate.least = candidate.most.map_or(FREE_LEAST, |most| most.min(FREE_LEAST));
    }
    candidate.step = step;
    let none = |most: &f64| *most < candidate.least || *most <= 0.0;
    // What is out is not poured, whatever its amounts.
    let out = written.out.as_ref().is_some_and(|out| out.value);
    if let Some(most) = candidate.most.filter(none).filter(|_| !out) {
        let (place, symbol) =
            (written.max.as_ref().map_or_else(|| written.name_place(), At::place), unit.symbol());
        let what = format!(
            "no amount of {of} is possible: at least {} {symbol} and at most {} {symbol}, in whole steps",
            trimmed(candidate.least, 3),
            trimmed(most, 3)
        );
        let help =
            "raise max, lower min or the smallest pour, or give it a finer pour; out = true keeps it out";
        findings.error(codes::NO_AMOUNT, place, what, help);
    }
    candidate
}
