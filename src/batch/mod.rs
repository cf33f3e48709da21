//! A spec as a batch that somebody else can make: how much of everything, what to buy, what it costs,
//! what a label has to say. Values in, values out.

mod costing;
mod exact;
mod keeping;
mod label;
mod packs;
mod recipes;
mod scaling;
pub mod statements;
pub mod steps;

pub use costing::{Costing, Margin, Price, Share};
pub(crate) use exact::count;
pub use exact::{Money, to_f64};
pub use label::{Energy, Label, UsAllergen, allergens};
pub use packs::{Packs, Purchase};
pub use recipes::{Recipe, RecipePart};
pub use scaling::{Bottles, Line, Place, Vessel};

use rust_decimal::Decimal;

use crate::brief::{Brief, Pour, PourError, Poured, Served, serve};
use crate::liquid::ice::Strained;
use crate::liquid::{Dilution, Drink, FRIDGE, Method, Stage};
use crate::quantity::Unit;
use crate::solve::Spec;

/// The largest batch, ml: a tanker. Beyond it somebody mistook a unit.
pub const LARGEST: f64 = 1e8;

/// What is asked of a batch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Order {
    /// How much.
    pub size: Size,
    /// What becomes of the water that the ice would bring.
    pub water: Water,
    /// What a bottle holds, ml, where it is bottled.
    pub bottle: Option<f64>,
    /// The pour cost, %, for which a menu price is wanted.
    pub pour_cost: Option<f64>,
    /// What of the mix reaches no glass (what stays in jugs and hoses, spills, a taste for the staff): a share, 0
    /// to under 1.
    pub waste: f64,
}

/// How much of it is made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Size {
    /// So many serves.
    Serves(f64),
    /// So many ml in the vessel: at served strength where the water is added, else before the ice.
    Volume(f64),
}

/// The water that the ice brings into the drink.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Water {
    /// It is still to come: the batch is shaken, stirred or built on ice serve by serve.
    FromIce,
    /// It is added to the batch, which is chilled and served as it is, from the bottle or the tap; over ice where
    /// the drink is served on ice.
    Added,
}

/// Why there is no such batch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Unbatchable {
    /// It is less than one serve, which takes this many ml of the vessel.
    UnderOneServe(f64),
    /// It is more than [`LARGEST`].
    TooLarge,
    /// Everything in it tops the drink up: there is nothing to mix ahead.
    NothingStill,
    /// Its figures are beyond exact arithmetic.
    Uncountable,
}

/// A batch, worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct Batch {
    /// How many serves it makes; a whole number where so many were asked for.
    pub serves: f64,
    /// How many serves are mixed for them: more, where waste is allowed for.
    pub mixed: f64,
    /// What goes in, in card order.
    pub lines: Vec<Line>,
    /// Water of the ice that does the work: how much is added, or is still to come, ml. What melts in the glass is
    /// always still to come.
    pub water: Decimal,
    /// Which of the two.
    pub from: Water,
    /// Water that melts in the glasses, over all serves that are mixed, ml.
    pub glass_water: f64,
    /// What stands in the vessel.
    pub vessel: Vessel,
    /// One serve of the rounded batch, ice and gas included.
    pub served: Served,
    /// The house preparations that it needs.
    pub recipes: Vec<Recipe>,
    /// What has to be bought, by name.
    pub purchases: Vec<Purchase>,
    /// The money.
    pub costing: Costing,
    /// The bottles that it fills.
    pub bottles: Option<Bottles>,
    /// What a label or a menu says of it.
    pub label: Label,
    /// What makes keeping it a risk.
    pub keeping: Vec<String>,
}

/// Works out a batch of a spec.
///
/// # Errors
/// When it is under one serve, absurdly large, or nothing in it can be mixed ahead.
pub fn batch(brief: &Brief, spec: &Spec, order: &Order) -> Result<Batch, Unbatchable> {
    let mixed = scaling::mixed_serves(brief, spec, order)?;
    worked_out(brief, spec, order, mixed).ok_or(Unbatchable::Uncountable)
}

fn worked_out(brief: &Brief, spec: &Spec, order: &Order, mixed: f64) -> Option<Batch> {
    let serves = match order.size {
        Size::Serves(count) => count,
        Size::Volume(_) => mixed * (1.0 - order.waste),
    };
    let mut lines = scaling::lines(brief, spec, mixed)?;
    let melt = spec.served.drink.worked_melt() * mixed;
    let water = if melt > 0.0 { steps::nearest(melt, Unit::Ml)?.amount } else { Decimal::ZERO };
    let recipes = recipes::of(brief, &lines)?;
    let purchases = packs::purchases(brief, &mut lines, &recipes)?;
    let costing = costing::of(brief, &lines, &purchases, serves, order.pour_cost)?;
    let vessel = scaling::vessel(brief, &lines, water, order.water, mixed);
    let served = one_serve(brief, &lines, water, order.water, mixed);
    let mut label = label::of(brief, spec, &served);
    label.statements = statements::of(brief, spec, &served, &label, &vessel);
    let keeping = keeping::risks(brief, &lines, &vessel, order.water);
    let bottles = order.bottle.map(|size| scaling::bottles(vessel.volume, size));
    Some(Batch {
        serves,
        mixed,
        lines,
        water,
        from: order.water,
        glass_water: served.drink.glass_melt * mixed,
        vessel,
        served,
        recipes,
        purchases,
        costing,
        bottles,
        label,
        keeping,
    })
}

impl Batch {
    /// The spec of one serve of the rounded batch.
    pub fn pours(&self) -> Vec<Pour> {
        self.lines.iter().map(|line| line.pour(1.0 / self.mixed)).collect()
    }

    /// The brief as a serve from the batch meets it: no hand pours its parts any more, and water that was added
    /// takes the place of the ice's. Nothing where something is still topped up by hand.
    pub fn served_from(&self, brief: &Brief) -> Option<Brief> {
        let by_hand = self.lines.iter().any(|line| line.place == Place::Glass);
        (!by_hand).then(|| {
            let mut dosed = match self.from {
                Water::FromIce => brief.clone(),
                Water::Added => with_water(brief, &self.pours(), to_f64(self.water) / self.mixed),
            };
            dosed.variation.pour_error = Some(Poured::Stated(PourError::default()));
            dosed.candidates.iter_mut().for_each(|candidate| candidate.spread.poured = None);
            dosed
        })
    }
}

/// One serve measured anew from the rounded amounts.
fn one_serve(brief: &Brief, lines: &[Line], water: Decimal, from: Water, mixed: f64) -> Served {
    let pours: Vec<_> = lines.iter().map(|line| line.pour(1.0 / mixed)).collect();
    match from {
        Water::FromIce => serve(brief, &pours),
        Water::Added => serve(&with_water(brief, &pours, to_f64(water) / mixed), &pours),
    }
}

/// The brief with so many ml of water in a serve, added in place of what the rule of the ice would bring. What is
/// served on ice is poured over it from the fridge; ice whose melt was given is what the water stands for.
fn with_water(brief: &Brief, pours: &[Pour], water: f64) -> Brief {
    let mut prebatched = brief.clone();
    // What tops it up is no part of the batch, whatever it meets in a drink that is built.
    for candidate in prebatched.candidates.iter_mut().filter(|c| c.stage == Stage::Topped) {
        candidate.label.stage = Stage::Topped;
        candidate.portion = candidate.portion.joining(Stage::Topped, candidate.label.temperature);
    }
    let mixed = || {
        let portions = pours.iter().map(|p| (&prebatched.candidates[p.candidate].portion, p.amount));
        portions.filter(|(portion, _)| portion.stage == Stage::Made)
    };
    let worked: f64 = mixed().map(|(portion, amount)| amount * portion.worked).sum();
    let dilution = Dilution::Share(if worked > 0.0 { water / worked } else { 0.0 });
    let strength = Drink::of(mixed(), dilution).masses.strength_by_mass();
    let serve = &mut prebatched.serve;
    (serve.dilution, serve.spread, serve.method) = (dilution, 0.0, Method::None);
    match serve.ice.as_mut().map(|ice| &mut ice.balance) {
        Some(Some(balance)) => balance.strained = Some(Strained::at(FRIDGE, strength)),
        Some(None) => {
            serve.ice = None;
            serve.glass.iter_mut().for_each(|glass| glass.ice = 0.0);
        }
        None => {}
    }
    prebatched
}

#[cfg(test)]
mod tests;
