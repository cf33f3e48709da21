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

/// What a week's use of a bottle is counted by. What keeps `k` days is opened afresh every `k` days, the use spread evenly
/// over them, and what is left of the last pack each time spoils; unopened packs keep.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Terms {
    /// A pack, ml or g.
    pub pack: f64,
    /// Money for it.
    pub price: f64,
    /// What stands there, ml or g.
    pub stock: f64,
    /// How often in a week a fresh pack is opened.
    times: f64,
    /// Packs that have to be bought at least.
    least: f64,
}

impl Terms {
    /// Those of a bottle; nothing where it has no price.
    pub fn of(bottle: &Bottle) -> Option<Self> {
        let price = bottle.price.as_ref()?;
        Some(Self {
            pack: price.pack.value,
            price: to_f64(price.amount),
            stock: stock(bottle),
            times: bottle.stored.keeps_days.map_or(1.0, |days| (WEEK / days).ceil().max(1.0)),
            least: f64::from(bottle.stored.least_order.unwrap_or(1)),
        })
    }

    /// How many packs are opened each time for what a week takes.
    pub fn each(&self, need: f64) -> f64 {
        let missing = need - need.min(self.stock);
        let each = (missing / self.times / self.pack - DUST).ceil().max(0.0);
        if missing > DUST * self.pack { each } else { 0.0 }
    }

    /// The most that a week may take, were so many packs opened each time.
    pub fn full(&self, each: f64) -> f64 {
        self.stock + if each > 0.0 { self.times * self.pack * (each + DUST) } else { DUST * self.pack }
    }

    /// More than nothing, ml or g: less is rounding.
    pub fn dust(&self) -> f64 {
        2.0 * DUST * self.pack
    }

    /// Packs that are bought, where so many are opened each time.
    pub fn packs(&self, each: f64) -> f64 {
        if each > 0.0 { (self.times * each).max(self.least) } else { 0.0 }
    }

    /// How many are opened each time while still as few have to be bought as can be.
    pub fn first(&self) -> f64 {
        (self.least / self.times).floor().max(1.0)
    }
}

/// What of a bottle has to be bought for a week.
pub fn bought(bottles: &Bottles, at: usize, need: f64) -> Bought {
    let bottle = &bottles.all[at];
    let from_stock = need.min(stock(bottle));
    let missing = need - from_stock;
    let mut line = Bought { bottle: at, need, from_stock, packs: None, spend: None, left: 0.0, spoiled: 0.0 };
    let (Some(price), Some(terms)) = (&bottle.price, Terms::of(bottle)) else { return line };
    let each = terms.each(need);
    let (used, packs) = (terms.times * each, terms.packs(each));
    let over = (used.min(packs) * terms.pack - missing).max(0.0);
    let keeps = bottle.stored.keeps_days.is_none_or(|days| days > WEEK);
    (line.left, line.spoiled) = if keeps { (over, 0.0) } else { (0.0, over) };
    line.left += (packs - used).max(0.0) * terms.pack;
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
