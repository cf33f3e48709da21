//! What to buy and to make for so many serves of each drink.

use rust_decimal::Decimal;

use super::Bottles;
use super::week::{self, Bought};
use crate::batch::{self, Batch, Order, Recipe, RecipePart, Size, Unbatchable, Water, to_f64};
use crate::brief::Brief;
use crate::quantity::Unit;
use crate::solve::Spec;

/// A drink, and so many serves of it.
#[derive(Debug, Clone, Copy)]
pub struct Wanted<'a> {
    /// Which of the menu's drinks.
    pub drink: usize,
    /// The question.
    pub brief: &'a Brief,
    /// Its spec.
    pub spec: &'a Spec,
    /// How many serves.
    pub serves: f64,
}

/// What the house makes for all of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Preparation {
    /// Its name.
    pub name: String,
    /// How much has to be ready, ml or g.
    pub amount: f64,
    /// What that counts.
    pub unit: Unit,
    /// What is lost in making, %; made up for in the parts.
    pub loss: f64,
    /// What goes in.
    pub parts: Vec<Part>,
}

/// One part of a preparation.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Its name.
    pub name: String,
    /// How much, in practical steps.
    pub amount: Decimal,
    /// What that counts.
    pub unit: Unit,
    /// What it weighs, g.
    pub weight: f64,
}

/// An order.
#[derive(Debug, Clone, PartialEq)]
pub struct Ordered {
    /// Each drink's serves as a batch: rounded to what can be measured, and measured again.
    pub batches: Vec<(usize, Batch)>,
    /// What to make first.
    pub preparations: Vec<Preparation>,
    /// What to buy.
    pub bill: Vec<Bought>,
}

/// Adds up what all drinks take.
///
/// # Errors
/// The drink of which no batch can be made, and why.
pub fn order(bottles: &Bottles, wanted: &[Wanted]) -> Result<Ordered, (usize, Unbatchable)> {
    let mut ordered = Ordered { batches: vec![], preparations: vec![], bill: vec![] };
    let mut needs = vec![0.0; bottles.all.len()];
    for one in wanted.iter().filter(|one| one.serves > 0.0) {
        let size = Size::Serves(one.serves);
        let asked = Order { size, water: Water::FromIce, bottle: None, pour_cost: None, waste: 0.0 };
        let made = batch::batch(one.brief, one.spec, &asked).map_err(|why| (one.drink, why))?;
        for purchase in &made.purchases {
            let at = bottles.all.iter().position(|bottle| bottle.name == purchase.name);
            if let Some(need) = at.and_then(|at| needs.get_mut(at)) {
                *need += to_f64(purchase.need);
            }
        }
        made.recipes.iter().for_each(|recipe| put(&mut ordered.preparations, of_recipe(one.brief, recipe)));
        ordered.batches.push((one.drink, made));
    }
    ordered.bill = week::bill(bottles, &needs);
    Ok(ordered)
}

fn of_recipe(brief: &Brief, recipe: &Recipe) -> Preparation {
    let part = |part: &RecipePart| Part {
        name: part.part.name.clone(),
        amount: part.amount,
        unit: part.part.per_unit.unit,
        weight: part.weight,
    };
    Preparation {
        name: brief.candidates[recipe.candidate].name.clone(),
        amount: recipe.amount,
        unit: recipe.unit,
        loss: recipe.loss,
        parts: recipe.parts.iter().map(part).collect(),
    }
}

/// Adds a preparation to what is made of it already.
fn put(list: &mut Vec<Preparation>, one: Preparation) {
    let Some(there) = list.iter_mut().find(|there| there.name == one.name) else {
        list.push(one);
        return;
    };
    there.amount += one.amount;
    for part in one.parts {
        match there.parts.iter_mut().find(|known| known.name == part.name) {
            Some(known) => {
                known.amount = known.amount.checked_add(part.amount).unwrap_or(known.amount);
                known.weight += part.weight;
            }
            None => there.parts.push(part),
        }
    }
}
