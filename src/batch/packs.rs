//! What has to be bought: whole packs of the priced size, what is left over, and what both cost.

use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive;

use super::recipes::{Recipe, RecipePart};
use super::scaling::Line;
use crate::brief::Brief;
use crate::larder::WATER;
use crate::quantity::{Price, Unit};

/// Digits after the point to which a need is counted before packs are: a millionth of a ml or g.
const COUNTED: u32 = 6;

/// One thing to buy.
#[derive(Debug, Clone, PartialEq)]
pub struct Purchase {
    /// Its name.
    pub name: String,
    /// How much of it the batch and its preparations use up, what is lost on the way included.
    pub need: Decimal,
    /// What `need` counts: what the pack counts where there is a price.
    pub unit: Unit,
    /// The packs, where there is a price.
    pub packs: Option<Packs>,
    /// Money by use; nothing where there is no price.
    pub cost: Option<Decimal>,
}

/// Whole packs.
#[derive(Debug, Clone, PartialEq)]
pub struct Packs {
    /// How many.
    pub count: Decimal,
    /// What one holds, as the brief writes it.
    pub text: String,
    /// What one holds.
    pub size: Decimal,
    /// What is left of the last one.
    pub left_over: Decimal,
    /// Money for all of them.
    pub money: Decimal,
}

/// An ingredient or a raw part, as it is bought.
struct Bought<'a> {
    name: &'a str,
    /// ml or g that are measured out.
    amount: Decimal,
    unit: Unit,
    price: Option<&'a Price>,
    /// The share of what is bought that is measured out.
    yielded: f64,
    /// Grams per ml, for liquids that are sold by weight.
    density: f64,
}

/// What one line or one part of a recipe uses up, counted as its pack is.
struct Use<'a> {
    name: &'a str,
    need: Decimal,
    unit: Unit,
    price: Option<&'a Price>,
    cost: Option<Decimal>,
}

/// What has to be bought for the lines and then for the recipes, each thing once; what every line
/// costs by use is noted in it. `None` where the figures are beyond exact arithmetic.
pub fn purchases(brief: &Brief, lines: &mut [Line], recipes: &[Recipe]) -> Option<Vec<Purchase>> {
    let (mut direct, mut raw) = (Vec::new(), Vec::new());
    for line in lines {
        let recipe = recipes.iter().find(|r| r.candidate == line.candidate);
        let uses: Vec<Use> = match recipe {
            Some(recipe) => recipe.parts.iter().map(|p| used(brief, &of_part(p))).collect::<Option<_>>()?,
            None => vec![used(brief, &of_line(brief, line))?],
        };
        line.cost = match uses.iter().map(|u| u.cost).collect::<Option<Vec<_>>>() {
            Some(costs) => Some(total(costs)?),
            None => None,
        };
        if recipe.is_some() { &mut raw } else { &mut direct }.extend(uses);
    }
    direct.extend(raw);
    let mut list: Vec<Use> = Vec::new();
    for one in direct.into_iter().filter(|u| u.price.is_some() || u.cost.is_none()) {
        put(&mut list, one)?;
    }
    list.iter().map(purchase).collect()
}

/// The sum; `None` where it is beyond exact arithmetic.
pub fn total(values: impl IntoIterator<Item = Decimal>) -> Option<Decimal> {
    values.into_iter().try_fold(Decimal::ZERO, Decimal::checked_add)
}

fn of_line<'a>(brief: &'a Brief, line: &Line) -> Bought<'a> {
    let candidate = &brief.candidates[line.candidate];
    Bought {
        name: &candidate.name,
        amount: line.amount,
        unit: line.unit,
        price: candidate.price.as_ref(),
        yielded: candidate.yielded,
        density: candidate.portion.mass,
    }
}

fn of_part(part: &RecipePart) -> Bought<'_> {
    Bought {
        name: &part.ingredient,
        amount: part.amount,
        unit: part.unit,
        price: part.part.price.as_ref(),
        yielded: part.part.yielded,
        density: part.part.density,
    }
}

fn used<'a>(brief: &Brief, bought: &Bought<'a>) -> Option<Use<'a>> {
    let unit = bought.price.map_or(bought.unit, |p| p.pack.unit);
    let amount = match (bought.unit, unit) {
        (Unit::Ml, Unit::G) => bought.amount.checked_mul(Decimal::from_f64(bought.density)?)?,
        _ => bought.amount,
    };
    let need = amount.checked_div(Decimal::from_f64(bought.yielded)?)?;
    let cost = match bought.price {
        Some(price) => Some(by_use(price, need)?),
        None => is_free(brief, bought.name).then_some(Decimal::ZERO),
    };
    Some(Use { name: bought.name, need, unit, price: bought.price, cost })
}

/// Money for what is used of a pack.
fn by_use(price: &Price, need: Decimal) -> Option<Decimal> {
    price.amount.checked_mul(need)?.checked_div(Decimal::from_f64(price.pack.value)?)
}

/// Whether a thing costs nothing although it has no price: water from the tap.
fn is_free(brief: &Brief, name: &str) -> bool {
    match brief.find(name) {
        Some(at) => brief.candidates[at].cost_per_unit == Some(0.0),
        None => name == WATER,
    }
}

/// Adds a use to those of the same thing.
fn put<'a>(list: &mut Vec<Use<'a>>, one: Use<'a>) -> Option<()> {
    match list.iter_mut().find(|there| there.name == one.name) {
        Some(there) => {
            there.need = there.need.checked_add(one.need)?;
            there.cost = match (there.cost, one.cost) {
                (Some(a), Some(b)) => Some(a.checked_add(b)?),
                _ => None,
            };
        }
        None => list.push(one),
    }
    Some(())
}

fn purchase(one: &Use) -> Option<Purchase> {
    let packs = match one.price {
        Some(price) => Some(packs(price, one.need)?),
        None => None,
    };
    Some(Purchase { name: one.name.to_owned(), need: one.need, unit: one.unit, packs, cost: one.cost })
}

fn packs(price: &Price, need: Decimal) -> Option<Packs> {
    let size = Decimal::from_f64(price.pack.value)?;
    let count = need.round_dp(COUNTED).checked_div(size)?.ceil();
    Some(Packs {
        count,
        text: price.pack_text.clone(),
        size,
        left_over: count.checked_mul(size)?.checked_sub(need)?.max(Decimal::ZERO),
        money: count.checked_mul(price.amount)?,
    })
}
