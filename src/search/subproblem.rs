//! A subproblem of the range of compositions, narrow enough for the linear bounds over it to be tight.

use super::cuts;
use super::incumbents::in_steps;
use super::sums::{self, Sum};
use crate::lp::simplex::{Ended, Simplex};
use crate::model::{Model, Objective, Program, Ranges};

/// A subproblem to search: a program that is valid on it, and its root bound.
#[derive(Debug)]
pub struct Subproblem {
    /// Rows, segments and objective.
    pub program: Program,
    /// The solved root.
    pub simplex: Simplex,
    /// The sums in it.
    pub sums: Vec<Sum>,
    /// No spec of the subproblem scores better.
    pub bound: f64,
    /// The step in which scores come, where they come in steps.
    step: Option<f64>,
}

impl Subproblem {
    /// The subproblem over some ranges; nothing where nothing is on it.
    pub fn new(model: &Model, objective: &Objective, ranges: &Ranges) -> Option<Self> {
        let program = Program::relaxed(model, objective, ranges);
        let lines = &program.lines;
        let mut parts = vec![lines.value.clone(), lines.cost.clone()];
        parts.extend(lines.over.clone());
        let mut simplex = program.tableau(model, &parts);
        let sums = sums::add(model, &program, &mut simplex);
        simplex.weigh(&[1.0]);
        if simplex.solve(f64::INFINITY) == Ended::Infeasible {
            return None;
        }
        let bound = match &lines.over {
            None => simplex.objective() + lines.constant,
            Some(_) => simplex.least_ratio(0, 2).unwrap_or(f64::NEG_INFINITY),
        };
        let step = objective.step();
        let bound = step.map_or(bound, |step| in_steps(bound, step));
        Some(Self { program, simplex, sums, bound, step })
    }
}

impl Subproblem {
    /// The most that any one variable's range moves the score, or its numerator.
    pub fn reach(&self) -> f64 {
        let lengths =
            self.program.segments.iter().map(|s| s.length).chain(self.program.extras.iter().copied());
        let moved =
            self.program.lines.value.iter().zip(lengths).map(|(value, length)| (value * length).abs());
        moved.fold(0.0, f64::max)
    }

    /// Adds cuts to the root, and raises the bound by them.
    pub fn sharpen(&mut self, model: &Model) {
        if !self.bound.is_finite() {
            return;
        }
        let lines = &self.program.lines;
        let theta = if lines.over.is_some() { self.bound } else { 0.0 };
        let weights = [1.0, 0.0, -theta];
        self.simplex.weigh(&weights[..if lines.over.is_some() { 3 } else { 1 }]);
        if self.simplex.solve(f64::INFINITY) != Ended::Optimal {
            return;
        }
        cuts::sharpen(model, &self.program, &mut self.simplex);
        let bound = match (&lines.over, self.simplex.solve(f64::INFINITY)) {
            (_, Ended::Infeasible) => f64::INFINITY,
            (None, _) => self.simplex.objective() + lines.constant,
            (Some(_), _) => self.simplex.least_ratio(0, 2).unwrap_or(self.bound),
        };
        self.bound = self.bound.max(self.step.map_or(bound, |step| in_steps(bound, step)));
    }
}
