//! At which price of an ingredient another spec becomes the best that can be poured.
//!
//! Every pourable spec's cost is a straight line in the price of one ingredient, and the best is the
//! lowest of them: from a price where another line is lowest one goes back to where it crosses the
//! present best's, until no line is lower there (Newton's way on a concave function, exact after a few
//! searches). Where cost is not the aim, a spec stays the best as long as it can be paid, and another
//! comes before it as soon as that can be paid: the line to cross is then what may be paid.

use super::money::{Money, Pack, Purse};
use crate::brief::{Brief, Goal, Measure, Side, Step, poured, serve};
use crate::explain::oracle::Effort;
use crate::model::{Model, Objective, Sense};
use crate::solve::{Ending, SearchMode, Solved, Spec, Stop, measured};
use crate::tolerance::BETTER;

/// How many nodes one search may look at, and all together, at thirty candidates.
const EACH: u64 = 1_200;
const ALL: u64 = 8_000;
/// How many nodes a search looks at for something cheaper still, once it has found something.
const ENOUGH: u64 = 250;
/// How often a crossing is looked for anew.
const ROUNDS: usize = 12;
/// A price is beyond the last one by at least this share of it.
const BEYOND: f64 = 1e-9;

/// The prices of an ingredient at which the best pourable spec changes.
#[derive(Debug, Clone, Copy, PartialEq, Default, serde::Serialize)]
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
    purses: &'a [Purse],
    money: Money,
    /// The most that may be paid.
    most: f64,
    /// Only specs with a better score than this come before the best, where cost is not the aim.
    better: Option<(Objective, f64)>,
    /// Specs that keep every limit but those on money, and come before the best once they are cheap.
    known: Vec<Spec>,
    effort: Effort<'a>,
}

/// Which specs a price moves towards the best: those with more of the ingredient as it falls, those with
/// less as it rises.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Amounts {
    More,
    Less,
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
        let (better, known) = match money {
            Money::Aim(_) => (None, others.to_vec()),
            Money::Limits => (best.map(|best| better(brief, best)), vec![]),
        };
        let paid = purses.iter().filter(|purse| purse.side == Side::Max).map(|purse| purse.money);
        let most = paid.fold(f64::INFINITY, f64::min);
        let effort = Effort::wide(stop, brief.candidates.len(), EACH, ALL);
        Self { brief, best, purses, money, most, better, known, effort }
    }

    /// What the price of a candidate changes; `None` where that is not proved.
    pub fn of(&mut self, candidate: usize, pack: &Pack) -> Option<Turn> {
        let best = self.best?;
        let own = poured(&best.pours, candidate);
        let used = own > 0.0;
        if self.money == Money::Limits && self.purses.is_empty() {
            return Some(Turn { used, from: used.then_some(0.0), ..Turn::default() });
        }
        // Nobody asks for the highest cost, nor that a drink costs enough; and an amount without steps
        // follows every price.
        let dear = matches!(self.money, Money::Aim(times) if times < 0.0);
        let enough = self.purses.iter().any(|purse| purse.side == Side::Min);
        if dear || enough || self.brief.candidates[candidate].step == Step::Free {
            return None;
        }
        let mut line = Line { turns: self, best, candidate, own, pack };
        let turn = if used {
            line.cheaper()
                .and_then(|from| Ok(Turn { used, from: Some(from), to: line.dearer()?, ..Turn::default() }))
        } else {
            line.cheaper()
                .map(|price| Turn { enters_below: (price > 0.0).then_some(price), ..Turn::default() })
        };
        turn.ok()
    }
}

/// What comes before the best by the brief's own aim.
fn better(brief: &Brief, best: &Spec) -> (Objective, f64) {
    let objective = Objective::of(&Model::new(brief));
    let score = objective.score_of(best.score);
    (objective, score - BETTER * score.abs() - BETTER)
}

/// One ingredient's price and what it makes of specs.
struct Line<'t, 'a> {
    turns: &'t mut Turns<'a>,
    best: &'t Spec,
    candidate: usize,
    /// How much of it the best has.
    own: f64,
    pack: &'t Pack,
}

impl Line<'_, '_> {
    /// The price down to which the best stays the best (from where an unused ingredient comes in); zero
    /// if it does at every price.
    fn cheaper(&mut self) -> Result<f64, Spent> {
        let more = |spec: &&Spec| poured(&spec.pours, self.candidate) > self.line_of().1;
        let known = self.turns.known.iter().filter(more).filter_map(|spec| self.crossing(spec));
        let mut from = known.fold(0.0, f64::max).min(self.pack.price);
        for _ in 0..ROUNDS {
            let Some(spec) = self.cheapest_at(from, Amounts::More)? else { return Ok(from) };
            let price = self.crossing(&spec).map(|price| price.min(self.pack.price));
            self.turns.known.push(spec);
            match price.filter(|price| *price > from + BEYOND * self.pack.price) {
                Some(price) => from = price,
                None => return Ok(from),
            }
        }
        Err(Spent)
    }

    /// The price up to which the best stays the best.
    fn dearer(&mut self) -> Result<Option<f64>, Spent> {
        let paid = self.payable();
        if self.turns.money == Money::Limits {
            return Ok(paid.is_finite().then_some(paid));
        }
        let less = |spec: &&Spec| poured(&spec.pours, self.candidate) < self.own;
        let known = self.turns.known.iter().filter(less).filter_map(|spec| self.crossing(spec));
        // Beyond what may be paid for it nothing is the best any more; before, something else may be.
        let mut to = known.fold(paid, f64::min);
        if to.is_infinite() {
            let spec = self.cheapest(self.turns.brief, Amounts::Less, None)?;
            match spec.and_then(|spec| self.crossing(&spec)) {
                Some(price) => to = price,
                None => return Ok(None),
            }
        }
        for _ in 0..ROUNDS {
            let Some(spec) = self.cheapest_at(to, Amounts::Less)? else { return Ok(Some(to)) };
            let price = self.crossing(&spec);
            self.turns.known.push(spec);
            match price.filter(|price| *price < to * (1.0 - BEYOND)) {
                Some(price) => to = price.max(self.pack.price),
                None => return Ok(Some(to)),
            }
        }
        Err(Spent)
    }

    /// The line to be undercut: its height at the brief's price, and how much of the ingredient it has.
    fn line_of(&self) -> (f64, f64) {
        match self.turns.money {
            Money::Aim(_) => (self.best.served.cost, self.own),
            Money::Limits => (self.turns.most, 0.0),
        }
    }

    /// The price at which another spec costs as much as the best, or what may be paid.
    fn crossing(&self, other: &Spec) -> Option<f64> {
        let (cost, own) = self.line_of();
        let steeper = self.pack.share * (own - poured(&other.pours, self.candidate));
        let price = self.pack.price + (other.served.cost - cost) / steeper;
        (price.is_finite() && price >= 0.0).then_some(price)
    }

    /// The price up to which the best can be paid.
    fn payable(&self) -> f64 {
        let room = self.turns.most - self.best.served.cost;
        self.pack.price + room.max(0.0) / (self.pack.share * self.own)
    }

    /// What has to be undercut at a price of the pack.
    fn to_undercut(&self, price: f64) -> f64 {
        match self.turns.money {
            Money::Aim(_) => {
                let dearer = (price - self.pack.price) * self.pack.share * self.own;
                let cost = self.best.served.cost + dearer;
                cost - BETTER * cost.abs() - BETTER
            }
            Money::Limits => self.turns.most * (1.0 - BETTER),
        }
    }

    /// A cheap spec at a price of the pack that comes before the best there; its figures are those at the
    /// brief's prices. `None`: there is none.
    fn cheapest_at(&self, price: f64, amounts: Amounts) -> Result<Option<Spec>, Spent> {
        let most = self.to_undercut(price);
        if most < 0.0 {
            return Ok(None);
        }
        let mut moved = self.turns.brief.clone();
        moved.candidates[self.candidate].cost_per_unit = Some(price * self.pack.share);
        self.cheapest(&moved, amounts, Some(most))
    }

    fn cheapest(&self, brief: &Brief, amounts: Amounts, most: Option<f64>) -> Result<Option<Spec>, Spent> {
        let mut model = Model::new(brief);
        // What undercuts the best is paid wherever the best is.
        model.limits.retain(|limit| !matches!(limit.measure, Measure::Cost | Measure::PourCost));
        // Specs with as much of it as the best are as far behind it as they were.
        let own = self.line_of().1;
        for column in model.columns.iter_mut().filter(|c| c.candidate == self.candidate) {
            let own = (own / column.unit).round();
            match amounts {
                Amounts::More => {
                    (column.must, column.least) = (true, column.least.max(column.above(own + 1.0)));
                }
                Amounts::Less => column.most = column.most.min(column.below(own - 1.0)),
            }
        }
        model.objective_bounds.extend(self.turns.better.clone());
        let objective = Objective::goal(&model, Goal::Measure(Measure::Cost), Sense::Low);
        // Any cheaper spec takes the crossing further; the cheapest takes it furthest, but is not worth
        // a proof.
        let seek = |nodes| self.turns.effort.seek_within(nodes, &model, &objective, SearchMode::Least, most);
        let mut found = seek(ENOUGH);
        if found.entries.is_empty() && !found.complete {
            found = seek(EACH);
        }
        let Some(entry) = found.entries.first() else {
            return if found.complete { Ok(None) } else { Err(Spent) };
        };
        let pours = measured(&model, &objective, entry).pours;
        let served = serve(self.turns.brief, &pours);
        Ok(Some(Spec { pours, score: f64::NAN, served }))
    }
}
