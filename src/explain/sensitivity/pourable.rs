//! At which price of an ingredient another spec becomes the best that can be poured.
//!
//! Every pourable spec's cost is a straight line in the price of one ingredient, and the best is the
//! lowest of them: from a price where another line is lowest one goes back to where it crosses the
//! present best's, until no line is lower there (Newton's way on a concave function, exact after a few
//! searches). Where cost is not the aim, a spec stays the best as long as it can be paid, and another
//! comes before it as soon as that can be paid.

use super::prices::{Money, Pack, Purse};
use crate::brief::{Aim, Brief, Goal, Pour, Side, serve};
use crate::explain::oracle::Effort;
use crate::model::{Model, Objective, Sense};
use crate::solve::{Ending, Quest, Solved, Spec, Stop, measured};
use crate::tolerance::BETTER;

/// How many nodes one search may look at, and all together.
const EACH: u64 = 5_000;
const ALL: u64 = 60_000;
/// How often a crossing is looked for anew.
const ROUNDS: usize = 12;
/// A price is beyond the last one by at least this share of it.
const BEYOND: f64 = 1e-9;

/// The prices of an ingredient at which the best pourable spec changes.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Turn {
    /// Whether the best pourable spec uses it.
    pub used: bool,
    /// Used: it is the best from this price on.
    pub from: Option<f64>,
    /// Used: it is the best up to this price; `None`: without end.
    pub to: Option<f64>,
    /// Not used: under this price a better spec has it; `None`: at no price.
    pub enters_below: Option<f64>,
}

/// Answers for one brief.
pub struct Turns<'a> {
    brief: &'a Brief,
    best: Option<&'a Spec>,
    others: &'a [Spec],
    purses: &'a [Purse],
    money: Money,
    effort: Effort<'a>,
}

/// A search ran out of its effort.
struct Spent;

impl<'a> Turns<'a> {
    /// The best is that of an answer, where it is proved.
    pub fn new(
        brief: &'a Brief,
        solved: &'a Solved,
        purses: &'a [Purse],
        money: Money,
        stop: &'a Stop,
    ) -> Self {
        let best = solved.specs.first().filter(|_| solved.ending == Ending::Found);
        let others = solved.specs.get(1..).unwrap_or_default();
        Self { brief, best, others, purses, money, effort: Effort::new(stop, EACH, ALL) }
    }

    /// What the price of a candidate changes; `None` where that is not proved.
    pub fn of(&mut self, candidate: usize, pack: &Pack) -> Option<Turn> {
        let best = self.best?;
        let own = amount(&best.pours, candidate);
        let used = own > 0.0;
        // With the highest cost as the aim, nobody asks.
        if matches!(self.money, Money::Aim(times) if times < 0.0) {
            return None;
        }
        if self.money == Money::Limits && self.purses.is_empty() {
            return Some(Turn { used, from: used.then_some(0.0), ..Turn::default() });
        }
        let line = Line { turns: self, best, candidate, own, pack };
        let turn = if used {
            line.dearer().and_then(|to| Ok(Turn { used, from: Some(line.cheaper()?), to, ..Turn::default() }))
        } else {
            line.cheaper().map(|price| Turn { enters_below: (price > 0.0).then_some(price), ..Turn::default() })
        };
        turn.ok()
    }
}

/// One ingredient's price and what it makes of specs.
struct Line<'t, 'a> {
    turns: &'t Turns<'a>,
    best: &'t Spec,
    candidate: usize,
    /// How much of it the best has.
    own: f64,
    pack: &'t Pack,
}

impl Line<'_, '_> {
    /// Money for a spec at a price of the pack.
    fn cost(&self, spec: &Spec, price: f64) -> f64 {
        spec.served.cost + (price - self.pack.price) * self.pack.share * amount(&spec.pours, self.candidate)
    }

    /// The price up to which the best stays the best.
    fn dearer(&self) -> Result<Option<f64>, Spent> {
        let paid = self.payable(Side::Max);
        if self.turns.money == Money::Limits {
            return Ok(paid);
        }
        let less = |spec: &&Spec| amount(&spec.pours, self.candidate) < self.own;
        let known = self.turns.others.iter().filter(less).filter_map(|spec| self.crossing(spec));
        let mut to = known.fold(f64::INFINITY, f64::min);
        if to.is_infinite() {
            let Some(price) = self.with_less()? else { return Ok(paid) };
            to = price;
        }
        for _ in 0..ROUNDS {
            let Some(spec) = self.better_at(to)? else { break };
            match self.crossing(&spec).filter(|price| *price < to * (1.0 - BEYOND)) {
                Some(price) => to = price,
                None => break,
            }
        }
        Ok(Some(paid.map_or(to, |paid| paid.min(to))))
    }

    /// The price down to which the best stays the best (from where an unused ingredient comes in); zero
    /// if it does at every price.
    fn cheaper(&self) -> Result<f64, Spent> {
        let mut from = 0.0;
        for _ in 0..ROUNDS {
            let Some(spec) = self.better_at(from)? else { break };
            let price = match self.turns.money {
                Money::Aim(_) => self.crossing(&spec),
                Money::Limits => self.payable_at(&spec),
            };
            let Some(price) = price.filter(|price| *price > from + BEYOND * self.pack.price) else { break };
            from = price.min(self.pack.price);
            if self.turns.money == Money::Limits {
                // At this price the spec is just paid: the next one is looked for over it.
                from = (from * (1.0 + 10.0 * BEYOND)).min(self.pack.price);
            }
        }
        Ok(self.payable(Side::Min).map_or(from, |paid| paid.max(from)))
    }

    /// The price at which another spec costs as much as the best.
    fn crossing(&self, other: &Spec) -> Option<f64> {
        let steeper = self.pack.share * (self.own - amount(&other.pours, self.candidate));
        let price = self.pack.price + (other.served.cost - self.best.served.cost) / steeper;
        (price.is_finite() && price >= 0.0).then_some(price)
    }

    /// The price at which the best is just within every limit on money from one side.
    fn payable(&self, side: Side) -> Option<f64> {
        let purses = self.turns.purses.iter().filter(|purse| purse.side == side && self.own > 0.0);
        let price = |purse: &Purse| {
            self.pack.price + (purse.money - self.best.served.cost) / (self.pack.share * self.own)
        };
        match side {
            Side::Max => purses.map(price).reduce(f64::min),
            Side::Min => purses.map(price).reduce(f64::max),
        }
    }

    /// The highest price at which a spec can still be paid.
    fn payable_at(&self, spec: &Spec) -> Option<f64> {
        let amount = amount(&spec.pours, self.candidate);
        let most =
            self.turns.purses.iter().filter(|p| p.side == Side::Max).map(|p| p.money).reduce(f64::min)?;
        (amount > 0.0)
            .then(|| self.pack.price + (most - spec.served.cost) / (self.pack.share * amount))
            .filter(|price| price.is_finite())
    }

    /// A spec with less of the ingredient: where it would cost as much as the best. `None`: there is none.
    fn with_less(&self) -> Result<Option<f64>, Spent> {
        let model = Model::new(self.turns.brief);
        let objective = Objective::goal(&model, Goal::Ingredient(self.candidate), Sense::Low);
        let found =
            self.turns.effort.seek(&model, &objective, Quest::Least, Some(self.own - BETTER * self.own));
        match found.entries.first() {
            Some(entry) => Ok(self.crossing(&measured(&model, &objective, entry))),
            None if found.complete => Ok(None),
            None => Err(Spent),
        }
    }

    /// A spec that is better than the best at a price of the pack; its figures are those at the brief's.
    fn better_at(&self, price: f64) -> Result<Option<Spec>, Spent> {
        let mut moved = self.turns.brief.clone();
        moved.candidates[self.candidate].cost_per_unit = Some(price * self.pack.share);
        let model = Model::new(&moved);
        let objective = Objective::of(&model);
        let score = match self.turns.money {
            Money::Aim(times) => times * self.cost(self.best, price),
            Money::Limits => objective.score_of(self.best.score),
        };
        let most = score - BETTER * score.abs() - BETTER;
        if most < 0.0 && never_negative(self.turns.brief) {
            return Ok(None);
        }
        let found = self.turns.effort.seek(&model, &objective, Quest::Any, Some(most));
        match found.entries.first() {
            Some(entry) => {
                let pours = measured(&model, &objective, entry).pours;
                let served = serve(self.turns.brief, &pours);
                Ok(Some(Spec { pours, score: f64::NAN, served }))
            }
            None if found.complete => Ok(None),
            None => Err(Spent),
        }
    }
}

fn never_negative(brief: &Brief) -> bool {
    !matches!(brief.aim, Aim::Highest(_))
}

fn amount(pours: &[Pour], candidate: usize) -> f64 {
    pours.iter().filter(|p| p.candidate == candidate).map(|p| p.amount).sum()
}
