//! A batch in the words of the brief.

mod lines;

use rust_decimal::prelude::ToPrimitive as _;

pub use lines::{BatchLine, BuyLine, Moved};

use super::spec::{self, Margin, SpecLine};
use super::{Asked, FORMAT, Frame};
use crate::batch::{Batch, Bottles, Costing, Label, Line, Money, Purchase, Recipe, Vessel, Water, to_f64};
use crate::brief::{Brief, Figures, Measure};
use crate::explain::cautions;
use crate::explain::variation::within_all;
use crate::quantity::Currency;
use crate::solve::{Ending, Spec};

/// A batch.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct BatchAnswer {
    /// Version of this object.
    pub format: u32,
    /// What the drink is called.
    pub title: String,
    /// How many serves; no whole number where a volume was asked for.
    #[serde(serialize_with = "crate::batch::count")]
    pub serves: f64,
    /// What stands in the vessel, ml: at served strength with its water added, else undiluted; without
    /// what holds gas.
    pub volume: f64,
    /// What goes in, in card order.
    pub lines: Vec<BatchLine>,
    /// Water in place of the ice, ml: added to the vessel, or still to come (`water_from`).
    pub water: f64,
    /// Money for what is used; nothing where a price is missing.
    pub cost: Option<Money>,
    /// What a label or a menu says of it.
    pub label: Label,
    /// ISO 4217.
    pub currency: String,
    /// Whether the spec is proved to be the best, or the best found before a limit.
    pub outcome: Ending,
    /// Which spec it is: 0 the best, then the alternatives.
    pub alternative: usize,
    /// How many serves are mixed: more than are served, where waste is allowed for.
    pub serves_mixed: f64,
    /// `added` or `ice`.
    pub water_from: Water,
    /// Water that melts of the ice in the glasses, over all that is mixed, ml: always still to come.
    pub water_in_glass: f64,
    /// What stands in the vessel.
    pub mix: Vessel,
    /// One serve as the brief's spec has it.
    pub spec: SpecLine,
    /// One serve of the rounded batch.
    pub served: Figures,
    /// How far the rounding moved the figures.
    pub moved: Vec<Moved>,
    /// Targets that the rounded batch misses.
    pub misses: Vec<Margin>,
    /// What the house has to make first.
    pub preparations: Vec<Recipe>,
    /// What has to be bought, each thing once, house preparations taken apart.
    pub buy: Vec<BuyLine>,
    /// The money.
    pub costing: Costing,
    /// The bottles that it fills.
    pub bottles: Option<Bottles>,
    /// The share of serves from it within all targets, 0 to 1: the hand's error vanishes in a batch, the fruit's
    /// does not. Nothing where something is topped up by hand.
    pub within_all: Option<f64>,
    /// What makes keeping it a risk.
    pub keeping: Vec<String>,
    /// What asks for care.
    pub cautions: Vec<String>,
    /// What was asked, where that is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub asked: Option<Asked>,
    /// What can hurt somebody.
    #[serde(skip)]
    pub care: Vec<String>,
    /// The rounded serve as a spec, for the method in words.
    #[serde(skip)]
    pub one: SpecLine,
    /// The question.
    #[serde(skip)]
    pub frame: Frame,
    /// How money is written.
    #[serde(skip)]
    pub money: Currency,
}

/// Puts a batch into words. `alternative` is 0 for the best spec.
pub fn batch_answer(
    brief: &Brief,
    spec: &Spec,
    alternative: usize,
    outcome: Ending,
    batch: &Batch,
) -> BatchAnswer {
    let one = rounded_serve(brief, spec, batch);
    let known = batch.costing.unpriced.is_empty();
    BatchAnswer {
        format: FORMAT,
        title: brief.title.clone(),
        serves: batch.serves,
        volume: batch.vessel.volume,
        lines: batch.lines.iter().enumerate().map(|(at, line)| batch_line(brief, batch, at, line)).collect(),
        water: to_f64(batch.water),
        cost: known.then_some(batch.costing.used),
        label: batch.label.clone(),
        currency: brief.currency.code().to_owned(),
        outcome,
        alternative,
        serves_mixed: batch.mixed,
        water_from: batch.from,
        water_in_glass: batch.glass_water,
        mix: batch.vessel,
        spec: spec::line(brief, spec, None).in_service(Some(within_all(brief, &spec.pours))),
        served: one.served.clone(),
        moved: moved(brief, spec, batch),
        misses: one.margins.iter().filter(|m| !m.met && !m.margin.is_nan()).cloned().collect(),
        preparations: batch.recipes.clone(),
        buy: batch.purchases.iter().map(buy).collect(),
        costing: batch.costing.clone(),
        bottles: batch.bottles,
        within_all: batch.served_from(brief).map(|dosed| within_all(&dosed, &batch.pours()).found),
        keeping: batch.keeping.clone(),
        cautions: cautions::of_batch(brief, spec),
        asked: None,
        care: cautions::hazards(brief, spec),
        one,
        frame: Frame::of(brief),
        money: brief.currency.clone(),
    }
}

/// One serve of the batch as a spec of its own.
fn rounded_serve(brief: &Brief, spec: &Spec, batch: &Batch) -> SpecLine {
    spec::line(brief, &Spec { pours: batch.pours(), served: batch.served.clone(), score: spec.score }, None)
}

fn batch_line(brief: &Brief, batch: &Batch, at: usize, line: &Line) -> BatchLine {
    let name = &brief.candidates[line.candidate].name;
    let made = batch.recipes.iter().any(|r| r.candidate == line.candidate);
    let packs = batch.purchases.iter().find(|p| !made && p.name == *name).and_then(|p| p.packs.as_ref());
    BatchLine {
        ingredient: name.clone(),
        amount: to_f64(line.amount),
        unit: line.unit,
        packs: packs.and_then(|p| p.count.to_u64()),
        pack: packs.map(|p| p.text.clone()),
        left_over: packs.map(|p| to_f64(p.left_over)),
        cost: line.cost.map(Money),
        share: batch.costing.shares.get(at).copied().flatten().map(to_f64),
        exact: line.exact,
        step: to_f64(line.step),
        weight: line.weight,
        place: line.place,
        made,
    }
}

/// What people know a drink by, and whatever else is limited.
fn moved(brief: &Brief, spec: &Spec, batch: &Batch) -> Vec<Moved> {
    let known = [Measure::Volume, Measure::Strength, Measure::Sugar, Measure::Acid];
    brief
        .measures()
        .filter(|m| known.contains(m) || brief.target(*m).is_some())
        .map(|m| {
            let (before, after) = (spec.served.value(m), batch.served.value(m));
            Moved {
                measure: brief.measure_name(m).to_owned(),
                spec: before,
                batch: after,
                by: after - before,
            }
        })
        .collect()
}

fn buy(purchase: &Purchase) -> BuyLine {
    let packs = purchase.packs.as_ref();
    BuyLine {
        ingredient: purchase.name.clone(),
        need: to_f64(purchase.need),
        unit: purchase.unit,
        packs: packs.and_then(|p| p.count.to_u64()),
        pack: packs.map(|p| p.text.clone()),
        left_over: packs.map(|p| to_f64(p.left_over)),
        spend: packs.map(|p| Money(p.money)),
        cost: purchase.cost.map(Money),
    }
}
