//! From a brief to specs: free pours, the pourable search, and the check of every answer.

use std::sync::atomic::{AtomicBool, Ordering};

use crate::brief::{Brief, Pour, Served};

/// A flag that anybody may raise to end a search early: a clock, or a key press. Nothing below `cli`
/// reads a clock.
#[derive(Debug, Default)]
pub struct Stop(AtomicBool);

impl Stop {
    /// Asks whatever looks at this flag to end with the best found so far.
    pub fn raise(&self) {
        self.0.store(true, Ordering::Relaxed);
    }

    /// Whether it has been raised.
    pub fn raised(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}

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
    /// Everything was searched, and something was found.
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
}

/// Solves a brief.
pub fn solve(_brief: &Brief, _stop: &Stop) -> Solved {
    todo!()
}
