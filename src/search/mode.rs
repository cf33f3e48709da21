//! What a search is made for, how long it may take, and the flag that ends it.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// What a search does at most where nobody says how long it may take, in figures gone over: about
/// a second of one core of 2026. It counts work and not time, so that the same brief
/// ends in the same answer everywhere.
const REASONABLE: u64 = 1_000_000_000;

/// What a search is made for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SearchMode {
    /// Everything that is wanted, equal scores in the contract's order.
    Ordered,
    /// The least score, whoever has it.
    Least,
    /// Any spec at all.
    Any,
}

/// How long a search may take.
#[derive(Debug, Clone, Copy)]
pub struct SearchLimits<'a> {
    /// Raised to end it.
    pub stop: &'a Stop,
    /// No more nodes than this are looked at.
    pub nodes: u64,
}

/// A flag that anybody may raise to end a search early: a clock, or a key press. Nothing below `cli`
/// reads a clock.
#[derive(Debug, Default)]
pub struct Stop {
    raised: Arc<AtomicBool>,
    effort: Option<u64>,
}

impl Stop {
    /// One that also ends a search for the answer after a reasonable effort, the same on every machine.
    pub fn within_reason() -> Self {
        Self::after(REASONABLE)
    }

    /// One that ends a search for the answer after so many figures have been gone over.
    pub fn after(effort: u64) -> Self {
        Self { effort: Some(effort), ..Self::default() }
    }

    /// The same flag for a search that may do no more than this.
    pub fn within(&self, effort: u64) -> Self {
        Self { raised: Arc::clone(&self.raised), effort: Some(self.effort().min(effort)) }
    }

    /// Asks whatever looks at this flag to end with the best found so far.
    pub fn raise(&self) {
        self.raised.store(true, Ordering::Relaxed);
    }

    /// Whether it has been raised.
    pub fn raised(&self) -> bool {
        self.raised.load(Ordering::Relaxed)
    }

    /// The most that a search for the answer may do.
    pub fn effort(&self) -> u64 {
        self.effort.unwrap_or(u64::MAX)
    }
}
