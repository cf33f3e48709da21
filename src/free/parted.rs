//! The same question at many prices: what has been left out once is left out again at sight.
//!
//! When everything has been looked at, all compositions lie in boxes, each left out since the dual of its program says
//! that nothing in it is better. Where one column costs more or less, the same dual still bounds the box: only the reduced
//! costs of that column move. So at another price only those boxes are looked into whose bound gives way.

use super::closed::Closed;
use super::everywhere::{Everywhere, better_than, boxes, look_into};
use super::{Free, Point};
use crate::model::{Model, Objective, Ranges};

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
