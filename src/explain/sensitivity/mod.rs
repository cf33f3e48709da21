//! What the answer hangs on: what every limit costs at its place, how far that holds, and what prices
//! would change.
//!
//! All of it is about the spec with free pours, whose score answers smoothly; what waits behind a limit
//! in pours that can be measured stands in [`super::steps`]. Concentration targets stand in the matrix
//! and not on its right side, so their slope is the multiplier times the served volume, and how far the
//! same ingredients and limits decide is found by solving again (Jansen, de Jong, Roos, Terlaky, EJOR
//! 101, 1997, for what is asked).

mod asked;
mod confirm;
mod ends;
mod held;
mod marks;
mod money;
mod near;
mod pourable;
mod prices;
mod question;
mod walk;

pub use pourable::Turn;

use std::fmt;
use std::panic::resume_unwind;
use std::thread;

use serde::Serializer;

use super::demand::Demand;
use super::steps::{Next, NextPourable};
use crate::brief::{Brief, Side};
use crate::solve::{Solved, Stop};
use question::Question;

/// What something counts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Counts {
    /// Nothing: a bare number, or a share.
    Bare,
    /// Millilitres.
    Millilitres,
    /// Anything else, by its unit.
    Unit(String),
}

impl Counts {
    /// Its unit; `1` where it has none.
    pub fn symbol(&self) -> &str {
        match self {
            Self::Bare => "1",
            Self::Millilitres => "ml",
            Self::Unit(unit) => unit,
        }
    }
}

/// What a slope counts: the aim, for each unit of a limit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rate {
    /// What the aim counts.
    pub aim: Counts,
    /// What the limit counts.
    pub limit: Counts,
}

impl fmt::Display for Rate {
    /// `GBP per % vol`
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        write!(f, "{} per {}", self.aim.symbol(), self.limit.symbol())
    }
}

/// What one limit does to the score with free pours, and the next pourable step behind it. Scores are the aim's own,
/// in its unit and direction.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Held {
    /// Whose limit it is.
    #[serde(skip)]
    pub demand: Demand,
    /// The target's key, or the rule in words.
    pub target: String,
    /// From which side it bounds.
    pub side: Side,
    /// The limit.
    pub limit: f64,
    /// What the spec with free pours measures.
    pub value: f64,
    /// Whether the limit is reached.
    pub binding: bool,
    /// What the slopes count.
    #[serde(serialize_with = "rate")]
    pub unit: Rate,
    /// Change of the score per unit that the limit is loosened, at the limit; `None`: no room.
    pub looser: Option<f64>,
    /// Change of the score per unit that the limit is tightened, at the limit; `None`: no room.
    pub tighter: Option<f64>,
    /// The limit's lowest value at which the same ingredients and limits decide; `None`: no end, or none that is
    /// certain.
    pub from: Option<f64>,
    /// The limit's highest value at which the same ingredients and limits decide; `None` likewise.
    pub to: Option<f64>,
    /// The score at `from`, solved again.
    pub score_from: Option<f64>,
    /// The score at `to`, solved again.
    pub score_to: Option<f64>,
    /// The nearest looser limit that makes a better pourable spec possible.
    pub next_pourable: Option<Step>,
    /// Whether that is proved: the limit is the nearest, the score the best there, and nothing means that nothing
    /// is there.
    pub next_proved: bool,
    /// `from`, `to` or both, where solving again did not confirm how far it goes.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub unsure: Vec<&'static str>,
}

/// The end of a range that lies on a side of a limit.
pub fn end_of(side: Side) -> &'static str {
    if side == Side::Min { "from" } else { "to" }
}

/// A looser limit, and the best pourable score behind it.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Step {
    /// The limit; nothing: only without it.
    pub limit: Option<f64>,
    /// The score.
    pub score: f64,
}

/// What the price of one ingredient does. Prices are for the pack as the brief prices it.
#[derive(Debug, Clone, PartialEq, Default, serde::Serialize)]
pub struct Priced {
    /// Which candidate.
    #[serde(skip)]
    pub candidate: usize,
    /// Its name.
    pub ingredient: String,
    /// Whether the spec with free pours uses it.
    pub used: bool,
    /// What a pack costs; `None` where it is not known.
    pub price: Option<f64>,
    /// The pack: as the brief writes it, or a litre (kilogram) of what is made in house.
    pub per: String,
    /// Used: from this price on the spec with free pours stays the same.
    pub from: Option<f64>,
    /// Used: up to this price the spec with free pours stays the same; `None`: without end.
    pub to: Option<f64>,
    /// Not used: the price under which it comes in; `None` if it never does.
    pub enters_below: Option<f64>,
    /// The same of the best pourable spec; `None` where the searches behind it did not come to their
    /// end.
    pub pourable: Option<Turn>,
}

/// What an answer hangs on.
#[derive(Debug, Clone, PartialEq, Default, serde::Serialize)]
pub struct Sensitivity {
    /// Every limit: targets first, then rules, in the order of the brief.
    #[serde(rename = "targets")]
    pub limits: Vec<Held>,
    /// Every candidate that may be used, in the order of the brief; on a long shelf those that are used and
    /// the nearest to it.
    #[serde(rename = "ingredients")]
    pub prices: Vec<Priced>,
    /// Of how many more nothing was asked.
    #[serde(rename = "not_asked")]
    pub unasked: usize,
}

impl Sensitivity {
    /// The same, with what waits behind its limits.
    pub fn before(mut self, next: &Next) -> Self {
        for held in &mut self.limits {
            let behind = |n: &&NextPourable| n.change.demand == held.demand && n.change.side == held.side;
            let step = |n: &NextPourable| Step { limit: n.change.needed, score: n.spec.score };
            held.next_pourable = next.found.iter().find(behind).map(step);
            held.next_proved = !next.open.contains(&held.demand);
        }
        self
    }
}

fn rate<S: Serializer>(rate: &Rate, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_str(rate)
}

/// What the answer to a brief hangs on; nothing where free pours have no optimum to speak of.
pub fn sensitivity(brief: &Brief, solved: &Solved, stop: &Stop) -> Option<Sensitivity> {
    beside(brief, solved, stop, || ()).0
}

/// The same, with something else done meanwhile: prices take as long as all the rest, and have a thread of
/// their own. Each counts its own effort, so that two cores change nothing but the time.
pub fn beside<R>(
    brief: &Brief,
    solved: &Solved,
    stop: &Stop,
    rest: impl FnOnce() -> R,
) -> (Option<Sensitivity>, R) {
    let Some(question) = Question::of(brief, solved) else { return (None, rest()) };
    let (limits, prices, rest) = thread::scope(|scope| {
        let prices = scope.spawn(|| prices::prices(&question, solved, stop));
        let (limits, rest) = (held::limits(&question, stop), rest());
        (limits, prices.join().unwrap_or_else(|fault| resume_unwind(fault)), rest)
    });
    let usable = brief.usable().count();
    let unasked = if prices.is_empty() { 0 } else { usable - usable.min(prices.len()) };
    (limits.map(|limits| Sensitivity { limits, prices, unasked }), rest)
}

/// What limits do alone.
pub fn limits(brief: &Brief, solved: &Solved, stop: &Stop) -> Option<Vec<Held>> {
    held::limits(&Question::of(brief, solved)?, stop)
}

/// What prices do alone.
pub fn prices(brief: &Brief, solved: &Solved, stop: &Stop) -> Option<Vec<Priced>> {
    Some(prices::prices(&Question::of(brief, solved)?, solved, stop))
}
