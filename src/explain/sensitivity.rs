//! What the answer hangs on: what every limit costs at its place, and how far that holds.
//!
//! All of it is about the spec with free pours, whose score answers smoothly; what waits behind a limit
//! in pours that can be measured stands in [`super::steps`]. Concentration targets stand in the matrix
//! and not on its right side, so their slope is the multiplier times the served volume, and how far the
//! same ingredients and limits decide is found by solving again (Jansen, de Jong, Roos, Terlaky, EJOR
//! 101, 1997, for what is asked).

mod ends;
mod held;
mod question;

use super::demand::Demand;
use crate::brief::{Brief, Side};
use crate::solve::{Solved, Stop};
use question::Question;

/// What one limit does to the score with free pours. Scores are the aim's own, in its unit and
/// direction.
#[derive(Debug, Clone, PartialEq)]
pub struct Held {
    /// Whose limit it is.
    pub demand: Demand,
    /// From which side it bounds.
    pub side: Side,
    /// The limit.
    pub limit: f64,
    /// What the spec with free pours measures.
    pub value: f64,
    /// Whether the limit is reached.
    pub binding: bool,
    /// What the slopes count, computed from the aim and the limit: `GBP per % vol`.
    pub unit: String,
    /// Change of the score per unit that the limit is loosened, at the limit; `None`: no room.
    pub looser: Option<f64>,
    /// Change of the score per unit that the limit is tightened, at the limit; `None`: no room.
    pub tighter: Option<f64>,
    /// The limit's lowest value at which the same ingredients and limits decide; `None`: no end.
    pub from: Option<f64>,
    /// The limit's highest value at which the same ingredients and limits decide; `None`: no end.
    pub to: Option<f64>,
    /// The score at `from`, solved again.
    pub score_from: Option<f64>,
    /// The score at `to`, solved again.
    pub score_to: Option<f64>,
}

/// What an answer hangs on.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sensitivity {
    /// Every limit: targets first, then rules, in the order of the brief.
    pub limits: Vec<Held>,
}

/// What the answer to a brief hangs on; nothing where free pours have no optimum to speak of.
pub fn sensitivity(brief: &Brief, solved: &Solved, stop: &Stop) -> Option<Sensitivity> {
    let question = Question::of(brief, solved)?;
    let limits = held::limits(&question, stop)?;
    Some(Sensitivity { limits })
}
