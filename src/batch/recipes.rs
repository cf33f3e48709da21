//! House preparations of a batch: how much of each, and what goes into it.

use rust_decimal::Decimal;

use super::scaling::Line;
use super::{steps, to_f64};
use crate::brief::{Brief, Origin, Part};
use crate::quantity::Unit;

/// A preparation that the house makes for the batch.
#[derive(Debug, Clone, PartialEq)]
pub struct Recipe {
    /// Index of the candidate in the brief.
    pub candidate: usize,
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
#[derive(Debug, Clone, PartialEq)]
pub struct RecipePart {
    /// The raw part as the brief has it.
    pub part: Part,
    /// How much, in practical steps and never too little, ml or g.
    pub amount: Decimal,
    /// What it weighs, g.
    pub weight: f64,
}

/// The recipes of the lines that the house makes itself. What has a price of its own is bought in.
pub fn of(brief: &Brief, lines: &[Line]) -> Option<Vec<Recipe>> {
    lines.iter().filter_map(|line| made(brief, line)).collect()
}

fn made(brief: &Brief, line: &Line) -> Option<Option<Recipe>> {
    let candidate = &brief.candidates[line.candidate];
    let Origin::Made(preparation) = &candidate.origin else { return None };
    if candidate.price.is_some() {
        return None;
    }
    let amount = to_f64(line.amount) / candidate.yielded;
    let parts: Option<Vec<RecipePart>> = preparation.parts.iter().map(|p| measured(p, amount)).collect();
    let recipe =
        |parts| Recipe { candidate: line.candidate, amount, unit: line.unit, loss: preparation.loss, parts };
    Some(parts.map(recipe))
}

fn measured(part: &Part, amount: f64) -> Option<RecipePart> {
    let exact = part.per_unit.value * amount;
    let amount = steps::sufficient(exact, part.per_unit.unit)?.amount;
    let each = if part.per_unit.unit == Unit::Ml { part.density } else { 1.0 };
    Some(RecipePart { part: part.clone(), amount, weight: to_f64(amount) * each })
}
