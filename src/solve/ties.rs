//! What can at best tie with the cut-off: by cost and count it still comes before it, or not.

use super::gate::{Gate, Terms};
use super::incumbents::{Cut, same_score_margin};
use super::node::{Node, State};
use super::quest::Quest;
use super::search::Search;
use super::simplex::Ended;

impl Search<'_> {
    /// Whether scores come in steps, and nothing below a node is a step better than the cut.
    fn at_best_ties(&self, node: &Node, gate: &Gate, cut: Cut) -> bool {
        self.judge.objective.step().is_some() && node.bound >= cut.score - gate.margin.abs()
    }

    /// Among specs of the cut's own score, those count that are cheaper, or as cheap with fewer
    /// ingredients.
    pub(super) fn tied_out(node: &Node, terms: &Terms, gate: &Gate, cut: Cut, least: f64) -> bool {
        let dearer = cut.cost.is_finite()
            && terms.guide > 0.0
            && least > gate.target + gate.margin + terms.guide * cut.cost;
        if dearer {
            // Better scores may hide behind a higher cost: ask for the score alone.
            let mut alone = node.simplex.clone();
            alone.weigh(
                &[1.0, 0.0, -gate.theta][..if terms.piece.program.lines.over.is_some() { 3 } else { 2 }],
            );
            if alone.solve(f64::INFINITY) == Ended::Optimal && alone.objective() >= gate.target - gate.margin
            {
                return true;
            }
        }
        false
    }

    /// Scores that come in steps: what cannot be a step better than the cut ties with it at best, and then has to be no
    /// dearer.
    pub(super) fn stepped_out(&self, node: &Node, gate: &Gate, cut: Cut) -> bool {
        if self.judge.objective.step().is_none() {
            return false;
        }
        if node.bound > cut.score + gate.margin {
            return true;
        }
        if !self.at_best_ties(node, gate, cut) || !cut.cost.is_finite() || self.quest != Quest::Ordered {
            return false;
        }
        let mut cost = node.simplex.clone();
        cost.weigh(&[0.0, 1.0]);
        let dearer = cut.cost + same_score_margin(cut.cost);
        cost.solve(f64::INFINITY) == Ended::Optimal && cost.objective() > dearer
    }

    /// Where the node can at best tie with the cut in score and cost, only fewer ingredients, or as
    /// many under other names, come before it. True where that closed something.
    pub(super) fn close_by_count(&self, node: &mut Node, terms: &Terms, gate: &Gate) -> bool {
        let Some(cut) = gate.cut else { return false };
        let tied = self.quest == Quest::Ordered
            && terms.guide == 0.0
            && (self.about_cost() || cut.cost == 0.0)
            && (node.simplex.objective() >= gate.target - gate.margin || self.at_best_ties(node, gate, cut));
        let used = node.used();
        if !tied || used < cut.count || node.domains.iter().all(|d| d.state != State::Open) {
            return false;
        }
        for domain in &mut node.domains {
            match domain.state {
                State::Open => domain.state = State::Out,
                // Too many already: an empty range ends the node.
                State::Used if used > cut.count => domain.high = -1.0,
                _ => {}
            }
        }
        true
    }
}
