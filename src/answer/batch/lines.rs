//! The lines of a batch: what stands in its lists and its tables.

use crate::batch::{Money, Place};
use crate::quantity::{Amount, Unit};

/// One ingredient of a batch.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct BatchLine {
    /// The ingredient's name.
    pub ingredient: String,
    /// In practical steps, ml or g.
    pub amount: f64,
    /// `ml` or `g`.
    pub unit: Unit,
    /// Whole packs to buy of it, what preparations take of it included; nothing without a price, and
    /// for what the house makes.
    pub packs: Option<u64>,
    /// One pack, as the brief writes it.
    pub pack: Option<String>,
    /// What is left of the packs, in the unit of the pack.
    pub left_over: Option<f64>,
    /// Money by use.
    pub cost: Option<Money>,
    /// Its share of the cost, %.
    pub share: Option<f64>,
    /// The spec's pour times the serves.
    pub exact: f64,
    /// The step to which it is rounded.
    pub step: f64,
    /// g.
    pub weight: f64,
    /// `vessel`, or `glass` for what holds gas and is added by the serve.
    pub place: Place,
    /// Whether the house makes it.
    pub made: bool,
}

impl BatchLine {
    /// How much of it.
    pub fn amount(&self) -> Amount {
        Amount { value: self.amount, unit: self.unit }
    }
}

/// One figure before and after the rounding.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Moved {
    /// Its key.
    pub measure: String,
    /// In the spec.
    pub spec: f64,
    /// In one serve of the batch.
    pub batch: f64,
    /// The difference.
    pub by: f64,
}

/// One thing to buy.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct BuyLine {
    /// Its name.
    pub ingredient: String,
    /// How much is used up, what is lost on the way included.
    pub need: f64,
    /// `ml` or `g`, as the pack counts.
    pub unit: Unit,
    /// Whole packs; nothing without a price.
    pub packs: Option<u64>,
    /// One pack, as the brief writes it.
    pub pack: Option<String>,
    /// What is left of them.
    pub left_over: Option<f64>,
    /// Money for the packs.
    pub spend: Option<Money>,
    /// Money by use.
    pub cost: Option<Money>,
}
