//! The way of a sweep: everything that was solved along it, points and both sides of every switch.

use crate::answer::{SpecLine, SweepAnswer};
use crate::quantity::number;
use crate::solve::Ending;

/// Where the first and the last value stand in a drawing: marks at the ends are whole.
const START: f64 = 0.02;
const END: f64 = 0.98;

/// What was solved at one value.
#[derive(Clone, Copy)]
pub struct Stop<'a> {
    /// The value.
    pub at: f64,
    /// Its place, as a share of the drawing's width.
    pub x: f64,
    /// The best spec there.
    pub spec: Option<&'a SpecLine>,
    /// Whether it was given up before it was proved.
    pub stopped: bool,
}

impl Stop<'_> {
    /// How much of an ingredient is poured; nothing where it is out.
    pub fn amount(&self, ingredient: &str) -> f64 {
        let pours = self.spec.iter().flat_map(|spec| &spec.pours);
        pours.filter(|p| p.ingredient == ingredient).map(|p| p.amount).sum()
    }

    /// Whether two stops pour the same.
    pub fn same(&self, other: &Self) -> bool {
        let pours = |stop: &Self| {
            let pours = stop.spec.map(|spec| &spec.pours);
            pours
                .map(|all| all.iter().map(|p| (p.ingredient.clone(), p.amount.to_bits())).collect::<Vec<_>>())
        };
        self.stopped == other.stopped && pours(self) == pours(other)
    }
}

/// A share of the drawing's width for a value of the way; the way may run downwards, but always to the right.
pub fn place(answer: &SweepAnswer, at: f64) -> f64 {
    let ends = answer.points.first().zip(answer.points.last()).map_or((0.0, 1.0), |(a, b)| (a.at, b.at));
    let share = (at - ends.0) / (ends.1 - ends.0);
    START + (END - START) * if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.0 }
}

/// The place of the brief's own value, where the way comes by it.
pub fn own(answer: &SweepAnswer) -> Option<f64> {
    let (first, last) = answer.points.first().zip(answer.points.last())?;
    let (low, high) = (first.at.min(last.at), first.at.max(last.at));
    answer.own.filter(|own| (low..=high).contains(own)).map(|own| place(answer, own))
}

/// Everything that was solved, in the order of the way.
pub fn stops(answer: &SweepAnswer) -> Vec<Stop<'_>> {
    let stop = |at: f64, spec, stopped| Stop { at, x: place(answer, at), spec, stopped };
    let points = answer.points.iter().map(|p| stop(p.at, p.spec.as_ref(), p.outcome == Ending::Stopped));
    let sides = answer
        .switches
        .iter()
        .flat_map(|s| [stop(s.before, s.spec_before.as_ref(), false), stop(s.at, s.spec.as_ref(), false)]);
    let mut all: Vec<Stop> = points.chain(sides).collect();
    all.sort_by(|a, b| a.x.total_cmp(&b.x));
    all.dedup_by(|a, b| a.at.to_bits() == b.at.to_bits());
    all
}

/// Where one stop gives way to the next: half-way between them, which at a switch is as good as exact.
pub fn borders(stops: &[Stop]) -> Vec<(f64, f64)> {
    let between = |at: usize| {
        at.checked_sub(1).and_then(|left| Some(f64::midpoint(stops.get(left)?.x, stops.get(at)?.x)))
    };
    (0..stops.len()).map(|at| (between(at).unwrap_or(START), between(at + 1).unwrap_or(END))).collect()
}

/// A value as finely as four digits go: `9.14`, `8`.
pub fn value(value: f64) -> String {
    let size = if value == 0.0 { 0.0 } else { value.abs().log10().floor() };
    number::trimmed(value, (3.0 - size).clamp(0.0, 6.0) as usize)
}

/// A value of the way with its unit.
pub fn with_unit(answer: &SweepAnswer, at: f64) -> String {
    format!("{} {}", value(at), answer.unit).trim_end().to_owned()
}

#[cfg(test)]
mod tests {
    use super::value;

    #[test]
    fn values_have_no_more_digits_than_they_deserve() {
        assert_eq!(value(8.903_77), "8.904");
        assert_eq!(value(0.0), "0");
        assert_eq!(value(120.0), "120");
        assert_eq!(value(-0.012_343), "-0.01234");
    }
}
