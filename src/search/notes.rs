//! How many notes the specs below a node can cover, by counting.
//!
//! Where only so many ingredients may be used, the relaxation covers a note by the share of a least pour and counts a
//! share of an ingredient for it: it may promise more notes than ingredients can carry. Counted, each further
//! ingredient adds at most the notes that it carries and nobody yet does (the bound of a greedy cover on coverage,
//! which is submodular: Nemhauser, Wolsey, Fisher, *Mathematical Programming* 14, 1978).

use super::judge::Judge;
use super::node::{Node, State};
use crate::model::Objective;

/// At most so many notes are covered below a node; nothing where notes are not what is aimed for.
pub fn most(judge: &Judge, node: &Node) -> Option<usize> {
    let Objective::Notes(notes) = judge.objective else { return None };
    let state = |c: &usize| node.domains[*c].state;
    let covered = |columns: &&Vec<usize>| columns.iter().any(|c| state(c) == State::Used);
    let (sure, rest): (Vec<&Vec<usize>>, Vec<&Vec<usize>>) = notes.iter().partition(covered);
    let open: Vec<&Vec<usize>> =
        rest.into_iter().filter(|columns| columns.iter().any(|c| state(c) == State::Open)).collect();
    let all = sure.len() + open.len();
    let Some(slots) = slots(judge, node).filter(|slots| *slots < open.len()) else { return Some(all) };
    let mut gains = vec![0; node.domains.len()];
    open.iter().flat_map(|columns| columns.iter()).for_each(|c| gains[*c] += 1);
    gains.iter_mut().enumerate().filter(|(c, _)| state(c) != State::Open).for_each(|(_, gain)| *gain = 0);
    gains.sort_unstable_by(|a, b| b.cmp(a));
    Some(all.min(sure.len() + gains.iter().take(slots).sum::<usize>()))
}

/// How many more ingredients may be used; nothing where nothing bounds them.
fn slots(judge: &Judge, node: &Node) -> Option<usize> {
    let all = judge.model.columns.len();
    let whole = judge.model.groups.iter().filter(|group| group.members.len() == all);
    whole.map(|group| group.max.saturating_sub(node.used())).min()
}
