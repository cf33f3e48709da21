//! The aim and the score in words.

use super::figures::with_unit;
use crate::answer::{AimGoal, AimLine, Direction, Frame, Gauge, SpecAnswer, SpecLine};
use crate::brief::Measure;
use crate::quantity::{Amount, Unit, UnitSystem, number};
use crate::solve::Ending;
use crate::tolerance;

/// A score with what it counts: `1.32 GBP`, `40 ml`, `0.31`.
pub fn score_text(aim: &AimLine, frame: &Frame, score: f64, units: UnitSystem) -> String {
    match aim.goal {
        AimGoal::Measure(_) => gauge(aim, frame).map_or_else(String::new, |g| with_unit(g, score, units)),
        AimGoal::Ingredient(unit) => number::pour(Amount { value: score, unit }, units),
        AimGoal::Reference => number::pour(Amount::ml(score), units),
        AimGoal::Middle => number::percent(score, 0),
        AimGoal::Notes(of) => format!("{} of {}", number::trimmed(score, 1), super::counted(of, "note")),
    }
}

/// The gauge of what is aimed at, where that is a measure.
pub fn gauge<'f>(aim: &AimLine, frame: &'f Frame) -> Option<&'f Gauge> {
    let measure = aim.measure()?;
    frame.gauges.iter().find(|g| g.measure == measure)
}

/// The heading over scores in a table: what, and its unit.
pub fn score_column(aim: &AimLine, frame: &Frame, units: UnitSystem) -> (String, String) {
    let bare = |head: &str| (head.to_owned(), String::new());
    match aim.goal {
        AimGoal::Measure(_) => gauge(aim, frame)
            .map_or_else(|| bare("aim"), |g| (g.label.clone(), super::unit(g, units).to_owned())),
        AimGoal::Ingredient(_) => bare("aim"),
        AimGoal::Reference => bare("moved"),
        AimGoal::Middle => bare("off middle"),
        AimGoal::Notes(_) => bare("covers"),
    }
}

/// What the best spec reaches: `Cost: 1.32 GBP, proved the lowest that can be poured.`
pub fn aim_sentence(answer: &SpecAnswer, score: f64, units: UnitSystem) -> String {
    let (aim, frame) = (&answer.aim, &answer.frame);
    let reached = score_text(aim, frame, score, units);
    let best = match (aim.direction, aim.measure().is_some()) {
        (Direction::Lowest, true) => "lowest",
        (Direction::Highest, true) => "highest",
        (Direction::Highest, false) => "most",
        _ => "least",
    };
    let extreme = match (&answer.as_good, answer.outcome) {
        (_, Ending::Conflict | Ending::Stopped) => format!("the {best} found so far"),
        (Some(good), _) if !good.exact => {
            let to = score_text(aim, frame, good.to, units);
            format!("proved at most {to} from the {best} that could be poured")
        }
        (Some(good), _) if score_text(aim, frame, good.score, units) != reached => {
            let least = score_text(aim, frame, good.score, units);
            format!("as good as the {best} that can be poured ({least})")
        }
        _ => format!("proved the {best} that can be poured"),
    };
    match aim.goal {
        AimGoal::Reference if score <= tolerance::UNUSED => {
            "The reference itself meets the brief: nothing has to change.".to_owned()
        }
        AimGoal::Reference => {
            let weighed = |spec: &SpecLine| spec.change.iter().any(|c| c.unit == Unit::G);
            let grams = answer.best.as_ref().is_some_and(weighed);
            let all = if grams { "in all, grams as millilitres" } else { "in all" };
            format!("Poured differently from the reference: {reached} {all}, {extreme}.")
        }
        AimGoal::Middle => {
            format!(
                "Nowhere further from the middle of a range than {reached} of the way to its end, {extreme}."
            )
        }
        AimGoal::Notes(_) => format!("Covers {reached}, {extreme}."),
        AimGoal::Measure(_) | AimGoal::Ingredient(_) => {
            let name = gauge(aim, frame).map_or(aim.of.as_str(), |g| g.label.as_str());
            format!("{}: {reached}, {extreme}.", super::upper_first(name))
        }
    }
}

/// What the best spec reaches, what it costs, and how often it holds.
pub fn headline(answer: &SpecAnswer, best: &SpecLine, units: UnitSystem) -> String {
    let mut sentences = vec![aim_sentence(answer, best.score, units)];
    if answer.aim.measure() != Some(Measure::Cost) {
        sentences.extend(cost_sentence(&answer.frame, best, units));
    }
    sentences.extend(answer.service.as_ref().map(|found| super::service_sentence(&answer.frame, found)));
    sentences.join(" ")
}

/// `It costs 0.83 GBP.`; nothing where no price is known.
fn cost_sentence(frame: &Frame, spec: &SpecLine, units: UnitSystem) -> Option<String> {
    let gauge = frame.gauges.iter().find(|g| g.measure == Measure::Cost)?;
    let unpriced: Vec<&str> =
        spec.pours.iter().filter(|p| p.cost.is_none()).map(|p| p.ingredient.as_str()).collect();
    if unpriced.len() == spec.pours.len() {
        return None;
    }
    let cost = spec.served.get(&gauge.key);
    Some(if cost.is_nan() {
        format!("What it costs is not known: {} without a price.", super::listed(&unpriced))
    } else {
        format!("It costs {}.", with_unit(gauge, cost, units))
    })
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
    if let AimGoal::Notes(_) = aim.goal {
        let by = super::counted((score - best).abs().round() as usize, "note");
        return Some(format!("{by} {}", if score > best { "more" } else { "fewer" }));
    }
    let by = (as_shown(aim, frame, score) - as_shown(aim, frame, best)).abs();
    let word = match (aim.measure(), score > best) {
        (Some(Measure::Cost), true) => "dearer",
        (Some(Measure::Cost), false) => "cheaper",
        (_, true) => "more",
        (_, false) => "less",
    };
    Some(format!("{} {word}", text(by)))
}

/// A score rounded as it is shown in the units of the brief.
fn as_shown(aim: &AimLine, frame: &Frame, score: f64) -> f64 {
    gauge(aim, frame).map_or(score, |g| {
        let steps = 10_f64.powi(i32::try_from(g.digits).unwrap_or(0));
        (score * steps).round() / steps
    })
}
