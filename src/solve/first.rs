//! A first spec, where the way down along the aim finds none.
//!
//! What the aim likes best lies in a corner of the limits, and there hardly anything that can be poured
//! keeps them: on a long shelf of near-equals the search may try thousands of ways into one such corner.
//! The middle of the limits has room on every side. A spec from there is soon found, and then one that
//! lies half as far from the bound, and half as far again.

use super::incumbents::{Entry, Incumbents, Wanted, ranks};
use super::judge::Judge;
use super::pieces::pieces;
use super::quest::Quest;
use super::search::{DIVE, FIRST_RUNG, Search};
use crate::model::Objective;

/// No more often than this the way to the bound is cut in half.
const HALVES: usize = 12;

impl Search<'_> {
    /// Looks for a first spec in the middle of the limits, and from there towards the bound.
    pub(super) fn start_from_the_middle(&mut self, bound: f64, scale: f64) {
        let Some(middle) = Objective::middle_of(self.judge.model) else { return };
        self.incumbents.raise(f64::INFINITY);
        let mut sided = self.judge.model.clone();
        for _ in 0..HALVES {
            let found = self.any(Judge { model: &sided, objective: &middle });
            // It is no less a spec for having been found on another way, but it scores by the own aim.
            let Some(entry) = found.and_then(|e| self.judge.entry(e.set, e.units)) else { return };
            let ceiling = 0.5 * (entry.score + bound);
            self.incumbents.offer(entry);
            let limit = self.judge.objective.as_limit(ceiling);
            let Some(limit) = limit.filter(|_| ceiling - bound > FIRST_RUNG * scale) else { return };
            sided.limits.truncate(self.judge.model.limits.len());
            sided.limits.push(limit);
        }
    }

    /// Any spec, within the nodes of a dive.
    fn any(&mut self, judge: Judge) -> Option<Entry> {
        let mut patience = self.patience;
        patience.nodes = patience.nodes.min(self.nodes + DIVE);
        let wanted = Wanted::best(1);
        let incumbents = Incumbents::new(wanted, ranks(judge.model));
        let (left, nodes) = (self.left, self.nodes);
        let mut search = Search {
            judge,
            incumbents,
            quest: Quest::Any,
            patience,
            effort: self.effort,
            left,
            kept: 0,
            nodes,
            spare: vec![],
            clipped: false,
        };
        search.pieces(&pieces(judge.model, judge.objective));
        (self.left, self.nodes) = (search.left, search.nodes);
        search.incumbents.entries().first().cloned()
    }
}
