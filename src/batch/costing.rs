//! The money of a batch, in exact decimals: nothing is rounded before it is written.

use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive;

use super::exact::{Money, to_f64};
use super::packs::{Purchase, total};
use super::scaling::Line;
use crate::brief::{Brief, Menu};

/// What the batch costs, and what it leaves.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Costing {
    /// For what is used, without what has no price.
    pub used: Money,
    /// For the whole packs that have to be bought, without what has no price.
    pub spend: Money,
    /// For one serve, by use.
    pub per_serve: Money,
    /// What has no price.
    pub unpriced: Vec<String>,
    /// The share of every line, in the order of the lines.
    #[serde(skip)]
    pub shares: Vec<Share>,
    /// What the menu price makes of it; nothing without a menu, or where a price is missing.
    pub menu: Option<Margin>,
    /// The menu price that a pour cost needs; nothing where none was asked for, or a price is missing.
    pub needed: Option<Price>,
}

/// How much of the cost is one ingredient, %.
pub type Share = Option<Decimal>;

/// What a menu price leaves of one serve.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Margin {
    /// Menu price, tax included.
    pub price: Money,
    /// Menu price without the tax.
    pub net: Money,
    /// Cost in % of the net price.
    pub pour_cost: f64,
    /// Net price less the cost.
    pub gross_profit: Money,
}

/// A menu price that is needed.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Price {
    /// The pour cost that it is for, %.
    pub pour_cost: f64,
    /// Without tax.
    pub net: Money,
    /// With the tax of the brief's menu; as the net price where the brief names none.
    pub price: Money,
    /// The tax, %.
    pub tax: f64,
}

const HUNDRED: Decimal = Decimal::ONE_HUNDRED;

/// The costing of the lines; `None` where the figures are beyond exact arithmetic.
pub fn of(
    brief: &Brief,
    lines: &[Line],
    purchases: &[Purchase],
    serves: f64,
    pour_cost: Option<f64>,
) -> Option<Costing> {
    let used = total(lines.iter().filter_map(|line| line.cost))?;
    let bought = total(purchases.iter().filter_map(|p| p.packs.as_ref()).map(|p| p.money))?;
    let unpriced: Vec<String> =
        purchases.iter().filter(|p| p.packs.is_none()).map(|p| p.name.clone()).collect();
    let per_serve = used.checked_div(Decimal::from_f64(serves)?)?;
    let known = unpriced.is_empty();
    let menu = match brief.menu.filter(|menu| known && is_priced(*menu)) {
        Some(menu) => Some(margin(menu, per_serve)?),
        None => None,
    };
    let needed = match wanted(brief, pour_cost).filter(|_| known) {
        Some(percent) => Some(price(brief.menu, per_serve, percent)?),
        None => None,
    };
    Some(Costing {
        shares: shares(lines, used, known)?,
        used: Money(used),
        spend: Money(bought),
        per_serve: Money(per_serve),
        unpriced,
        menu,
        needed,
    })
}

/// The pour cost that was asked for, else the one that the brief allows.
fn wanted(brief: &Brief, asked: Option<f64>) -> Option<f64> {
    asked.or_else(|| brief.target(crate::brief::Measure::PourCost)?.max).filter(|percent| *percent > 0.0)
}

fn shares(lines: &[Line], used: Decimal, known: bool) -> Option<Vec<Share>> {
    let share = |line: &Line| match line.cost.filter(|_| known && !used.is_zero()) {
        Some(cost) => Some(Some(cost.checked_mul(HUNDRED)?.checked_div(used)?)),
        None => Some(None),
    };
    lines.iter().map(share).collect()
}

/// Whether the menu asks for anything: nothing has no pour cost.
fn is_priced(menu: Menu) -> bool {
    Decimal::from_f64(menu.price).is_none_or(|price| !price.is_zero())
}

fn margin(menu: Menu, cost: Decimal) -> Option<Margin> {
    let price = Decimal::from_f64(menu.price)?;
    let net =
        price.checked_div(Decimal::ONE.checked_add(Decimal::from_f64(menu.tax)?.checked_div(HUNDRED)?)?)?;
    let pour_cost = cost.checked_mul(HUNDRED)?.checked_div(net)?;
    let gross_profit = Money(net.checked_sub(cost)?);
    Some(Margin { price: Money(price), net: Money(net), pour_cost: to_f64(pour_cost), gross_profit })
}

fn price(menu: Option<Menu>, cost: Decimal, percent: f64) -> Option<Price> {
    let pour_cost = Decimal::from_f64(percent)?;
    let tax = Decimal::from_f64(menu.map_or(0.0, |m| m.tax))?;
    let net = cost.checked_mul(HUNDRED)?.checked_div(pour_cost)?;
    let gross = net.checked_add(net.checked_mul(tax)?.checked_div(HUNDRED)?)?;
    Some(Price { pour_cost: to_f64(pour_cost), net: Money(net), price: Money(gross), tax: to_f64(tax) })
}
