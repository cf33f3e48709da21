//! What to buy and to make for so many serves of each drink.

use super::Bottles;
use super::week::{self, Bought};
use crate::batch::{self, Batch, Order, Recipe, Size, Unbatchable, Water, to_f64};
use crate::brief::Brief;
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

/// An order.
#[derive(Debug, Clone, PartialEq)]
pub struct Ordered {
    /// Each drink's serves as a batch: rounded to what can be measured, and measured again.
    pub batches: Vec<(usize, Batch)>,
    /// What the house makes first, for all drinks together.
    pub preparations: Vec<Recipe>,
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
        made.recipes.iter().for_each(|recipe| put(&mut ordered.preparations, recipe));
        ordered.batches.push((one.drink, made));
    }
    ordered.bill = week::bill(bottles, &needs);
    Ok(ordered)
}

/// Adds a preparation to what is made of it already.
fn put(list: &mut Vec<Recipe>, one: &Recipe) {
    let Some(there) = list.iter_mut().find(|known| known.name == one.name) else {
        list.push(one.clone());
        return;
    };
    there.amount += one.amount;
    for part in &one.parts {
        match there.parts.iter_mut().find(|known| known.ingredient == part.ingredient) {
            Some(known) => {
                known.amount = known.amount.checked_add(part.amount).unwrap_or(known.amount);
                known.weight += part.weight;
            }
            None => there.parts.push(part.clone()),
        }
    }
}
