//! What can at best tie with the cutoff: by cost and count it still comes before it, or not.

use super::Search;
use super::SearchMode;
use super::incumbents::{Cutoff, same_score_margin};
use super::node::{Node, State};
use super::threshold::{Terms, Threshold};
use crate::lp::simplex::Ended;

impl Search<'_> {
    /// Whether scores come in steps, and nothing below a node is a step better than the cutoff.
    fn at_best_ties(&self, node: &Node, threshold: &Threshold, cutoff: Cutoff) -> bool {
        self.judge.objective.step().is_some() && node.bound >= cutoff.score - threshold.margin.abs()
    }

    /// Among specs of the cutoff's own score, those count that are cheaper, or as cheap with fewer
    /// ingredients.
    pub(super) fn tied_out(
        node: &Node,
        terms: &Terms,
        threshold: &Threshold,
        cutoff: Cutoff,
        least: f64,
    ) -> bool {
        let dearer = cutoff.cost.is_finite()
            && terms.perturbation > 0.0
            && least > threshold.target + threshold.margin + terms.perturbation * cutoff.cost;
        if dearer {
            // Better scores may hide behind a higher cost: ask for the score alone.
            let mut alone = node.simplex.clone();
            alone.weigh(
                &[1.0, 0.0, -threshold.theta]
                    [..if terms.subproblem.program.lines.over.is_some() { 3 } else { 2 }],
            );
            if alone.solve(f64::INFINITY) == Ended::Optimal
                && alone.objective() >= threshold.target - threshold.margin
            {
                return true;
            }
        }
        false
    }

    /// Scores that come in steps: what cannot be a step better than the cutoff ties with it at best, and then has to be no
    /// dearer.
    pub(super) fn stepped_out(&self, node: &Node, threshold: &Threshold, cutoff: Cutoff) -> bool {
        if self.judge.objective.step().is_none() {
            return false;
        }
        if node.bound > cutoff.score + threshold.margin {
            return true;
        }
        if !self.at_best_ties(node, threshold, cutoff)
            || !cutoff.cost.is_finite()
            || self.mode != SearchMode::Ordered
        {
            return false;
        }
        let mut cost = node.simplex.clone();
        cost.weigh(&[0.0, 1.0]);
        let dearer = cutoff.cost + same_score_margin(cutoff.cost);
        cost.solve(f64::INFINITY) == Ended::Optimal && cost.objective() > dearer
    }

    /// Where the node can at best tie with the cut in score and cost, only fewer ingredients, or as
    /// many under other names, come before it. True where that closed something.
    pub(super) fn close_by_count(&self, node: &mut Node, terms: &Terms, threshold: &Threshold) -> bool {
        let Some(cutoff) = threshold.cutoff else { return false };
        let tied = self.mode == SearchMode::Ordered
            && terms.perturbation == 0.0
            && (self.about_cost() || cutoff.cost == 0.0)
            && (node.simplex.objective() >= threshold.target - threshold.margin
                || self.at_best_ties(node, threshold, cutoff));
        let used = node.used();
        if !tied || used < cutoff.count || node.domains.iter().all(|d| d.state != State::Open) {
            return false;
        }
        for domain in &mut node.domains {
            match domain.state {
                State::Open => domain.state = State::Out,
                // Too many already: an empty range ends the node.
                State::Used if used > cutoff.count => domain.high = -1.0,
                _ => {}
            }
        }
        true
    }
}
