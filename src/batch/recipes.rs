//! House preparations of a batch: how much of each, and what goes into it.

use rust_decimal::Decimal;

use super::exact::nearest;
use super::scaling::Line;
use super::{steps, to_f64};
use crate::brief::{Brief, Origin, Part, Preparation};
use crate::quantity::{Amount, Unit};

/// A preparation that the house makes for the batch.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Recipe {
    /// Index of the candidate in the brief.
    #[serde(skip)]
    pub candidate: usize,
    /// Its name.
    pub name: String,
    /// How much of it has to be ready, ml or g: what the batch takes, over the share that reaches it.
    pub amount: f64,
    /// What that counts.
    pub unit: Unit,
    /// Share of the output that is lost in making, %; already made up for in the parts.
    pub loss: f64,
    /// What goes in, other preparations taken apart.
    pub parts: Vec<RecipePart>,
}

/// One part of a preparation.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct RecipePart {
    /// The raw part as the brief has it.
    #[serde(skip)]
    pub part: Part,
    /// Its name.
    pub ingredient: String,
    /// How much, in practical steps and never too little.
    #[serde(serialize_with = "nearest")]
    pub amount: Decimal,
    /// `ml` or `g`.
    pub unit: Unit,
    /// What it weighs, g.
    pub weight: f64,
}

impl RecipePart {
    /// How much of it.
    pub fn amount(&self) -> Amount {
        Amount { value: to_f64(self.amount), unit: self.unit }
    }
}

/// The recipes of the lines that the house makes itself; `None` where the figures are beyond exact
/// arithmetic.
pub fn of(brief: &Brief, lines: &[Line]) -> Option<Vec<Recipe>> {
    let made = lines.iter().filter_map(|line| Some((line, preparation(brief, line)?)));
    made.map(|(line, preparation)| recipe(brief, line, preparation)).collect()
}

/// How the house makes it. What has a price of its own is bought in.
fn preparation<'a>(brief: &'a Brief, line: &Line) -> Option<&'a Preparation> {
    let candidate = &brief.candidates[line.candidate];
    match &candidate.origin {
        Origin::Made(preparation) if candidate.price.is_none() => Some(preparation),
        _ => None,
    }
}

fn recipe(brief: &Brief, line: &Line, preparation: &Preparation) -> Option<Recipe> {
    let candidate = &brief.candidates[line.candidate];
    let amount = to_f64(line.amount) / candidate.yielded;
    let parts = preparation.parts.iter().map(|p| measured(p, amount)).collect::<Option<Vec<_>>>()?;
    Some(Recipe {
        candidate: line.candidate,
        name: candidate.name.clone(),
        amount,
        unit: line.unit,
        loss: preparation.loss,
        parts,
    })
}

fn measured(part: &Part, amount: f64) -> Option<RecipePart> {
    let (exact, unit) = (part.per_unit.value * amount, part.per_unit.unit);
    let amount = steps::sufficient(exact, unit)?.amount;
    let each = if unit == Unit::Ml { part.density } else { 1.0 };
    let (ingredient, weight) = (part.name.clone(), to_f64(amount) * each);
    Some(RecipePart { part: part.clone(), ingredient, amount, unit, weight })
}
