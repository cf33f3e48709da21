//! The same question at many prices: what has been left out once is left out again at sight.
//!
//! When everything has been looked at, all compositions lie in boxes, each left out since the dual of its program says
//! that nothing in it is better. Where one column costs more or less, the same dual still bounds the box: only the reduced
//! costs of that column move. So at another price only those boxes are looked into whose bound gives way.

use super::everywhere::{Everywhere, better_than, boxes, look_into};
use super::{Free, Point};
use crate::lp::simplex::Simplex;
use crate::model::{Model, Objective, Program, Ranges};

/// A box that was left out.
#[derive(Debug, Clone)]
pub(super) struct Closed {
    ranges: Ranges,
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
    fn least_at(&self, dearer: &[(usize, f64)]) -> f64 {
        let least = |cost: f64, (low, high): (f64, f64)| (cost * low).min(cost * high);
        let moved = self.reduced.iter().filter_map(|(column, low, high, cost)| {
            let (_, by) = dearer.iter().find(|(at, _)| at == column)?;
            Some(least(cost + by, (*low, *high)) - least(*cost, (*low, *high)))
        });
        self.least + moved.sum::<f64>()
    }
}

/// All compositions that a brief allows, in boxes that hold nothing better than the best.
#[derive(Debug, Clone)]
pub struct Parted {
    /// The best.
    pub best: Free,
    closed: Vec<Closed>,
}

impl Parted {
    /// Looks everywhere; nothing where that is not proved, or nothing meets the brief. The objective is linear.
    pub fn new(model: &Model, objective: &Objective, within: Ranges, known: &[f64]) -> Option<Self> {
        let freed = model.freed();
        let known = Point::new(&freed, objective, known.to_vec());
        let known = Some(known).filter(|point| point.meets).map(|point| point.free);
        let mut closed = vec![];
        let found = look_into(&freed, objective, (boxes(&freed, within), known), Some(&mut closed));
        let best = found.best.filter(|_| found.proved)?;
        Some(Self { best, closed })
    }

    /// The same where a unit of some columns costs so much more, as a score: anything better there than a known point,
    /// which meets the brief. `model` and `objective` are those with the other costs.
    pub fn better(
        &self,
        model: &Model,
        objective: &Objective,
        known: &[f64],
        dearer: &[(usize, f64)],
    ) -> Option<Free> {
        let freed = model.freed();
        let known = Point::new(&freed, objective, known.to_vec()).free;
        let open: Vec<(f64, Ranges)> = self
            .closed
            .iter()
            .map(|closed| (closed.least_at(dearer), closed.ranges))
            .filter(|(least, _)| *least <= better_than(known.score))
            .collect();
        if open.is_empty() {
            return None;
        }
        let Everywhere { best, .. } = look_into(&freed, objective, (open, Some(known)), None);
        best
    }
}
