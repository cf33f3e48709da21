//! All irreducible conflicts and all minimal ways out.
//!
//! A way out is a smallest set of demands without which the rest can be kept; a core is a smallest set
//! that cannot. Each way out hits every core and each core hits every way out (Reiter, *A theory of
//! diagnosis from first principles*, Artificial Intelligence 32, 1987; Liffiton, Sakallah, *Journal of
//! Automated Reasoning* 40, 2008), so a tree over the members of the cores found so far finds all ways
//! out, and from these all cores follow without another search. Single cores are found by leaving out
//! what is not needed, one after another (deletion filter; Chinneck, *Feasibility and Infeasibility in
//! Optimization*, 2008).

use std::collections::{BTreeSet, VecDeque};

use crate::explain::oracle::{Oracle, Set, Verdict};

/// More searches than this are no longer affordable.
const SEARCHES: usize = 400;
/// More sets than this are no longer readable, nor quickly combined.
const SETS: usize = 256;

/// What conflicts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cores {
    /// Irreducible sets, the smallest first.
    pub cores: Vec<Set>,
    /// Whether these are proved to be all.
    pub complete: bool,
}

/// Finds the cores; at least one, unless nothing could be proved.
pub fn cores(oracle: &mut Oracle) -> Cores {
    let mut tree = Tree { found: vec![], ways_out: vec![], complete: true };
    tree.grow(oracle);
    let all = if tree.complete { crossing(&tree.ways_out) } else { None };
    let (mut cores, complete) = match all {
        Some(all) => (all, true),
        None => (tree.found, false),
    };
    cores.sort_by_key(|core| (core.count_ones(), core.reverse_bits()));
    cores.sort_by_key(|core| core.count_ones());
    Cores { cores, complete }
}

struct Tree {
    found: Vec<Set>,
    ways_out: Vec<Set>,
    complete: bool,
}

impl Tree {
    /// Breadth first over sets of demands to give up: small ways out come first.
    fn grow(&mut self, oracle: &mut Oracle) {
        let mut queue: VecDeque<Set> = VecDeque::from([0]);
        let mut seen: BTreeSet<Set> = BTreeSet::from([0]);
        while let Some(given_up) = queue.pop_front() {
            if self.ways_out.iter().any(|way| way & !given_up == 0) {
                continue;
            }
            if oracle.asked > SEARCHES || oracle.effort.spent() || seen.len() > 64 * SETS {
                self.complete = false;
                return;
            }
            let Some(core) = self.core_beside(given_up, oracle) else { continue };
            for at in bits(core) {
                let next = given_up | (1 << at);
                if seen.insert(next) {
                    queue.push_back(next);
                }
            }
        }
    }

    /// A core that shares nothing with what is given up; none where the rest can be kept.
    fn core_beside(&mut self, given_up: Set, oracle: &mut Oracle) -> Option<Set> {
        if let Some(known) = self.found.iter().find(|core| *core & given_up == 0) {
            return Some(*known);
        }
        let rest = oracle.full() & !given_up;
        match oracle.can(rest) {
            Verdict::Can => self.ways_out.push(given_up),
            Verdict::Unknown => self.complete = false,
            Verdict::Cannot => {
                if let Some(core) = shrunk(rest, oracle) {
                    self.found.push(core);
                    return Some(core);
                }
                self.complete = false;
            }
        }
        None
    }
}

/// An irreducible part of a set that cannot be kept; nothing where some step could not be proved.
fn shrunk(set: Set, oracle: &mut Oracle) -> Option<Set> {
    let mut core = set;
    // Rules first: a conflict of targets is what people understand best.
    let mut order = bits(set);
    order.reverse();
    for at in order {
        let less = core & !(1 << at);
        match oracle.can(less) {
            Verdict::Cannot => core = less,
            Verdict::Can => {}
            Verdict::Unknown => return None,
        }
    }
    Some(core)
}

/// The smallest sets that share something with each of the given ones (Berge's product); nothing where
/// they become too many.
fn crossing(sets: &[Set]) -> Option<Vec<Set>> {
    let mut all: Vec<Set> = vec![0];
    for set in sets {
        let (mut next, rest): (Vec<Set>, Vec<Set>) = all.into_iter().partition(|c| c & set != 0);
        for base in rest {
            for at in bits(*set) {
                let candidate = base | (1 << at);
                // None of them holds more than this one: of the smallest sets that cross all before, none holds
                // another.
                if !next.iter().any(|c| c & !candidate == 0) {
                    next.push(candidate);
                }
            }
        }
        if next.len() > SETS {
            return None;
        }
        all = next;
    }
    Some(all)
}

/// The places of a set's members.
pub fn bits(set: Set) -> Vec<usize> {
    (0..Set::BITS as usize).filter(|at| set & (1 << at) != 0).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_crossing_set_hits_all_and_is_minimal() {
        // Ways out {0}, {1, 2}: cores {0, 1} and {0, 2}.
        assert_eq!(crossing(&[0b001, 0b110]), Some(vec![0b011, 0b101]));
        // Ways out {0, 1}, {1, 2}, {0, 2}: any two of three.
        let mut pairs = crossing(&[0b011, 0b110, 0b101]).expect("few");
        pairs.sort_unstable();
        assert_eq!(pairs, vec![0b011, 0b101, 0b110]);
    }

    /// All sets of six members that share something with each of the given ones and have no member too many,
    /// by trying all sixty-four.
    fn by_trying(sets: &[Set]) -> Vec<Set> {
        let crosses = |c: Set| sets.iter().all(|set| c & set != 0);
        let spare = |c: Set| bits(c).into_iter().any(|at| crosses(c & !(1 << at)));
        (0..64).filter(|c| crosses(*c) && !spare(*c)).collect()
    }

    #[test]
    fn crossing_sets_are_those_that_trying_finds() {
        for first in 1..64 {
            for second in (1..64).step_by(5) {
                for third in (1..64).step_by(7) {
                    let sets = [first, second, third, (first ^ third) | 1];
                    let mut found = crossing(&sets).expect("few");
                    found.sort_unstable();
                    assert_eq!(found, by_trying(&sets), "{sets:?}");
                }
            }
        }
    }
}
