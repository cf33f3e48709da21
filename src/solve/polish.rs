//! The best free amounts of a decided set: where an ingredient may be poured in any amount, the
//! relaxation's point is only near the optimum, and repeated expansion at the point finds it.

use super::free;
use super::incumbents::Entry;
use super::judge::Judge;

/// The best entry with this set: whole amounts as they are, free ones re-solved.
pub fn best(judge: &Judge, set: &[usize], units: &[f64]) -> Option<Entry> {
    let free = free::polished(judge, set, units)?;
    let units: Vec<f64> = set.iter().map(|c| free.units[*c]).collect();
    judge.entry(set.to_vec(), units)
}
