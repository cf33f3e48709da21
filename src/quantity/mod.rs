//! Unit-safe numbers, how they are read and how they are written.
//!
//! [`Amount`] is what is poured or bought, [`Price`] what it costs, [`number`] the one writer of
//! figures that people see. Everything else in the crate that is a bare `f64` says its unit.

mod amount;
pub mod english;
mod money;
pub mod number;
pub mod numeral;

pub(crate) use amount::US_FLUID_OUNCE;
pub use amount::{Amount, Unit, UnitSystem};
pub use money::{Currency, Price, money};

/// Why a piece of text is no quantity or price; the words are fit for a finding.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{what}")]
pub struct NotAQuantity {
    /// What is wrong, as a clause without a full stop.
    pub what: String,
    /// What to write instead.
    pub help: String,
}

impl NotAQuantity {
    pub(crate) fn new(what: impl Into<String>, help: impl Into<String>) -> Self {
        Self { what: what.into(), help: help.into() }
    }
}
