//! What a node's objective is compared with: the cutoff, turned into the objective's own terms.

use super::Search;
use super::SearchMode;
use super::incumbents::{Cutoff, Keep, in_steps};
use super::node::Node;
use super::subproblem::Subproblem;
use crate::model::Objective;

/// The share of the score's scale that cost is let in as, so that among near-equal scores the search
/// walks towards the cheap ones. The bound is corrected for it: it guides, and decides nothing.
const PERTURBATION: f64 = 1e-5;

/// What is fixed for all nodes of a subproblem.
pub(super) struct Terms<'p> {
    pub subproblem: &'p Subproblem,
    /// Weight of the cost in the objective.
    pub perturbation: f64,
    /// The most that the cost can add.
    pub perturbation_most: f64,
    /// Largest value of the score's denominator; 1 where there is none.
    pub over_most: f64,
    /// Smallest value of the score's denominator; 1 where there is none.
    over_least: f64,
    /// The step in which scores come, where they come in steps.
    step: Option<f64>,
}

impl Terms<'_> {
    /// The least score that a spec may have where none is under `least`.
    pub fn reached(&self, least: f64) -> f64 {
        self.step.map_or(least, |step| in_steps(least, step))
    }
}

/// What a node's objective is compared with.
#[derive(Debug, Clone, Copy)]
pub(super) struct Threshold {
    /// The weight of the denominator.
    pub theta: f64,
    /// The objective (cost not counted) of a spec that scores just as the cutoff.
    pub target: f64,
    /// How far from it is still the same score.
    pub margin: f64,
    pub cutoff: Option<Cutoff>,
}

impl Search<'_> {
    pub(super) fn terms<'p>(&self, subproblem: &'p Subproblem) -> Terms<'p> {
        let lines = &subproblem.program.lines;
        let mut simplex = subproblem.simplex.clone();
        let mut most = |part: usize| simplex.end_of(part, -1.0).unwrap_or(f64::INFINITY);
        let over_most = if lines.over.is_some() { most(2) } else { 1.0 };
        let cost_most = most(1);
        let over_least =
            if lines.over.is_some() { simplex.end_of(2, 1.0).unwrap_or(0.0).max(0.0) } else { 1.0 };
        let scale = subproblem.bound.abs().min(1e12).max(1e-6 * subproblem.reach()) * over_most;
        let plain = cost_most > 0.0
            && cost_most.is_finite()
            && scale.is_finite()
            && !self.about_cost()
            && self.mode == SearchMode::Ordered;
        let perturbation = if plain { PERTURBATION * scale / cost_most } else { 0.0 };
        let perturbation_most = if plain { perturbation * cost_most } else { 0.0 };
        let step = self.judge.objective.step();
        Terms { subproblem, perturbation, perturbation_most, over_most, over_least, step }
    }

    /// Whether the score is money itself, so that cost cannot order equal scores.
    pub(super) fn about_cost(&self) -> bool {
        use crate::brief::{Goal, Measure};
        matches!(
            self.judge.objective,
            Objective::Goal { goal: Goal::Measure(Measure::Cost | Measure::PourCost), .. }
        )
    }

    pub(super) fn threshold(&self, node: &Node, terms: &Terms) -> Threshold {
        let rank = self.incumbents.rank();
        let decided = node.is_decided();
        let asked = decided || self.incumbents.keep() == Keep::Needed;
        let own = asked.then(|| self.incumbents.of_used(&node.used_set(rank), decided)).flatten();
        let cutoff = own.or_else(|| self.incumbents.cutoff());
        let lines = &terms.subproblem.program.lines;
        let score = cutoff.map(|c| c.score);
        let margin = score.map_or(0.0, |s| self.margin(s));
        let margin = margin * if margin < 0.0 { terms.over_least } else { terms.over_most };
        if lines.over.is_some() {
            let theta = score.unwrap_or_else(|| self.guess(terms.subproblem));
            Threshold { theta, target: 0.0, margin, cutoff }
        } else {
            Threshold {
                theta: 0.0,
                target: score.map_or(f64::INFINITY, |s| s - lines.constant),
                margin,
                cutoff,
            }
        }
    }

    /// A ratio to lean on while there is no cutoff yet.
    pub(super) fn guess(&self, subproblem: &Subproblem) -> f64 {
        let best = self.incumbents.entries().first().map(|e| e.score);
        let guess = best.unwrap_or(subproblem.bound);
        if guess.is_finite() { guess } else { 0.0 }
    }
}

/// A bound on the score from a bound on the objective.
pub(super) fn score_bound(least: f64, terms: &Terms, threshold: &Threshold) -> f64 {
    let lines = &terms.subproblem.program.lines;
    if lines.over.is_none() {
        return terms.reached(least + lines.constant);
    }
    // value ≥ θ·over + least, so the score is at least θ + least/over.
    let over = if least >= 0.0 { terms.over_most } else { terms.over_least };
    if over > 0.0 && over.is_finite() { threshold.theta + least / over } else { f64::NEG_INFINITY }
}
