//! The aim and the score in words.

use super::figures::with_unit;
use crate::quantity::{Amount, UnitSystem, number};
use crate::report::gather::{AimLine, Frame, Outcome, SpecAnswer};

/// A score with what it counts: `1.32 GBP`, `40 ml`, `0.31`.
pub fn score_text(aim: &AimLine, frame: &Frame, score: f64, units: UnitSystem) -> String {
    if let Some(gauge) = frame.gauge(&aim.of).filter(|_| aim.measure.is_some()) {
        return with_unit(gauge, score, units);
    }
    match aim.ingredient {
        Some(unit) => number::pour_about(Amount { value: score, unit }, units),
        None if aim.of == "reference" => number::pour_about(Amount::ml(score), units),
        None => number::percent(score, 0),
    }
}

/// The heading over scores in a table: what, and its unit.
pub fn score_column(aim: &AimLine, frame: &Frame, units: UnitSystem) -> (String, String) {
    if let Some(gauge) = frame.gauge(&aim.of).filter(|_| aim.measure.is_some()) {
        return (gauge.label.clone(), super::unit(gauge, units).to_owned());
    }
    match aim.ingredient {
        Some(_) => ("aim".to_owned(), String::new()),
        None if aim.of == "reference" => ("moved".to_owned(), String::new()),
        None => ("off middle".to_owned(), String::new()),
    }
}

/// What the best spec reaches: `Cost 1.32 GBP: the lowest that can be poured.`
pub fn aim_sentence(answer: &SpecAnswer, score: f64, units: UnitSystem) -> String {
    let (aim, frame) = (&answer.aim, &answer.frame);
    let reached = score_text(aim, frame, score, units);
    let proved = answer.outcome == Outcome::Found;
    let extreme = match (aim.direction, proved) {
        ("lowest", true) => "the lowest that can be poured",
        ("lowest", false) => "the lowest found so far",
        ("highest", true) => "the highest that can be poured",
        ("highest", false) => "the highest found so far",
        (_, true) => "the least that can be poured",
        (_, false) => "the least found so far",
    };
    match aim.of.as_str() {
        "reference" if aim.direction == "nearest" => {
            format!("Poured differently from the reference: {reached} in all, {extreme}.")
        }
        "middle" if aim.direction == "nearest" => {
            format!("Off the middle of its ranges by {reached} of the way to their ends at most, {extreme}.")
        }
        _ => {
            let name = frame.gauge(&aim.of).filter(|_| aim.measure.is_some());
            let name = name.map_or(aim.of.as_str(), |g| g.label.as_str());
            format!("{}: {reached}, {extreme}.", super::upper_first(name))
        }
    }
}

/// How much worse a score is than the best: `0.02 GBP dearer`, `1.5 % vol higher`; nothing where they
/// are shown alike.
pub fn worse_words(answer: &SpecAnswer, best: f64, score: f64, units: UnitSystem) -> Option<String> {
    let (aim, frame) = (&answer.aim, &answer.frame);
    let by = (score - best).abs();
    if by.is_nan() || score_text(aim, frame, by, units) == score_text(aim, frame, 0.0, units) {
        return None;
    }
    let by = score_text(aim, frame, by, units);
    let word = match (aim.of.as_str(), score > best) {
        ("cost", true) => "dearer",
        ("cost", false) => "cheaper",
        (_, true) => "more",
        (_, false) => "less",
    };
    Some(format!("{by} {word}"))
}
