//! One shelf for all drinks.

use super::super::spec::{self, Change, SpecLine};
use crate::batch::{Money, to_f64};
use crate::brief::Brief;
use crate::menu::oracle::Oracle;
use crate::menu::shelf::{Shelf, Wish};
use crate::menu::week::{self, Bought};
use crate::menu::{Bottles, Set};
use crate::quantity::Unit;

/// A shelf.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct ShelfLine {
    /// At most so many bottles were asked for; nothing where the fewest were.
    pub asked: Option<usize>,
    /// How much worse than its own best a drink may be, %.
    pub within: f64,
    /// Whether the shelf has no more bottles than asked for.
    pub fits: bool,
    /// How many bottles it has.
    pub count: usize,
    /// Proved: no shelf makes all drinks with fewer than this.
    pub fewest: usize,
    /// Whether it is proved to be the best of its kind: the fewest, or the cheapest of so many.
    pub proved: bool,
    /// How many bottles the best specs of all drinks open when nobody shares.
    pub unshared: usize,
    /// Every bottle, those that most drinks hang on first.
    pub bottles: Vec<BottleLine>,
    /// The spec of each drink on it.
    pub drinks: Vec<ShelfDrink>,
    /// Drinks that cannot be made at all, whatever stands there.
    pub without: Vec<String>,
    /// What the week takes; nothing where serves or prices lack.
    pub week: Option<WeekLine>,
    /// Shelves that are as good, this one first, their bottles by name.
    pub as_good: Vec<Vec<String>>,
    /// Whether these are proved to be all.
    pub all: bool,
    /// The further bottle that saves most.
    pub next: Option<NextBottleLine>,
}

/// A bottle of a shelf.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct BottleLine {
    /// Its name.
    pub bottle: String,
    /// Drinks that pour it here.
    pub used_in: Vec<String>,
    /// Drinks that cannot be made on this shelf without it.
    pub hang_on_it: Vec<String>,
}

/// A drink on a shelf.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct ShelfDrink {
    /// What it is called.
    pub title: String,
    /// Its spec there.
    pub spec: SpecLine,
    /// What is poured differently from its own best.
    pub change: Vec<Change>,
    /// How much worse than its own best it scores, %; nothing where that best is zero.
    pub worse: Option<f64>,
}

/// What a week takes.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct WeekLine {
    /// What is bought of each bottle.
    pub lines: Vec<BoughtLine>,
    /// Money for all of it.
    pub spend: Money,
    /// Proved: no shelf of so many bottles takes less; nothing where that was not asked.
    pub bound: Option<f64>,
    /// How to write money.
    #[serde(skip)]
    pub currency: crate::quantity::Currency,
}

/// What is bought of one bottle.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct BoughtLine {
    /// Its name.
    pub bottle: String,
    /// What the serves take.
    pub need: f64,
    /// `ml` or `g`.
    pub unit: Unit,
    /// What of it stands there already.
    pub from_stock: f64,
    /// Whole packs; nothing without a price.
    pub packs: Option<u64>,
    /// One pack, as the house or the brief writes it.
    pub pack: Option<String>,
    /// Money for them.
    pub spend: Option<Money>,
    /// What is left and keeps.
    pub left: f64,
    /// What is left and spoils.
    pub spoiled: f64,
}

/// A further bottle.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct NextBottleLine {
    /// Its name.
    pub bottle: String,
    /// Money that a week's pours cost less with it, its own pack not counted.
    pub saves: f64,
    /// Drinks that it makes cheaper.
    pub drinks: Vec<String>,
}

/// What a week takes, in the words of the briefs.
pub fn week_line(bottles: &Bottles, bill: &[Bought], brief: &Brief, bound: Option<f64>) -> WeekLine {
    let line = |bought: &Bought| {
        let bottle = &bottles.all[bought.bottle];
        BoughtLine {
            bottle: bottle.name.clone(),
            need: bought.need,
            unit: bottle.unit,
            from_stock: bought.from_stock,
            packs: bought.packs,
            pack: bottle.price.as_ref().map(|price| price.pack_text.clone()),
            spend: bought.spend.map(Money),
            left: bought.left,
            spoiled: bought.spoiled,
        }
    };
    let mut lines: Vec<BoughtLine> = bill.iter().map(line).collect();
    let money = |line: &BoughtLine| line.spend.map_or(0.0, |money| to_f64(money.0));
    lines.sort_by(|a, b| money(b).total_cmp(&money(a)).then_with(|| a.bottle.cmp(&b.bottle)));
    WeekLine { lines, spend: Money(week::spend(bill)), bound, currency: brief.currency.clone() }
}

/// A shelf in the words of the briefs.
pub fn shelf_line(briefs: &[Brief], oracle: &Oracle, shelf: &Shelf, within: f64) -> ShelfLine {
    let title = |at: usize| briefs[at].title.clone();
    let asked = match shelf.wish {
        Wish::Fewest => None,
        Wish::AtMost(most) => Some(most),
    };
    let bound = shelf.least.as_ref().map(|least| least.bound);
    let used_in = |bottle: usize| {
        let uses = |(at, spec): &&(usize, crate::solve::Spec)| oracle.bottles.opened(*at, spec).has(bottle);
        shelf.specs.iter().filter(uses).map(|(at, _)| title(*at)).collect()
    };
    let bottles = shelf.worth.iter().map(|one| BottleLine {
        bottle: oracle.bottles.all[one.bottle].name.clone(),
        used_in: used_in(one.bottle),
        hang_on_it: one.drinks.iter().map(|at| title(*at)).collect(),
    });
    let drink = |(at, found): &(usize, crate::solve::Spec)| {
        let held = oracle.drinks.iter().find(|drink| drink.number == *at)?;
        let best = &held.best;
        let worse = 100.0 * (found.score - best.score).abs() / best.score.abs();
        Some(ShelfDrink {
            title: title(*at),
            spec: spec::line(&briefs[*at], found, None),
            change: spec::changes(&briefs[*at], &best.pours, &found.pours),
            worse: worse.is_finite().then_some(worse),
        })
    };
    let lacking = |at: &usize| !oracle.drinks.iter().any(|drink| drink.number == *at);
    // What is near to a best that is not proved is not proved near.
    let known = oracle.drinks.iter().all(|drink| drink.proved);
    let names = |set: &Set| oracle.bottles.names(set);
    ShelfLine {
        asked,
        within: 100.0 * within,
        fits: asked.is_none_or(|most| shelf.bottles.len() <= most),
        count: shelf.bottles.len(),
        fewest: shelf.fewest.bound,
        proved: known
            && shelf.least.as_ref().map_or(shelf.fewest.proved(), crate::menu::least::Least::proved),
        unshared: shelf.unshared,
        bottles: bottles.collect(),
        drinks: shelf.specs.iter().filter_map(drink).collect(),
        without: (0..briefs.len()).filter(lacking).map(title).collect(),
        week: shelf
            .bill
            .as_ref()
            .and_then(|bill| Some(week_line(oracle.bottles, bill, briefs.first()?, bound))),
        as_good: shelf.as_good.iter().map(names).collect(),
        all: shelf.all,
        next: shelf.next.as_ref().map(|next| NextBottleLine {
            bottle: oracle.bottles.all[next.bottle].name.clone(),
            saves: next.saves,
            drinks: next.drinks.iter().map(|(at, _)| title(*at)).collect(),
        }),
    }
}
