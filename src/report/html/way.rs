//! The way of a sweep, cut where the set of ingredients switches.

use crate::report::gather::{PointLine, SweepAnswer, SwitchLine};

/// Where the first and the last value stand in a drawing: points at the ends are whole.
const START: f64 = 0.02;
const END: f64 = 0.98;
/// More points than this are finer than a drawing.
const POINTS: usize = 240;

/// A stretch of the way with one set of ingredients.
pub struct Stretch<'a> {
    /// Its two ends, as shares of the drawing's width.
    pub from: f64,
    /// The end.
    pub to: f64,
    /// Who is in it; nobody where no spec meets the brief.
    pub names: Vec<&'a str>,
    /// The points in it that are drawn.
    pub points: Vec<&'a PointLine>,
    /// The switch that leads into it.
    pub before: Option<&'a SwitchLine>,
    /// The switch that leads out of it.
    pub after: Option<&'a SwitchLine>,
}

/// A share of the drawing's width for a value of the way.
pub fn place(answer: &SweepAnswer, at: f64) -> f64 {
    let ends = answer.points.first().zip(answer.points.last()).map_or((0.0, 1.0), |(a, b)| (a.at, b.at));
    let share = (at - ends.0) / (ends.1 - ends.0);
    START + (END - START) * if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.0 }
}

/// The place of a switch: between its two sides.
pub fn switch_place(answer: &SweepAnswer, switch: &SwitchLine) -> f64 {
    place(answer, f64::midpoint(switch.before, switch.at))
}

/// The stretches in their order.
pub fn stretches(answer: &SweepAnswer) -> Vec<Stretch<'_>> {
    let drawn = thinned(&answer.points);
    let count = answer.switches.len();
    (0..=count)
        .map(|at| {
            let before = at.checked_sub(1).and_then(|at| answer.switches.get(at));
            let after = answer.switches.get(at);
            let from = before.map_or(0.0, |s| switch_place(answer, s));
            let to = after.map_or(1.0, |s| switch_place(answer, s));
            let inside = |p: &&&PointLine| {
                let x = place(answer, p.at);
                (before.is_none() || x >= from) && (after.is_none() || x < to)
            };
            let points: Vec<&PointLine> = drawn.iter().filter(inside).copied().collect();
            let names = match (before, after) {
                (Some(switch), _) => switch.to.iter().map(String::as_str).collect(),
                (None, Some(switch)) => switch.from.iter().map(String::as_str).collect(),
                (None, None) => answer.points.first().map_or_else(Vec::new, PointLine::names),
            };
            Stretch { from, to, names, points, before, after }
        })
        .collect()
}

/// At most so many points that a drawing can show them, the last one among them.
fn thinned(points: &[PointLine]) -> Vec<&PointLine> {
    let every = points.len().div_ceil(POINTS).max(1);
    let last = points.len().saturating_sub(1);
    points.iter().enumerate().filter(|(at, _)| at % every == 0 || *at == last).map(|(_, p)| p).collect()
}
