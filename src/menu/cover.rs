//! The fewest members that meet every one of many sets: a least cover, by branch and bound over its relaxation.
//!
//! Rows are few hundred at most and columns as many as a bar has bottles, so the engine of the pourable search bounds it
//! well: at a fraction, the larger half is tried first, and what cannot come under the best by a whole member is cut.

use crate::lp::simplex::{Ended, Simplex};
use crate::solve::Stop;

/// A value nearer to a whole number than this is one.
const WHOLE: f64 = 1e-6;
/// More nodes than this are not looked at.
const NODES: u64 = 20_000;

/// What a cover has to do.
#[derive(Debug, Clone, Default)]
pub struct Cover {
    /// How many there are to choose from.
    pub count: usize,
    /// At least one of each of these is chosen.
    pub meets: Vec<Vec<usize>>,
    /// Not all of each of these are chosen.
    pub not_all: Vec<Vec<usize>>,
}

/// A least cover.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Covered {
    /// The members, in order; nothing where none was found.
    pub members: Option<Vec<usize>>,
    /// No cover has fewer.
    pub bound: usize,
    /// Whether everything was searched.
    pub complete: bool,
}

struct Run<'a> {
    cover: &'a Cover,
    stop: &'a Stop,
    best: Option<Vec<usize>>,
    /// Only covers of fewer members than this matter.
    under: usize,
    nodes: u64,
}

impl Cover {
    /// The least cover of at most so many members.
    pub fn least(&self, most: usize, stop: &Stop) -> Covered {
        let figures = |members: &[usize]| {
            let mut row = vec![0.0; self.count];
            members.iter().for_each(|at| row[*at] = 1.0);
            row
        };
        let meets = self.meets.iter().map(|members| (figures(members), 1.0, f64::INFINITY));
        let not_all = self.not_all.iter();
        let not_all = not_all.map(|all| (figures(all), f64::NEG_INFINITY, all.len() as f64 - 1.0));
        let rows: Vec<(Vec<f64>, f64, f64)> = meets.chain(not_all).collect();
        let mut root = Simplex::new(&vec![(0.0, 1.0); self.count], &rows, &[vec![1.0; self.count]]);
        root.weigh(&[1.0]);
        let mut run = Run { cover: self, stop, best: None, under: most + 1, nodes: 0 };
        let complete = run.node(root.clone());
        let bound = match (complete, &run.best) {
            (true, Some(best)) => best.len(),
            (true, None) => most + 1,
            (false, _) => {
                let _ = root.solve(f64::INFINITY);
                whole_at_least(root.objective()).min(run.under)
            }
        };
        Covered { members: run.best, bound, complete }
    }

    /// Whether a choice meets everything.
    fn keeps(&self, chosen: &[bool]) -> bool {
        self.meets.iter().all(|one| one.iter().any(|at| chosen[*at]))
            && self.not_all.iter().all(|one| one.iter().any(|at| !chosen[*at]))
    }
}

/// The least whole number that a bound leaves.
fn whole_at_least(bound: f64) -> usize {
    (bound - WHOLE).ceil().max(0.0) as usize
}

impl Run<'_> {
    /// Searches below a node; false where it was cut short.
    fn node(&mut self, mut node: Simplex) -> bool {
        self.nodes += 1;
        if self.nodes > NODES || self.stop.raised() {
            return false;
        }
        let limit = self.under as f64 - 1.0 + WHOLE;
        let ended = node.solve(limit);
        if matches!(ended, Ended::Infeasible | Ended::Above) || whole_at_least(node.objective()) >= self.under
        {
            return true;
        }
        let values: Vec<f64> = (0..self.cover.count).map(|at| node.value(at)).collect();
        let fraction = |at: &usize| (values[*at] - values[*at].round()).abs();
        let free = |at: &usize| node.bounds(*at).0 < node.bounds(*at).1;
        let open = (0..self.cover.count).filter(|at| free(at) && fraction(at) > WHOLE);
        let branch = open.max_by(|a, b| fraction(a).total_cmp(&fraction(b)));
        let Some(at) = branch.or_else(|| self.unsettled(&values, &node)) else { return true };
        let first = if values[at] < 0.5 - WHOLE { [0.0, 1.0] } else { [1.0, 0.0] };
        let mut complete = true;
        for value in first {
            let mut child = node.clone();
            child.bound(at, value, value);
            complete &= self.node(child);
        }
        complete
    }

    /// Takes a whole point in; where it turns out to be none, by the rounding of its figures, what to branch on.
    fn unsettled(&mut self, values: &[f64], node: &Simplex) -> Option<usize> {
        let chosen: Vec<bool> = values.iter().map(|value| *value > 0.5).collect();
        let members: Vec<usize> = (0..chosen.len()).filter(|at| chosen[*at]).collect();
        if self.cover.keeps(&chosen) {
            if members.len() < self.under {
                self.under = members.len();
                self.best = Some(members);
            }
            return None;
        }
        (0..values.len()).find(|at| node.bounds(*at).0 < node.bounds(*at).1)
    }
}

#[cfg(test)]
mod tests {
    use rand::{RngExt, SeedableRng};
    use rand_pcg::Pcg64Mcg;

    use super::*;

    fn by_counting(cover: &Cover) -> Option<usize> {
        let choices = 0..1_u32 << cover.count;
        let chosen = |bits: u32| (0..cover.count).map(|at| bits & (1 << at) != 0).collect::<Vec<bool>>();
        choices.filter(|bits| cover.keeps(&chosen(*bits))).map(|bits| bits.count_ones() as usize).min()
    }

    #[test]
    fn no_cover_is_smaller_than_the_least() {
        let mut rng = Pcg64Mcg::seed_from_u64(22);
        for _ in 0..300 {
            let count = rng.random_range(1..11);
            let mut some = |most: usize| -> Vec<Vec<usize>> {
                let sets = rng.random_range(0..most);
                (0..sets)
                    .map(|_| {
                        let mut set: Vec<usize> = (0..count).filter(|_| rng.random_bool(0.3)).collect();
                        if set.is_empty() {
                            set.push(rng.random_range(0..count));
                        }
                        set
                    })
                    .collect()
            };
            let cover = Cover { count, meets: some(12), not_all: some(4) };
            let found = cover.least(count, &Stop::default());
            assert!(found.complete);
            assert_eq!(found.members.as_ref().map(Vec::len), by_counting(&cover), "{cover:?}");
            let chosen: Vec<bool> =
                (0..count).map(|at| found.members.as_ref().is_some_and(|all| all.contains(&at))).collect();
            assert!(found.members.is_none() || cover.keeps(&chosen));
        }
    }
}
