//! What money is to a brief: its aim, limits on it, and what a pack of an ingredient costs.

use crate::brief::{Aim, Brief, Candidate, Goal, Limit, Measure, Side};
use crate::model::Model;
use crate::quantity::Unit;
use rust_decimal::prelude::ToPrimitive;

/// What money does to the score of a brief.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Money {
    /// The score is cost, times this.
    Aim(f64),
    /// Only limits speak of cost, if anything does.
    Limits,
}

/// A limit on money, in money per serve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Purse {
    /// Its place among the model's limits.
    pub place: usize,
    /// From which side.
    pub side: Side,
    /// Money per serve.
    pub money: f64,
    /// What a unit of money counts in its row.
    pub times: f64,
}

/// The price of a pack and what follows from it.
#[derive(Debug, Clone, PartialEq)]
pub struct Pack {
    /// What it costs.
    pub price: f64,
    /// The pack in words.
    pub per: String,
    /// Money per ml (g) in the glass per unit of the pack's price.
    pub share: f64,
}

/// The price as the brief states it, or of a litre (kilogram) of what is made in house.
pub fn pack(candidate: &Candidate) -> Option<Pack> {
    let cost = candidate.cost_per_unit?;
    let Some(price) = &candidate.price else {
        let per = if candidate.unit() == Unit::G { "1 kg" } else { "1 l" };
        return Some(Pack { price: 1000.0 * cost, per: per.to_owned(), share: 0.001 });
    };
    let amount = price.amount.to_f64()?;
    // Bought by weight, poured by volume: grams per ml.
    let by_weight = candidate.unit() == Unit::Ml && price.pack.unit == Unit::G;
    let density = if by_weight { candidate.portion.masses.total() } else { 1.0 };
    let share = if amount > 0.0 { cost / amount } else { density / price.pack.value / candidate.yielded };
    Some(Pack { price: amount, per: price.pack_text.clone(), share })
}

/// What money does to the score of a brief, by its aim.
pub fn money(brief: &Brief) -> Money {
    let per_net = brief.menu.map_or(f64::NAN, |menu| 100.0 / menu.net());
    match brief.aim {
        Aim::Lowest(Goal::Measure(Measure::Cost)) => Money::Aim(1.0),
        Aim::Highest(Goal::Measure(Measure::Cost)) => Money::Aim(-1.0),
        Aim::Lowest(Goal::Measure(Measure::PourCost)) => Money::Aim(per_net),
        Aim::Highest(Goal::Measure(Measure::PourCost)) => Money::Aim(-per_net),
        Aim::Nearest(_) | Aim::Lowest(_) | Aim::Highest(_) | Aim::Notes => Money::Limits,
    }
}

/// Every limit on money.
pub fn purses(model: &Model) -> Vec<Purse> {
    let net = model.brief.menu.map_or(f64::NAN, |menu| menu.net());
    let purse = |(place, limit): (usize, &Limit)| {
        let times = match limit.measure {
            Measure::Cost => 1.0,
            Measure::PourCost => 100.0 / net,
            _ => return None,
        };
        Some(Purse { place, side: limit.side, money: limit.value / times, times })
    };
    model.limits.iter().enumerate().filter_map(purse).collect()
}

/// Whether what a drink may cost is a range, which has a middle.
pub fn has_middle(purses: &[Purse]) -> bool {
    purses.iter().any(|low| {
        let other =
            |high: &Purse| high.side == Side::Max && high.times == low.times && high.money > low.money;
        low.side == Side::Min && purses.iter().any(other)
    })
}
