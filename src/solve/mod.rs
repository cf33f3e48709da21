//! From a brief to specs: free pours, the pourable search, and the check of every answer.

mod capped;
mod good;
mod halves;
pub mod levels;
pub mod outer;
mod share;
mod steadiness;
mod verify;
pub mod within;

pub use crate::search::{SearchLimits, SearchMode, Stop, Wanted};
pub use good::Looked;
pub use verify::in_card_order;

use crate::brief::{Brief, HoldFor, Pour, Resolution, Served};
use crate::free;
use crate::model::{Model, Objective};
use crate::search::{Entry, Judge, same_score_margin};

/// What ordering specs of the same score takes at most, in figures gone over, where their order matters to nobody.
const TIES: u64 = 40_000_000;

/// What looking for the first spec to hand over takes at most: some ten milliseconds.
pub const FIRST: u64 = 12_000_000;

/// A spec: its pours in card order, what it measures, and its score (the aim's own value, in its unit).
#[derive(Debug, Clone, PartialEq)]
pub struct Spec {
    /// What is poured, in card order: by role, then most first, then by name.
    pub pours: Vec<Pour>,
    /// Measured from the pours alone.
    pub served: Served,
    /// The aim's value: what is lowest or highest, or the distance.
    pub score: f64,
}

/// How a search ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ending {
    /// Something was found, and it is proved that nothing is better. Whether the sets that come after it
    /// are proved as well is said by [`Solved::complete`].
    Found,
    /// Everything was searched: no pourable spec meets the brief.
    Conflict,
    /// Stopped at a limit, with the best so far, if any.
    Stopped,
}

/// The answer of the pourable search.
#[derive(Debug, Clone, PartialEq)]
pub struct Solved {
    /// How it ended.
    pub ending: Ending,
    /// The best spec, then the best of each next-best ingredient set.
    pub specs: Vec<Spec>,
    /// No pourable spec scores better than this; `None` where nothing can be said yet.
    pub bound: Option<f64>,
    /// Proved that no other ingredient set comes before those listed.
    pub complete: bool,
    /// The optimum with free pours; `None` where even free pours cannot meet the brief.
    pub unrounded: Option<Spec>,
    /// What was made of differences that do not matter.
    pub as_good: AsGood,
}

/// What a search made of differences that do not matter.
#[derive(Debug, Clone, PartialEq)]
pub struct AsGood {
    /// Differences of at most this do not matter, in the unit of the aim; 0 where all do.
    pub to: f64,
    /// The spec with the best score, where another comes first because it is steadier.
    pub optimum: Option<Spec>,
    /// Whether no spec at all scores better than the best score found.
    pub exact: bool,
    /// How many specs as good as the best were served to find the steadiest.
    pub looked: Looked,
}

impl Default for AsGood {
    fn default() -> Self {
        Self { to: 0.0, optimum: None, exact: true, looked: Looked::All(1) }
    }
}

impl Solved {
    /// The same with the specs in the order of their scores: what hangs on the best score is asked of the spec that
    /// has it. Where the best score is not known, nothing is proved of it.
    pub fn by_score(&self, brief: &Brief) -> Self {
        let mut solved = self.clone();
        solved.specs.extend(self.as_good.optimum.clone());
        let worse = |a: &Spec, b: &Spec| brief.aim.better(b.score, a.score);
        solved.specs.sort_by(|a, b| worse(a, b).cmp(&worse(b, a)));
        if solved.ending == Ending::Found && !self.as_good.exact {
            solved.ending = Ending::Stopped;
        }
        solved
    }
}

/// A spec that a search has found, measured anew from its pours.
pub fn measured(model: &Model, objective: &Objective, entry: &Entry) -> Spec {
    let judge = Judge { model, objective };
    verify::spec(&judge, judge.pours(&entry.set, &entry.units))
}

/// Solves a brief: the best pourable spec, the best of each next-best ingredient set, and the
/// free-pour optimum, every one of them measured anew from its pours.
pub fn solve(brief: &Brief, stop: &Stop) -> Solved {
    let model = Model::new(brief);
    let objective = Objective::of(&model);
    let (solved, known) = searched(&model, &objective, Order::AsGood, stop);
    let unrounded = free::optimum(&model, &objective, known.as_deref()).map(|free| {
        let (pours, _) = free::measure(&model, &free.units);
        verify::spec(&Judge { model: &model, objective: &objective }, pours)
    });
    Solved { unrounded, ..solved }
}

/// The same, handing over the spec with the best score first, as soon as it is known: within milliseconds, where
/// the whole answer takes a few dozen. A steadier one may come first in the answer.
pub fn solve_telling(brief: &Brief, stop: &Stop, told: impl FnOnce(&Spec)) -> Solved {
    let model = Model::new(brief);
    let objective = Objective::of(&model);
    if !matches!(brief.variation.hold, HoldFor::Share(_)) {
        let effort = stop.effort().min(FIRST);
        let found = within::search_within(&model, &objective, Wanted::best(1), stop, effort);
        if let Some(entry) = found.entries.first() {
            told(&measured(&model, &objective, entry));
        }
    }
    solve(brief, stop)
}

/// The same without the free-pour optimum, and by the score alone, where many briefs are asked for their pourable specs
/// and how their scores compare.
pub fn pourable(brief: &Brief, stop: &Stop) -> Solved {
    let model = Model::new(brief);
    searched(&model, &Objective::of(&model), Order::Score, stop).0
}

/// What the search finds, and the units of every column in the best of it.
fn searched(model: &Model, objective: &Objective, order: Order, stop: &Stop) -> (Solved, Option<Vec<f64>>) {
    let brief = model.brief;
    let within = brief.answer.within.map(|percent| percent / 100.0);
    let wanted = Wanted { within, ..Wanted::best(1 + brief.answer.alternatives) };
    let found = match (brief.variation.hold, brief.resolution) {
        (HoldFor::Share(share), _) => levels::in_share(model, objective, wanted, share, stop),
        (_, to) if order == Order::AsGood && to != Resolution::FINE => {
            return as_good(
                model,
                objective,
                &good::choose(model, objective, (wanted, to), (stop, stop.effort())),
            );
        }
        _ => within::search_within(model, objective, wanted, stop, effort(objective, order, stop)),
    };
    let judge = Judge { model, objective };
    let specs: Vec<Spec> =
        found.entries.iter().map(|e| verify::spec(&judge, judge.pours(&e.set, &e.units))).collect();
    let known = found.entries.first().map(|entry| units(model, entry));
    let best = found.entries.first().map_or(f64::INFINITY, |e| e.score);
    // Nothing unlisted reaches the best: it is proved, and only what comes after it is not.
    let proved = found.bound > best + same_score_margin(best);
    // Scores in steps tie by the dozen: where the order of the tied does not matter, none that is better is enough.
    let least = found.bound.max(objective.floor(model));
    let any = order == Order::Score || brief.resolution != Resolution::FINE;
    let tied = any && objective.step().is_some_and(|step| least > best - 0.5 * step);
    let proved = proved || tied;
    let ending = match (found.complete, specs.is_empty()) {
        (true, true) => Ending::Conflict,
        (complete, false) if complete || proved => Ending::Found,
        (..) => Ending::Stopped,
    };
    let bound = Some(best.min(found.bound.max(objective.floor(model))))
        .filter(|b| b.is_finite())
        .map(|b| objective.value(b));
    let as_good = AsGood::default();
    (Solved { ending, specs, bound, complete: found.complete, unrounded: None, as_good }, known)
}

/// What a search does at most: where the score alone counts and comes in steps, what orders the many that tie is worth no
/// more than a blink.
fn effort(objective: &Objective, order: Order, stop: &Stop) -> u64 {
    let blink = order == Order::Score && objective.step().is_some();
    if blink { stop.effort().min(TIES) } else { stop.effort() }
}

/// The units of every column in an entry.
fn units(model: &Model, entry: &Entry) -> Vec<f64> {
    let mut units = vec![0.0; model.columns.len()];
    entry.set.iter().zip(&entry.units).for_each(|(c, u)| units[*c] = *u);
    units
}

/// An answer among whose specs small differences do not matter.
fn as_good(model: &Model, objective: &Objective, chosen: &good::Chosen) -> (Solved, Option<Vec<f64>>) {
    let spec = |entry: &Entry| measured(model, objective, entry);
    let ending = match (chosen.complete, chosen.entries.is_empty()) {
        (true, true) => Ending::Conflict,
        (complete, false) if complete || chosen.proved => Ending::Found,
        (..) => Ending::Stopped,
    };
    let other = chosen.optimum.as_ref().filter(|optimum| {
        chosen.entries.first().is_none_or(|first| first.set != optimum.set || first.units != optimum.units)
    });
    let solved = Solved {
        ending,
        bound: Some(chosen.least).filter(|b| b.is_finite()).map(|b| objective.value(b)),
        complete: chosen.complete,
        unrounded: None,
        as_good: AsGood {
            to: chosen.to,
            optimum: other.map(spec),
            exact: chosen.exact,
            looked: chosen.looked,
        },
        specs: chosen.entries.iter().map(spec).collect(),
    };
    (solved, chosen.optimum.as_ref().map(|entry| units(model, entry)))
}

/// Which order specs are put in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Order {
    /// By what does not matter as the brief says.
    AsGood,
    /// By the score, whatever does not matter.
    Score,
}
