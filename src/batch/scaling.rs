//! From one serve to many: the size of a batch, its lines, and what stands in the vessel.

use rust_decimal::Decimal;

use super::exact::count;
use super::{LARGEST, Order, Size, Unbatchable, Water, steps, to_f64};
use crate::brief::{Brief, Pour};
use crate::liquid::{Dilution, Drink, Stage};
use crate::quantity::Unit;
use crate::solve::Spec;

/// Where an ingredient joins the drink.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// In the vessel, with the rest.
    Vessel,
    /// In the glass, serve by serve: it tops the drink up.
    Glass,
}

/// One ingredient of a batch.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Index of the candidate in the brief.
    pub candidate: usize,
    /// What its amounts count.
    pub unit: Unit,
    /// The spec's pour times the serves, ml or g.
    pub exact: f64,
    /// The amount in practical steps, ml or g.
    pub amount: Decimal,
    /// The step, ml or g.
    pub step: Decimal,
    /// What the amount weighs, g.
    pub weight: f64,
    /// Where it joins the drink.
    pub place: Place,
    /// Money by use; nothing where a price is missing.
    pub cost: Option<Decimal>,
}

impl Line {
    /// The line as a pour, scaled.
    pub fn pour(&self, scale: f64) -> Pour {
        Pour { candidate: self.candidate, amount: to_f64(self.amount) * scale }
    }
}

/// What stands in the vessel once everything but the gas is in.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Vessel {
    /// Volume at 20 °C, ml, with contraction.
    pub volume: f64,
    /// What the measured liquids come to before they are mixed, ml, added water included.
    pub parts: f64,
    /// % vol at 20 °C.
    pub strength: f64,
    /// Sugars, g/L.
    #[serde(skip)]
    pub sugar: f64,
    /// Titratable acid as citric, g/L.
    #[serde(skip)]
    pub acid: f64,
    /// g.
    pub weight: f64,
    /// ml of it in one serve.
    pub per_serve: f64,
}

/// Bottles that are filled.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Bottles {
    /// What one holds, ml.
    pub size: f64,
    /// How many have to stand ready.
    #[serde(serialize_with = "count")]
    pub needed: f64,
    /// How many are filled.
    #[serde(serialize_with = "count")]
    pub full: f64,
    /// What is left for one more, ml; zero where it comes out even.
    pub last: f64,
}

/// Less than this in a last bottle is nothing to bottle, ml. Common practice, no source.
const A_DROP: f64 = 0.5;

/// How many serves are mixed for the order, waste included.
pub fn mixed_serves(brief: &Brief, spec: &Spec, order: &Order) -> Result<f64, Unbatchable> {
    let still: Vec<Pour> =
        spec.pours.iter().copied().filter(|p| place(brief, p.candidate) == Place::Vessel).collect();
    if still.is_empty() {
        return Err(Unbatchable::NothingStill);
    }
    let melt = spec.served.drink.worked_melt();
    let each = mixed(brief, &still, added(melt, order.water)).volume;
    let serves = match order.size {
        Size::Serves(count) => count / (1.0 - order.waste),
        Size::Volume(ml) => ml / each,
    };
    // Ten litres by the serve are ten litres: one serve and a rounding error is one serve.
    let under = serves.is_nan() || serves < 1.0 - 1e-9;
    if under {
        return Err(Unbatchable::UnderOneServe(each));
    }
    let whole = serves * each.max(spec.served.drink.volume);
    if whole.is_finite() && whole <= LARGEST { Ok(serves) } else { Err(Unbatchable::TooLarge) }
}

/// Every pour of the spec, scaled to practical steps.
pub fn lines(brief: &Brief, spec: &Spec, serves: f64) -> Option<Vec<Line>> {
    spec.pours.iter().map(|pour| line(brief, *pour, serves)).collect()
}

fn line(brief: &Brief, pour: Pour, serves: f64) -> Option<Line> {
    let candidate = &brief.candidates[pour.candidate];
    let (unit, exact) = (candidate.unit(), pour.amount * serves);
    let practical = steps::nearest(exact, unit)?;
    Some(Line {
        candidate: pour.candidate,
        unit,
        exact,
        amount: practical.amount,
        step: practical.step,
        weight: to_f64(practical.amount) * candidate.portion.mass,
        place: place(brief, pour.candidate),
        cost: None,
    })
}

/// What tops the drink up joins in the glass; gas would go flat in the vessel, and burst it closed.
fn place(brief: &Brief, candidate: usize) -> Place {
    match brief.candidates[candidate].stage {
        Stage::Topped => Place::Glass,
        Stage::Made => Place::Vessel,
    }
}

/// Measures what stands in the vessel.
pub fn vessel(brief: &Brief, lines: &[Line], water: Decimal, from: Water, serves: f64) -> Vessel {
    let still = lines.iter().filter(|line| line.place == Place::Vessel);
    let pours: Vec<Pour> = still.clone().map(|line| line.pour(1.0)).collect();
    let water = added(to_f64(water), from);
    let drink = mixed(brief, &pours, water);
    Vessel {
        volume: drink.volume,
        parts: drink.poured + drink.melt,
        strength: drink.strength(),
        sugar: drink.per_volume(1000.0 * drink.sugars),
        acid: drink.per_volume(1000.0 * drink.masses.acid),
        weight: still.map(|line| line.weight).sum::<f64>() + water * crate::liquid::ethanol::WATER,
        per_serve: drink.volume / serves,
    }
}

fn added(water: f64, from: Water) -> f64 {
    match from {
        Water::FromIce => 0.0,
        Water::Added => water,
    }
}

/// Pours and so much water together, ml.
fn mixed(brief: &Brief, pours: &[Pour], water: f64) -> Drink {
    let portion = |p: &Pour| &brief.candidates[p.candidate].portion;
    let worked: f64 = pours.iter().map(|p| p.amount * portion(p).worked).sum();
    let share = if worked > 0.0 { water / worked } else { 0.0 };
    Drink::of(pours.iter().map(|p| (portion(p), p.amount)), Dilution::Share(share))
}

/// How many bottles the vessel fills.
pub fn bottles(volume: f64, size: f64) -> Bottles {
    let full = ((volume + A_DROP) / size).floor();
    let left = volume - full * size;
    let (needed, last) = if left > A_DROP { (full + 1.0, left) } else { (full, 0.0) };
    Bottles { size, needed, full, last }
}
