//! The lines of a batch: what stands in its lists and its tables.

use rust_decimal::Decimal;
use serde::ser::{Serialize, Serializer};

use crate::batch::{Place, to_f64};
use crate::quantity::{Amount, Unit};

/// An exact amount of money; JSON has the nearest number to it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Money(pub Decimal);

impl Serialize for Money {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_f64(to_f64(self.0))
    }
}

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

/// What a label or a menu says of it.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct LabelLine {
    /// % vol as served.
    pub strength: f64,
    /// UK, in one serve.
    pub units_of_alcohol: f64,
    /// In one serve.
    pub us_standard_drinks: f64,
    /// Energy.
    pub energy_per_100ml: EnergyLine,
    /// Groups of EU 1169/2011 Annex II.
    pub allergens: Vec<&'static str>,
    /// What has to be said.
    pub statements: Vec<String>,
    /// Major food allergens of the US.
    pub us_allergens: Vec<&'static str>,
    /// mg/L.
    pub caffeine: f64,
}

/// Energy in both units.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct EnergyLine {
    /// kJ.
    pub kj: f64,
    /// kcal.
    pub kcal: f64,
}

/// What stands in the vessel.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct MixLine {
    /// ml at 20 °C.
    pub volume: f64,
    /// What its liquids measure before they are mixed, ml.
    pub parts: f64,
    /// % vol.
    pub strength: f64,
    /// g.
    pub weight: f64,
    /// ml of it in one serve.
    pub per_serve: f64,
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

/// A house preparation.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct PreparationLine {
    /// Its name.
    pub name: String,
    /// How much has to be ready.
    pub amount: f64,
    /// `ml` or `g`.
    pub unit: Unit,
    /// What is lost in making, %.
    pub loss: f64,
    /// What goes in.
    pub parts: Vec<PartLine>,
}

/// One part of a preparation.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct PartLine {
    /// Its name.
    pub ingredient: String,
    /// In practical steps.
    pub amount: f64,
    /// `ml` or `g`.
    pub unit: Unit,
    /// g.
    pub weight: f64,
}

impl PartLine {
    /// How much of it.
    pub fn amount(&self) -> Amount {
        Amount { value: self.amount, unit: self.unit }
    }
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

/// The money.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct CostingLine {
    /// For what is used, without what has no price.
    pub used: Money,
    /// For the packs, without what has no price.
    pub spend: Money,
    /// For one serve, by use.
    pub per_serve: Money,
    /// What has no price.
    pub unpriced: Vec<String>,
    /// What the menu price makes of it.
    pub menu: Option<MenuLine>,
    /// The menu price that a pour cost needs.
    pub needed: Option<NeededLine>,
}

/// What the menu price leaves.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct MenuLine {
    /// Tax included.
    pub price: Money,
    /// Without tax.
    pub net: Money,
    /// Cost in % of the net price.
    pub pour_cost: f64,
    /// Net price less the cost, a serve.
    pub gross_profit: Money,
}

/// A menu price that is needed.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct NeededLine {
    /// The pour cost that it is for, %.
    pub pour_cost: f64,
    /// Without tax.
    pub net: Money,
    /// With tax.
    pub price: Money,
    /// The tax, %.
    pub tax: f64,
}

/// Bottles.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct BottlesLine {
    /// What one holds, ml.
    pub size: f64,
    /// How many have to stand ready.
    #[serde(serialize_with = "count")]
    pub needed: f64,
    /// How many are filled.
    #[serde(serialize_with = "count")]
    pub full: f64,
    /// What is in one more, ml.
    pub last: f64,
}

/// Writes a whole number without a decimal point.
#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands fields over by reference")]
pub(super) fn count<S: Serializer>(value: &f64, serializer: S) -> Result<S::Ok, S::Error> {
    // Every whole number up to here is a float of its own.
    let whole = value.fract() == 0.0 && (0.0..9e15).contains(value);
    if whole { serializer.serialize_u64(*value as u64) } else { serializer.serialize_f64(*value) }
}
