//! A search by whatever way does it.

use super::halves;
use crate::model::{Model, Objective};
use crate::search::{Incumbents, Judge, Searched, Stop, Subproblems, Wanted, branch_in, ranks};

/// Specs are put together from halves where branching alone has not done it within so much effort, and more is there.
const BRANCHES: u64 = 2_000_000;
const HALVES: u64 = 15 * BRANCHES;

/// Searches a model for an objective.
///
/// A depth-first search without a good cutoff wanders: most of its nodes are worse than the specs
/// that it is about to find. So it is run under a ceiling a little above the root bound, and again
/// under a higher one until enough specs lie under it: everything under the last ceiling has been
/// searched, which is the proof, and the runs before it cost little beside it.
pub fn search(model: &Model, objective: &Objective, wanted: Wanted, stop: &Stop) -> Searched {
    search_within(model, objective, wanted, stop, stop.effort())
}

/// Searches a model for an objective with so much effort of its own: by branching, and from halves where that does not do.
pub fn search_within(
    model: &Model,
    objective: &Objective,
    wanted: Wanted,
    stop: &Stop,
    effort: u64,
) -> Searched {
    search_in(&Subproblems::prepared(model, objective), wanted, stop, effort)
}

/// The same in subproblems that are there, where they are searched more than once.
pub fn search_in(subproblems: &Subproblems, wanted: Wanted, stop: &Stop, effort: u64) -> Searched {
    let Judge { model, objective } = subproblems.judge();
    let branched = |effort| branch_in(subproblems, wanted, stop, effort);
    if effort < HALVES || !(halves::distance(objective) && halves::apply(model, objective)) {
        return branched(effort);
    }
    let first = branched(BRANCHES);
    if first.complete || stop.raised() {
        return first;
    }
    let left = effort.saturating_sub(first.spent);
    let found = halves::search(model, objective, wanted, first.bound, (stop, left, 0..halves::PARTS));
    let found = found.unwrap_or_else(|| branched(left));
    let bound = found.bound.max(first.bound);
    let (nodes, spent) = (first.nodes + found.nodes, first.spent + found.spent);
    let mut all = Incumbents::new(wanted, ranks(model));
    all.raise(f64::INFINITY);
    first.entries.into_iter().chain(found.entries).for_each(|entry| all.offer(entry));
    Searched { entries: all.entries().to_vec(), bound, complete: found.complete, nodes, spent }
}
