//! The aim and the score in words.

use super::figures::with_unit;
use crate::quantity::{Amount, Unit, UnitSystem, number};
use crate::report::gather::{AimLine, Frame, Outcome, SpecAnswer, SpecLine};

/// A score with what it counts: `1.32 GBP`, `40 ml`, `0.31`.
pub fn score_text(aim: &AimLine, frame: &Frame, score: f64, units: UnitSystem) -> String {
    if let Some(gauge) = frame.gauge(&aim.of).filter(|_| aim.measure.is_some()) {
        return with_unit(gauge, score, units);
    }
    match aim.ingredient {
        Some(unit) => number::pour(Amount { value: score, unit }, units),
        None if aim.of == "reference" => number::pour(Amount::ml(score), units),
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
    let best = match (aim.direction, aim.measure.is_some()) {
        ("lowest", true) => "lowest",
        ("highest", true) => "highest",
        ("highest", false) => "most",
        _ => "least",
    };
    let extreme =
        if proved { format!("the {best} that can be poured") } else { format!("the {best} found so far") };
    match aim.of.as_str() {
        "reference" if aim.direction == "nearest" && score == 0.0 => {
            "The reference itself meets the brief: nothing has to change.".to_owned()
        }
        "reference" if aim.direction == "nearest" => {
            let weighed = |spec: &SpecLine| spec.change.iter().any(|c| c.unit == Unit::G);
            let all = if answer.best.as_ref().is_some_and(weighed) {
                "in all, grams as millilitres"
            } else {
                "in all"
            };
            format!("Poured differently from the reference: {reached} {all}, {extreme}.")
        }
        "middle" if aim.direction == "nearest" => {
            format!(
                "Nowhere further from the middle of a range than {reached} of the way to its end, {extreme}."
            )
        }
        _ => {
            let name = frame.gauge(&aim.of).filter(|_| aim.measure.is_some());
            let name = name.map_or(aim.of.as_str(), |g| g.label.as_str());
            format!("{}: {reached}, {extreme}.", super::upper_first(name))
        }
    }
}

/// How much worse a score is than the best: `0.02 GBP dearer`, `1.5 % vol more`; nothing where the two
/// are shown alike. It is the difference of the figures as they are shown, so that the reader's own
/// subtraction agrees.
pub fn worse_words(answer: &SpecAnswer, best: f64, score: f64, units: UnitSystem) -> Option<String> {
    let (aim, frame) = (&answer.aim, &answer.frame);
    let text = |value: f64| score_text(aim, frame, value, units);
    if best.is_nan() || score.is_nan() || text(best) == text(score) {
        return None;
    }
    let by = (as_shown(aim, frame, score) - as_shown(aim, frame, best)).abs();
    let word = match (aim.of.as_str(), score > best) {
        ("cost", true) => "dearer",
        ("cost", false) => "cheaper",
        (_, true) => "more",
        (_, false) => "less",
    };
    Some(format!("{} {word}", text(by)))
}

/// A score rounded as it is shown in the units of the brief.
fn as_shown(aim: &AimLine, frame: &Frame, score: f64) -> f64 {
    let gauge = frame.gauge(&aim.of).filter(|_| aim.measure.is_some());
    gauge.map_or(score, |g| {
        let steps = 10_f64.powi(i32::try_from(g.digits).unwrap_or(0));
        (score * steps).round() / steps
    })
}
