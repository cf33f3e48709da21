//! A first spec, where the way down along the aim finds none, or none near the bound.
//!
//! What the aim likes best lies in a corner of the limits, and there hardly anything that can be poured
//! keeps them: on a long shelf of near-equals the search may try thousands of ways into one such corner.
//! The middle of the limits has room on every side. A spec from there is soon found, and then one that
//! lies half as far from the bound, and half as far again; where none is found in time, one half as ambitious. And a
//! hundred of the bottles, well chosen, hold something nearly as good as all: they are searched to the end.

use super::incumbents::{Entry, Incumbents, Wanted, ranks};
use super::judge::Judge;
use super::mode::SearchMode;
use super::subproblems::Subproblems;
use super::{DIVE, FIRST_RISE, Search, branch};
use crate::model::Objective;

/// No more often than this the way between what was found and what was not is cut in half.
const HALVES: usize = 12;

/// So many columns are searched in a fraction of the time that a long shelf takes, and hold something good.
const FEW: usize = 120;

impl Search<'_> {
    /// Looks for specs of the columns that cost the least at the root's optimum, where there are many more: there the
    /// search comes to its end.
    pub(super) fn start_from_few(&mut self, subproblems: &Subproblems) {
        let Some(subproblem) = subproblems.first() else { return };
        let model = self.judge.model;
        let cost = |column: usize| {
            let segments = subproblem.program.of_column[column].clone();
            segments.map(|at| subproblem.simplex.reduced_cost(at).max(0.0)).fold(f64::INFINITY, f64::min)
        };
        let mut open: Vec<(f64, usize)> = (0..model.columns.len())
            .filter(|c| !model.columns[*c].must && model.columns[*c].most > 0.0)
            .map(|c| (cost(c), c))
            .collect();
        if open.len() <= 2 * FEW {
            return;
        }
        open.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        let mut few = model.clone();
        open[FEW..].iter().for_each(|(_, c)| few.columns[*c].most = 0.0);
        let effort = self.left / 2;
        let found = branch(&few, self.judge.objective, Wanted::best(1), self.limits.stop, effort);
        self.left -= found.spent.min(self.left);
        for entry in found.entries {
            if let Some(entry) = self.judge.entry(entry.set, entry.units) {
                self.incumbents.offer(entry);
            }
        }
    }

    /// Looks for a first spec in the middle of the limits where there is none, and from there towards the bound.
    pub(super) fn start_from_the_middle(&mut self, bound: f64, scale: f64) {
        let Some(middle) = Objective::middle_of(self.judge.model) else { return };
        self.incumbents.raise(f64::INFINITY);
        let mut sided = self.judge.model.clone();
        let (mut low, mut high) = (bound, self.incumbents.entries().first().map(|best| best.score));
        let mut ceiling = f64::INFINITY;
        for _ in 0..HALVES {
            if let Some(high) = high {
                ceiling = 0.5 * (high + low);
                let limit = self.judge.objective.as_limit(ceiling);
                let Some(limit) = limit.filter(|_| high - low > FIRST_RISE * scale) else { return };
                sided.limits.truncate(self.judge.model.limits.len());
                sided.limits.push(limit);
            }
            let found = self.any(Judge { model: &sided, objective: &middle });
            // It is no less a spec for having been found on another way, but it scores by the own aim.
            match found.and_then(|e| self.judge.entry(e.set, e.units)) {
                Some(entry) => {
                    high = Some(entry.score);
                    self.incumbents.offer(entry);
                }
                None if high.is_none() => return,
                // Where nothing is found in time there may be something yet: half of the rest is asked less of.
                None => low = ceiling,
            }
        }
    }

    /// Any spec, within the nodes of a dive and half of the effort that is left, so that something is left to ask for less.
    fn any(&mut self, judge: Judge) -> Option<Entry> {
        let mut limits = self.limits;
        limits.nodes = limits.nodes.min(self.nodes + DIVE);
        let wanted = Wanted::best(1);
        let incumbents = Incumbents::new(wanted, ranks(judge.model));
        let (left, nodes) = (self.left.div_ceil(2), self.nodes);
        self.left -= left;
        let mut search = Search {
            judge,
            incumbents,
            mode: SearchMode::Any,
            limits,
            effort: self.effort,
            left,
            kept: 0,
            nodes,
            spare: vec![],
            clipped: false,
        };
        search.subproblems(&Subproblems::plain(judge.model, judge.objective));
        self.nodes = search.nodes;
        self.left += search.left;
        search.incumbents.entries().first().cloned()
    }
}
