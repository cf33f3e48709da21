//! Boxes of compositions that were left out, and what said so.

use crate::lp::simplex::Simplex;
use crate::model::{Program, Ranges};

/// A box that was left out.
#[derive(Debug, Clone)]
pub(super) struct Closed {
    pub ranges: Ranges,
    /// No spec in it scores better.
    least: f64,
    /// Of every variable its column, its bounds, and its reduced cost.
    reduced: Vec<(usize, f64, f64, f64)>,
}

impl Closed {
    /// A box that was not looked into.
    pub fn open(ranges: Ranges) -> Self {
        Self { ranges, least: f64::NEG_INFINITY, reduced: vec![] }
    }

    /// What the program of a box says at its optimum.
    pub fn of(ranges: Ranges, least: f64, program: &Program, simplex: &Simplex) -> Self {
        let reduced = |(at, segment): (usize, &crate::model::Segment)| {
            let (low, high) = simplex.bounds(at);
            (segment.column, low, high, simplex.reduced_cost(at))
        };
        Self { ranges, least, reduced: program.segments.iter().enumerate().map(reduced).collect() }
    }

    /// The same bound where a unit of some columns costs so much more, as a score.
    pub fn least_at(&self, dearer: &[(usize, f64)]) -> f64 {
        let least = |cost: f64, (low, high): (f64, f64)| (cost * low).min(cost * high);
        let moved = self.reduced.iter().filter_map(|(column, low, high, cost)| {
            let (_, by) = dearer.iter().find(|(at, _)| at == column)?;
            Some(least(cost + by, (*low, *high)) - least(*cost, (*low, *high)))
        });
        self.least + moved.sum::<f64>()
    }
}
