//! A trade-off curve in words.

use std::ops::Range;

use super::{comes, counted, goes, listed, pours, score_text, span, upper_first};
use crate::answer::{AimGoal, Direction, PointLine, SweepAnswer, SwitchLine};
use crate::quantity::{UnitSystem, number};
use crate::solve::Ending;

/// A value of the axis, as finely as six digits go: `9.13721`, `8`.
pub fn axis_value(value: f64) -> String {
    in_digits(value, 6.0)
}

/// A value with so many digits before and after its point.
fn in_digits(value: f64, count: f64) -> String {
    let size = if value == 0.0 { 0.0 } else { value.abs().log10().floor() };
    number::trimmed(value, (count - 1.0 - size).clamp(0.0, 12.0) as usize)
}

/// `targets.strength.max from 8 to 16 % vol, 33 points`
pub fn axis_words(answer: &SweepAnswer) -> String {
    let ends = answer.points.first().zip(answer.points.last());
    let (from, to) = ends.map_or((f64::NAN, f64::NAN), |(first, last)| (first.at, last.at));
    let range = format!("{} to {} {}", axis_value(from), axis_value(to), answer.unit);
    format!("{} from {}, {}", answer.over, range.trim_end(), counted(answer.points.len(), "point"))
}

/// What the curve shows: `Cost, GBP: the lowest that can be poured at each point`.
pub fn curve_words(answer: &SweepAnswer, units: UnitSystem) -> String {
    let (head, unit) = super::score_column(&answer.aim, &answer.frame, units);
    let name = if matches!(answer.aim.goal, AimGoal::Ingredient(_)) {
        answer.aim.of.as_str()
    } else {
        head.as_str()
    };
    let unit = if unit.is_empty() { String::new() } else { format!(", {unit}") };
    let best = match answer.aim.direction {
        Direction::Highest => "highest",
        _ => "lowest",
    };
    format!("{}{unit}: the {best} that can be poured at each point", upper_first(name))
}

/// A score, as its aim is written; a dash where there is none.
pub fn point_score(answer: &SweepAnswer, score: Option<f64>, units: UnitSystem) -> String {
    score.map_or_else(|| "–".to_owned(), |score| score_text(&answer.aim, &answer.frame, score, units))
}

/// Runs of neighbouring points with the same pours.
pub fn runs(answer: &SweepAnswer) -> Vec<Range<usize>> {
    let mut runs: Vec<Range<usize>> = Vec::new();
    for at in 0..answer.points.len() {
        match runs.last_mut() {
            Some(run) if same(&answer.points[run.start], &answer.points[at]) => run.end = at + 1,
            _ => runs.push(at..at + 1),
        }
    }
    runs
}

fn same(a: &PointLine, b: &PointLine) -> bool {
    let pours = |point: &PointLine| {
        point
            .spec
            .as_ref()
            .map(|s| s.pours.iter().map(|p| (p.ingredient.clone(), p.amount.to_bits())).collect::<Vec<_>>())
    };
    a.outcome == b.outcome && pours(a) == pours(b)
}

/// The values of a run: `8` or `8 to 9.25`.
pub fn run_range(answer: &SweepAnswer, run: &Range<usize>) -> String {
    let at = |place: usize| answer.points.get(place).map_or_else(String::new, |p| axis_value(p.at));
    span(at(run.start), &at(run.end.saturating_sub(1)))
}

/// The scores of a run: `0.83 GBP` or `0.83 GBP to 0.91 GBP`.
pub fn run_score(answer: &SweepAnswer, run: &Range<usize>, units: UnitSystem) -> String {
    let at = |place: usize| {
        answer.points.get(place).map_or_else(String::new, |p| point_score(answer, p.score, units))
    };
    span(at(run.start), &at(run.end.saturating_sub(1)))
}

/// What is poured at a point: `20 ml aged rum, 15 ml fino sherry`.
pub fn pours_words(point: &PointLine, units: UnitSystem) -> String {
    let Some(spec) = &point.spec else {
        return match point.outcome {
            Ending::Stopped => "stopped before any spec was found".to_owned(),
            _ => "no spec meets the brief".to_owned(),
        };
    };
    let unproved = if point.outcome == Ending::Stopped { " (stopped, not proved)" } else { "" };
    format!("{}{unproved}", pours(spec, units))
}

/// The value of a switch, rounded onto its new side: whoever sets it gets the new set. As many digits as
/// keep it before the next switch and the next point.
fn switch_value(answer: &SweepAnswer, switch: &SwitchLine) -> String {
    let onward = |from: f64, to: f64| (to - from) * (switch.at - switch.before) >= 0.0;
    let ends = answer.points.iter().map(|point| point.at);
    let beyond = ends.chain(answer.switches.iter().filter(|s| s.at != switch.at).map(|s| s.before));
    let beyond: Vec<f64> = beyond.filter(|end| onward(switch.at, *end)).collect();
    let fits = |text: &String| {
        let shown = text.parse::<f64>().unwrap_or(switch.at);
        beyond.is_empty() || beyond.iter().all(|end| onward(shown, *end))
    };
    let upwards = switch.at > switch.before;
    let mut texts = (3..=12).map(|count| in_digits_towards(switch.at, f64::from(count), upwards));
    texts.clone().find(fits).or_else(|| texts.next_back()).unwrap_or_default()
}

/// A value with so many digits, rounded upwards or downwards.
fn in_digits_towards(value: f64, count: f64, upwards: bool) -> String {
    let near = in_digits(value, count);
    let shown = near.parse::<f64>().unwrap_or(value);
    if shown == value || (shown > value) == upwards {
        return near;
    }
    let size = if value == 0.0 { 0.0 } else { value.abs().log10().floor() };
    let unit = 10_f64.powf(size + 1.0 - count);
    in_digits(if upwards { shown + unit } else { shown - unit }, count)
}

/// Where a set gives way to another: `At 9.14 % vol: verjus comes in, black tea goes out.`
pub fn switch_sentence(answer: &SweepAnswer, switch: &SwitchLine) -> String {
    let at = format!("{} {}", switch_value(answer, switch), answer.unit);
    let only = |of: &'_ [String], others: &[String]| -> Vec<String> {
        of.iter().filter(|name| !others.contains(name)).cloned().collect()
    };
    let (coming, going) = (only(&switch.to, &switch.from), only(&switch.from, &switch.to));
    let what = match (switch.from.is_empty(), switch.to.is_empty()) {
        (true, _) => format!("from here on there is a spec, of {}", listed(&switch.to)),
        (_, true) => "from here on no spec meets the brief".to_owned(),
        _ => {
            let coming = (!coming.is_empty()).then(|| comes(&coming));
            let going = (!going.is_empty()).then(|| goes(&going));
            [coming, going].into_iter().flatten().collect::<Vec<_>>().join(", ")
        }
    };
    format!("At {}: {what}.", at.trim_end())
}

/// What is proved, and what is not seen.
pub fn sweep_proof(answer: &SweepAnswer) -> String {
    let stopped = answer.points.iter().filter(|p| p.outcome == Ending::Stopped).count();
    if stopped > 0 {
        let points = counted(stopped, "point");
        return format!("Stopped before the end: {points} not proved, and switches may be missing.");
    }
    if answer.points.iter().all(|p| p.spec.is_none()) {
        return "Proved: no spec meets the brief at any of these points. `washline spec` with one of them set \
                says what does not go together, and what would do."
            .to_owned();
    }
    let switches = if answer.switches.is_empty() {
        "The set of ingredients is the same at all of them."
    } else {
        "Every switch is solved on both sides."
    };
    format!(
        "Every point is proved: nothing better can be poured there. {switches} What comes and goes between two \
         points is not seen; more points see more."
    )
}
