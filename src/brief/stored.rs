//! What stands on the shelf, and how it is bought and kept.

use crate::quantity::Amount;

/// What a bar has of an ingredient, and how it is bought and kept.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Stored {
    /// What stands there.
    pub stock: Stock,
    /// Days that it keeps once it is opened or pressed; `None`: longer than a week.
    pub keeps_days: Option<f64>,
    /// The fewest packs that one order may have.
    pub least_order: Option<u32>,
}

/// What stands there of an ingredient.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stock {
    /// So many packs of its price.
    Packs(f64),
    /// So much.
    Amount(Amount),
}

impl Default for Stock {
    fn default() -> Self {
        Self::Packs(0.0)
    }
}
