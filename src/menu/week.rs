//! What a week's use comes to in whole packs: stock on hand, what spoils, minimum orders.

use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive;

use super::{Bottle, Bottles};
use crate::batch::to_f64;
use crate::brief::Stock;

/// Days of the week that is bought for.
const WEEK: f64 = 7.0;
/// What is left of a pack within this share of it is rounding.
const DUST: f64 = 1e-9;

/// What is bought of one bottle.
#[derive(Debug, Clone, PartialEq)]
pub struct Bought {
    /// Which.
    pub bottle: usize,
    /// What the serves take, as its pack counts, ml or g.
    pub need: f64,
    /// What of it stands there already, as much as is used.
    pub from_stock: f64,
    /// Whole packs to buy; nothing without a price.
    pub packs: Option<u64>,
    /// Money for them.
    pub spend: Option<Decimal>,
    /// What is left at the end of the week and keeps.
    pub left: f64,
    /// What is left and spoils.
    pub spoiled: f64,
}

/// What stands there of a bottle, as its pack counts.
pub fn stock(bottle: &Bottle) -> f64 {
    match bottle.stored.stock {
        Stock::Packs(packs) => bottle.price.as_ref().map_or(0.0, |price| packs * price.pack.value),
        Stock::Amount(amount) if amount.unit == bottle.unit => amount.value,
        Stock::Amount(_) => 0.0,
    }
}

/// What of a bottle has to be bought for a week. What keeps `k` days is opened afresh every `k` days, the use spread
/// evenly over them, and what is left of the last pack each time spoils; unopened packs keep.
pub fn bought(bottles: &Bottles, at: usize, need: f64) -> Bought {
    let bottle = &bottles.all[at];
    let from_stock = need.min(stock(bottle));
    let missing = need - from_stock;
    let mut line = Bought { bottle: at, need, from_stock, packs: None, spend: None, left: 0.0, spoiled: 0.0 };
    let Some(price) = &bottle.price else { return line };
    let pack = price.pack.value;
    let times = bottle.stored.keeps_days.map_or(1.0, |days| (WEEK / days).ceil().max(1.0));
    let each = (missing / times / pack - DUST).ceil().max(0.0);
    let used = times * each;
    let least = f64::from(bottle.stored.least_order.unwrap_or(1));
    let packs = if missing > DUST * pack { used.max(least) } else { 0.0 };
    let over = (used.min(packs) * pack - missing).max(0.0);
    let keeps = bottle.stored.keeps_days.is_none_or(|days| days > WEEK);
    (line.left, line.spoiled) = if keeps { (over, 0.0) } else { (0.0, over) };
    line.left += (packs - used).max(0.0) * pack;
    line.packs = Some(packs as u64);
    line.spend = Decimal::from_f64(packs).and_then(|packs| packs.checked_mul(price.amount));
    line
}

/// What has to be bought for what every bottle is needed for, those that nothing needs left out.
pub fn bill(bottles: &Bottles, needs: &[f64]) -> Vec<Bought> {
    let needed = needs.iter().enumerate().filter(|(_, need)| **need > 0.0);
    needed.map(|(at, need)| bought(bottles, at, *need)).collect()
}

/// The money of a bill, without what has no price.
pub fn spend(bill: &[Bought]) -> Decimal {
    bill.iter().filter_map(|line| line.spend).sum()
}

/// The same as a number, for comparing.
pub fn money(bill: &[Bought]) -> f64 {
    to_f64(spend(bill))
}
