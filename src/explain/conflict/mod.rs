//! Why no spec meets a brief, and the cheapest ways out.

mod cores;
mod finer;
mod reach;
mod relax;
mod routes;

pub use finer::Steps;
pub use reach::{Clash, End, Reach};
pub use relax::Relaxed;
pub use routes::{Route, kept};

use super::demand::Demand;
use super::loosen::{Change, loosen};
use super::oracle::{Effort, Oracle, Verdict};
use crate::brief::Brief;
use crate::solve::Stop;

/// How many nodes one search may look at, and all together.
const EACH: u64 = 15_000;
const ALL: u64 = 150_000;

/// Why no spec meets a brief.
#[derive(Debug, Clone, PartialEq)]
pub struct Conflict {
    /// Irreducible sets of demands, the smallest first: none of them can be kept, and without any one
    /// of its members the rest can.
    pub cores: Vec<Vec<Demand>>,
    /// Whether the cores are proved to be all.
    pub complete: bool,
    /// What each target could be with the rules alone.
    pub reach: Vec<Reach>,
    /// How far a target of the first core is from what the rest of that core allows.
    pub clash: Option<Clash>,
    /// Changes of which any one alone makes a pourable spec possible.
    pub enough: Vec<Change>,
    /// The smallest total relative change, of any targets together or of one rule alone, that does and leaves
    /// the drink itself, and the best spec within it: the first of `routes`.
    pub relaxed: Option<Relaxed>,
    /// At most three ways out, each with its drink, the smallest change first.
    pub routes: Vec<Route>,
    /// Whether pour steps are all that is in the way.
    pub steps: Steps,
}

/// Explains a brief that no pourable spec meets.
pub fn conflict(brief: &Brief, stop: &Stop) -> Conflict {
    conflict_of(brief, Demand::all(brief), stop)
}

/// The same with only some of its demands named: the others always hold.
pub fn conflict_of(brief: &Brief, demands: Vec<Demand>, stop: &Stop) -> Conflict {
    let effort = Effort::new(stop, EACH, ALL).on(brief.candidates.len());
    let mut oracle = Oracle::new(brief, demands, &effort);
    let found = cores::cores(&mut oracle);
    let cores: Vec<Vec<Demand>> = found.cores.iter().map(|core| oracle.members(*core)).collect();
    let enough = enough(&mut oracle, |_| true);
    let reach = reach::reach(brief, &effort);
    let clash = cores.first().and_then(|core| reach::clash(brief, core, &effort));
    let steps = finer::steps(brief, &effort);
    let routes = routes::routes(&mut oracle, &found.cores, &enough);
    let relaxed = routes.first().map(|route| route.relaxed.clone());
    Conflict { cores, complete: found.complete, reach, clash, enough, relaxed, routes, steps }
}

/// A miss is looked for with so many nodes, and all of its searches together with these.
const MISS_EACH: u64 = 4_000;
const MISS_ALL: u64 = 12_000;

/// The smallest total change of the targets of a brief that no spec meets, without the reasons; `None` where its
/// rules stand in the way already, or none was found.
pub fn miss(brief: &Brief, stop: &Stop) -> Option<Relaxed> {
    let effort = Effort::new(stop, MISS_EACH, MISS_ALL).on(brief.candidates.len());
    let mut oracle = Oracle::new(brief, Demand::all(brief), &effort);
    relax::relaxed(&mut oracle, &[], &[], 0)
}

/// Every demand of some that alone stands in the way, with the smallest change of it.
fn enough(oracle: &mut Oracle, of: impl Fn(Demand) -> bool) -> Vec<Change> {
    let mut changes = vec![];
    for (at, demand) in oracle.demands.clone().into_iter().enumerate().filter(|(_, demand)| of(*demand)) {
        let rest = oracle.full() & !(1 << at);
        if oracle.can(rest) != Verdict::Can {
            continue;
        }
        if let Some(loosened) = loosen(oracle.model.brief, demand, None, oracle.effort) {
            changes.extend(loosened.changes);
            oracle.witness(loosened.spec, rest);
        }
    }
    changes
}
