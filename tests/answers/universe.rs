//! Every pourable spec of a small brief together with which of its demands it keeps: from this alone
//! follows what conflicts, what would be enough, and what waits behind a limit. The physics is that of
//! `glass.rs`, and what a demand means is written from the contract.

use std::collections::BTreeSet;

use washline::brief::{Aim, Brief, Goal, Side};
use washline::explain::demand::Demand;

use crate::glass::{Contents, Glass, PROPERTIES, Sums, carried, contents, measure};
use crate::levels::amounts;

/// A limit counts as met within this share of its value (the contract).
const WITHIN: f64 = 1e-9;

fn at_least(value: f64, limit: f64) -> bool {
    value >= limit - WITHIN * limit.abs()
}

fn at_most(value: f64, limit: f64) -> bool {
    value <= limit + WITHIN * limit.abs()
}

fn within(side: Side, value: f64, limit: f64) -> bool {
    if side == Side::Min { at_least(value, limit) } else { at_most(value, limit) }
}

/// One pourable spec.
pub struct Poured<'a> {
    pub amounts: &'a [f64],
    pub glass: Glass,
    /// Which demands it keeps, a bit each.
    pub keeps: u64,
}

impl Poured<'_> {
    /// The aim's own value, for aims at a figure.
    pub fn score(&self, brief: &Brief) -> f64 {
        match brief.aim {
            Aim::Lowest(goal) | Aim::Highest(goal) => match goal {
                Goal::Measure(measure) => self.glass.value(brief, measure),
                Goal::Ingredient(at) => self.amounts[at],
            },
            Aim::Nearest(_) => f64::NAN,
            Aim::Notes => {
                let carries = |at: &usize, word: &String| brief.candidates[*at].notes.contains(word);
                let used: Vec<usize> = (0..self.amounts.len()).filter(|at| self.amounts[*at] > 0.0).collect();
                let covered = brief.notes.aimed.iter().filter(|word| used.iter().any(|at| carries(at, word)));
                covered.count() as f64
            }
        }
    }
}

/// A brief and those of its demands that may be given up.
pub struct Universe<'a> {
    pub brief: &'a Brief,
    pub demands: Vec<Demand>,
    levels: Vec<Vec<f64>>,
    held: Vec<f64>,
}

impl<'a> Universe<'a> {
    /// All demands but the largest pours, which keep the amounts enumerable.
    pub fn new(brief: &'a Brief) -> Self {
        let mut demands = Demand::all(brief);
        demands.retain(|d| !matches!(d, Demand::Largest(_)));
        let levels = (0..brief.candidates.len()).map(|at| levels(brief, at)).collect();
        let held = match &brief.reference {
            Some(reference) => {
                let glass = measure(brief, reference.pours.iter().map(|p| (p.candidate, p.amount)));
                brief.hold.iter().map(|h| glass.value(brief, h.measure)).collect()
            }
            None => vec![],
        };
        Self { brief, demands, levels, held }
    }

    pub fn combinations(&self) -> f64 {
        self.levels.iter().map(|l| l.len() as f64).product()
    }

    pub fn full(&self) -> u64 {
        (1 << self.demands.len()) - 1
    }

    /// Visits every spec that can be poured at all.
    pub fn walk(&self, mut visit: impl FnMut(&Poured)) {
        let ready: Vec<(Contents, [f64; PROPERTIES])> =
            self.brief.candidates.iter().map(|c| (contents(c), carried(c))).collect();
        let mut amounts = vec![0.0; self.levels.len()];
        self.down(0, Sums::default(), &ready, &mut amounts, &mut visit);
    }

    fn down(
        &self,
        at: usize,
        sums: Sums,
        ready: &[(Contents, [f64; PROPERTIES])],
        amounts: &mut Vec<f64>,
        visit: &mut impl FnMut(&Poured),
    ) {
        if at == self.levels.len() {
            if amounts.iter().any(|a| *a > 0.0) {
                let glass = Glass::fill(self.brief, sums);
                let keeps = self.keeps(amounts, &glass);
                visit(&Poured { amounts, glass, keeps });
            }
            return;
        }
        for &amount in &self.levels[at] {
            amounts[at] = amount;
            let (of, carried) = &ready[at];
            let next = if amount > 0.0 { sums.plus(amount, of, carried) } else { sums };
            self.down(at + 1, next, ready, amounts, visit);
        }
        amounts[at] = 0.0;
    }

    fn keeps(&self, amounts: &[f64], glass: &Glass) -> u64 {
        let bits = self.demands.iter().enumerate();
        bits.fold(0, |set, (at, d)| if self.keeps_one(*d, amounts, glass) { set | 1 << at } else { set })
    }

    fn keeps_one(&self, demand: Demand, amounts: &[f64], glass: &Glass) -> bool {
        let brief = self.brief;
        let used = |at: usize| amounts[at] > 0.0;
        let bound = |min: Option<f64>, max: Option<f64>, side| if side == Side::Min { min } else { max };
        match demand {
            Demand::Target(at, side) => {
                let target = &brief.targets[at];
                let limit = bound(target.min, target.max, side).expect("a side that is given");
                within(side, glass.value(brief, target.measure), limit)
            }
            Demand::Hold(at) => {
                let hold = brief.hold[at];
                let value = glass.value(brief, hold.measure);
                let middle = self.held[at];
                at_least(value, middle - hold.within) && at_most(value, middle + hold.within)
            }
            Demand::Glass => {
                let glass_of = brief.serve.glass.expect("a glass");
                at_most(glass.volume, glass_of.brim * (100.0 - glass_of.headroom) / 100.0)
            }
            Demand::Most => {
                (0..amounts.len()).filter(|a| used(*a)).count() <= brief.serve.most.expect("most")
            }
            Demand::Choose(at, side) => {
                let rule = &brief.choose[at];
                let count = rule.members.iter().filter(|m| used(**m)).count();
                match side {
                    Side::Min => count >= rule.min.expect("min"),
                    Side::Max => count <= rule.max.expect("max"),
                }
            }
            Demand::Proportion(at, side) => {
                let rule = &brief.proportions[at];
                let limit = bound(rule.min, rule.max, side).expect("a side that is given");
                within(side, amounts[rule.of], limit * amounts[rule.to])
            }
            Demand::Must(at) => used(at) && at_least(amounts[at], brief.candidates[at].least),
            Demand::Largest(_) => panic!("largest pours always hold here"),
        }
    }

    /// What a demand bounds, in its own figure; and whether less of it is looser.
    pub fn figure(&self, demand: Demand, poured: &Poured) -> (f64, Side) {
        let brief = self.brief;
        match demand {
            Demand::Target(at, side) => (poured.glass.value(brief, brief.targets[at].measure), side),
            Demand::Hold(at) => {
                let value = poured.glass.value(brief, brief.hold[at].measure);
                ((value - self.held[at]).abs(), Side::Max)
            }
            Demand::Glass => (poured.glass.volume, Side::Max),
            Demand::Most => (poured.amounts.iter().filter(|a| **a > 0.0).count() as f64, Side::Max),
            Demand::Choose(at, side) => {
                let members = &brief.choose[at].members;
                (members.iter().filter(|m| poured.amounts[**m] > 0.0).count() as f64, side)
            }
            Demand::Proportion(at, side) => {
                let rule = &brief.proportions[at];
                (poured.amounts[rule.of] / poured.amounts[rule.to], side)
            }
            Demand::Must(at) => (poured.amounts[at], Side::Min),
            Demand::Largest(_) => panic!("largest pours always hold here"),
        }
    }

    /// The sum of the relative misses of all targets.
    pub fn missed(&self, poured: &Poured) -> f64 {
        let size = |asked: f64| if asked == 0.0 { 1.0 } else { asked.abs() };
        let miss = |(at, demand): (usize, &Demand)| {
            let (value, side) = match demand {
                Demand::Target(..) | Demand::Hold(_) => self.figure(*demand, poured),
                _ => return 0.0,
            };
            if poured.keeps & (1 << at) != 0 {
                return 0.0;
            }
            let (_, asked) = demand.asked(self.brief).expect("a figure");
            let by = if side == Side::Min { asked - value } else { value - asked };
            by / size(asked)
        };
        self.demands.iter().enumerate().map(miss).sum()
    }
}

/// The amounts in which a candidate can be poured, none included. What has to be used may be given up,
/// and its smallest pour with it.
fn levels(brief: &Brief, at: usize) -> Vec<f64> {
    let candidate = &brief.candidates[at];
    let mut all = vec![0.0];
    if candidate.out {
        return all;
    }
    let most = candidate.most.expect("a largest pour");
    let least = if candidate.must { candidate.step.least() } else { candidate.least };
    all.extend(amounts(&candidate.step, least, most));
    all
}

/// The largest of some sets.
pub fn largest(sets: &BTreeSet<u64>) -> Vec<u64> {
    sets.iter().copied().filter(|a| !sets.iter().any(|b| a != b && a & !b == 0)).collect()
}

/// All smallest sets that are part of none of the given ones, by trying every set.
pub fn irreducible(demands: usize, possible: &[u64]) -> Vec<u64> {
    let can = |set: u64| possible.iter().any(|p| set & !p == 0);
    let single = |set: u64| (0..demands).filter(move |at| set & (1 << at) != 0);
    (0..1_u64 << demands).filter(|set| !can(*set) && single(*set).all(|at| can(set & !(1 << at)))).collect()
}
