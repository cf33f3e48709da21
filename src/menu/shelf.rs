//! One shelf for all drinks: chosen, priced for a week, and what each of its bottles is worth.

use super::Set;
use super::fewest::{Cuts, Fewest, fewest, opened};
use super::least::{Least, least};
use super::oracle::Oracle;
use super::week::{self, Bought};
use super::worth::{Next, Worth, next, worth};
use crate::solve::Spec;

/// Which shelf is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wish {
    /// The fewest bottles.
    Fewest,
    /// At most so many, for the least money.
    AtMost(usize),
}

/// A shelf.
#[derive(Debug, Clone)]
pub struct Shelf {
    /// Which was wanted.
    pub wish: Wish,
    /// Its bottles.
    pub bottles: Set,
    /// The fewest that will do.
    pub fewest: Fewest,
    /// How many bottles the best specs of all drinks open.
    pub unshared: usize,
    /// The cheapest shelf of so many; `None` where the fewest were wanted, or so many are too few.
    pub least: Option<Least>,
    /// The spec of every drink on it, by the number of the drink in the menu.
    pub specs: Vec<(usize, Spec)>,
    /// What a week takes in whole packs; nothing where serves or prices lack.
    pub bill: Option<Vec<Bought>>,
    /// Shelves of the same size that are as good, this one first.
    pub as_good: Vec<Set>,
    /// Whether these are proved to be all.
    pub all: bool,
    /// What would go with each bottle.
    pub worth: Vec<Worth>,
    /// The further bottle that saves most.
    pub next: Option<Next>,
}

/// Chooses the shelf; `told` of each step. Money is counted where every bottle has a price.
pub fn shelf(oracle: &Oracle, wish: Wish, told: &dyn Fn()) -> Shelf {
    if matches!(wish, Wish::AtMost(_)) {
        oracle.list();
    }
    let (fewest, cuts) = fewest(oracle, told);
    match wish {
        Wish::AtMost(most) => at_most(oracle, (fewest, &cuts), most, told),
        Wish::Fewest => of_fewest(oracle, wish, fewest),
    }
}

fn at_most(oracle: &Oracle, (fewest, cuts): (Fewest, &Cuts), most: usize, told: &dyn Fn()) -> Shelf {
    let wish = Wish::AtMost(most);
    let mut known = fewest.shelves.clone();
    known.push(oracle.bottles.every());
    let Some(found) = least(oracle, cuts, &known, most, told) else { return of_fewest(oracle, wish, fewest) };
    let specs = oracle.drinks.iter().zip(&found.specs).map(|(drink, one)| (drink.number, one.clone()));
    Shelf {
        wish,
        bottles: found.shelf,
        unshared: opened(oracle).len(),
        specs: specs.collect(),
        bill: Some(found.bill.clone()),
        as_good: found.as_good.clone(),
        all: found.all,
        worth: worth(oracle, &found.shelf),
        next: next(oracle, &found.shelf),
        fewest,
        least: Some(found),
    }
}

/// The cheapest for a week of the shelves of fewest bottles, where that is known; else the first by its names.
fn of_fewest(oracle: &Oracle, wish: Wish, fewest: Fewest) -> Shelf {
    let mut all: Vec<(f64, Vec<String>, Set)> = fewest
        .shelves
        .iter()
        .map(|shelf| {
            let spend = bill(oracle, &specs(oracle, shelf)).map_or(0.0, |bill| week::money(&bill));
            (spend, oracle.bottles.names(shelf), *shelf)
        })
        .collect();
    all.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.1.cmp(&b.1)));
    let bottles = all.first().map_or_else(Set::default, |(.., shelf)| *shelf);
    let specs = specs(oracle, &bottles);
    Shelf {
        wish,
        bottles,
        unshared: opened(oracle).len(),
        least: None,
        bill: bill(oracle, &specs),
        specs,
        as_good: all.into_iter().map(|(.., shelf)| shelf).collect(),
        all: fewest.all,
        worth: worth(oracle, &bottles),
        next: next(oracle, &bottles),
        fewest,
    }
}

/// The best of every drink by its own aim.
fn specs(oracle: &Oracle, shelf: &Set) -> Vec<(usize, Spec)> {
    let all = oracle.of_each(|drink| Some((drink.number, drink.best_on(shelf, oracle.stop)?)));
    all.into_iter().flatten().collect()
}

/// What a week of these specs takes; nothing where a bottle has no price, or nobody said how many serves go out.
fn bill(oracle: &Oracle, specs: &[(usize, Spec)]) -> Option<Vec<Bought>> {
    let mut needs = vec![0.0; oracle.bottles.all.len()];
    for (at, spec) in specs {
        let drink = oracle.drinks.iter().find(|drink| drink.number == *at)?;
        oracle.bottles.add_needs(*at, spec, drink.brief.serves?, &mut needs);
    }
    let bill = week::bill(oracle.bottles, &needs);
    bill.iter().all(|line| line.spend.is_some()).then_some(bill)
}
