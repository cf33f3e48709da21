//! What a search is made for, and how long it may take.

use super::Stop;

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
