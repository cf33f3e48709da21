//! The fewest bottles with which every drink keeps a spec that is good enough, proved.
//!
//! Whether a drink can be made only grows with the shelf. So for a shelf on which one cannot, grown until every further
//! bottle would do, at least one of the bottles that are still missing is on any shelf that will do: a cut. The least
//! shelf that meets all cuts is no larger than the least that will do, and where every drink can be made on it, it is
//! that; where one cannot, it gives another cut. (A least hitting set with the search as its oracle: Moreno-Centeno,
//! Karp, Operations Research 61, 2013; from memory.)

use super::Set;
use super::cover::Cover;
use super::oracle::{Drink, Oracle, Verdict};
use crate::solve::Stop;

/// So many shelves of the same size are looked for.
pub const SHELVES: usize = 30;
/// After so many rounds it is stopped with what is known.
const ROUNDS: usize = 400;

/// The fewest bottles.
#[derive(Debug, Clone, PartialEq)]
pub struct Fewest {
    /// Shelves of that many bottles, each as good as the others.
    pub shelves: Vec<Set>,
    /// No shelf has fewer.
    pub bound: usize,
    /// Whether the shelves are proved to be all.
    pub all: bool,
}

impl Fewest {
    /// Whether it is proved that no shelf has fewer.
    pub fn proved(&self) -> bool {
        self.shelves.first().is_some_and(|shelf| shelf.len() <= self.bound)
    }
}

/// Cuts that every shelf meets, and whether all that was said of a drink was proved.
#[derive(Debug, Clone, Default)]
pub struct Cuts {
    /// At least one of each.
    pub sets: Vec<Set>,
    /// Whether a drink was given up unproved: then the cuts prove nothing.
    pub doubted: bool,
}

/// The fewest bottles of a menu; `told` of each round.
pub fn fewest(oracle: &Oracle, told: &dyn Fn()) -> (Fewest, Cuts) {
    let count = oracle.bottles.all.len();
    let mut cuts = first_cuts(oracle);
    let mut best = reduced(oracle, &opened(oracle));
    let mut found = Fewest { shelves: vec![], bound: 0, all: false };
    let mut cover = Cover { count, ..Cover::default() };
    for _ in 0..ROUNDS {
        told();
        cover.meets = cuts.sets.iter().map(|set| set.iter().collect()).collect();
        let most = found.shelves.first().map_or(best.len(), Set::len);
        let least = cover.least(most, oracle.stop);
        if found.shelves.is_empty() && !cuts.doubted {
            found.bound = found.bound.max(least.bound.min(most));
        }
        let Some(members) = least.members.filter(|_| least.complete) else {
            found.all = least.complete && !cuts.doubted && !found.shelves.is_empty();
            break;
        };
        let shelf: Set = members.into_iter().collect();
        let further = cuts_of(oracle, &shelf);
        if further.sets.is_empty() && !further.doubted {
            cover.not_all.push(shelf.iter().collect());
            found.shelves.push(shelf);
            best = shelf;
            if found.shelves.len() >= SHELVES {
                break;
            }
        }
        if further.doubted || oracle.stop.raised() {
            cuts.doubted = true;
            break;
        }
        cuts.sets.extend(further.sets);
    }
    if found.shelves.is_empty() {
        found.shelves.push(best);
    }
    (found, cuts)
}

/// What the best specs of all drinks open when nobody chooses them together.
pub fn opened(oracle: &Oracle) -> Set {
    let opened = oracle.drinks.iter().map(|drink| oracle.bottles.opened(drink.number, &drink.best));
    opened.fold(Set::default(), |all, set| all.or(&set))
}

/// Cuts of every drink that have nothing in common, one after the other from nothing on the shelf.
fn first_cuts(oracle: &Oracle) -> Cuts {
    let popular = popular(oracle);
    let cuts = oracle.of_each(|drink| {
        let (mut shelf, mut cuts) = (Set::default(), Cuts::default());
        while let Some(cut) = cut(drink, &shelf, &popular, oracle.stop, &mut cuts.doubted) {
            shelf = shelf.or(&cut);
            cuts.sets.push(cut);
        }
        cuts
    });
    gathered(cuts)
}

/// A cut of every drink that a shelf cannot make.
fn cuts_of(oracle: &Oracle, shelf: &Set) -> Cuts {
    let popular = popular(oracle);
    let backwards: Vec<usize> = popular.iter().rev().copied().collect();
    gathered(oracle.of_each(|drink| {
        let mut cuts = Cuts::default();
        for order in [&popular, &backwards] {
            cuts.sets.extend(cut(drink, shelf, order, oracle.stop, &mut cuts.doubted));
        }
        cuts
    }))
}

fn gathered(all: Vec<Cuts>) -> Cuts {
    let doubted = all.iter().any(|cuts| cuts.doubted);
    let mut sets: Vec<Set> = all.into_iter().flat_map(|cuts| cuts.sets).collect();
    sets.sort_unstable();
    sets.dedup();
    Cuts { sets, doubted }
}

/// Bottles by how many drinks know them, the most first.
fn popular(oracle: &Oracle) -> Vec<usize> {
    let mut order: Vec<usize> = oracle.bottles.every().iter().collect();
    let known = |at: usize| oracle.drinks.iter().filter(|drink| drink.bottles.has(at)).count();
    order.sort_by_key(|at| std::cmp::Reverse(known(*at)));
    order
}

/// The bottles that a shelf lacks at least one of for a drink, as few of them as grow out of it in an order; nothing
/// where the drink can be made, or nothing is proved.
fn cut(drink: &Drink, shelf: &Set, order: &[usize], stop: &Stop, doubted: &mut bool) -> Option<Set> {
    let mut grown = shelf.and(&drink.bottles);
    match drink.can(&grown, stop) {
        Verdict::Can => return None,
        Verdict::Cannot => {}
        Verdict::Unknown => {
            *doubted = true;
            return None;
        }
    }
    let open: Vec<usize> =
        order.iter().copied().filter(|at| drink.bottles.has(*at) && !grown.has(*at)).collect();
    grow(drink, &mut grown, &open, stop);
    Some(drink.bottles.less(&grown))
}

/// Puts as many of some bottles on a shelf as leave the drink impossible, halves of them at a time.
fn grow(drink: &Drink, grown: &mut Set, open: &[usize], stop: &Stop) {
    if open.is_empty() {
        return;
    }
    let all = open.iter().fold(*grown, |set, at| set.with(*at));
    if drink.can(&all, stop) == Verdict::Cannot {
        *grown = all;
        return;
    }
    if open.len() > 1 {
        let (left, right) = open.split_at(open.len() / 2);
        grow(drink, grown, left, stop);
        grow(drink, grown, right, stop);
    }
}

/// A shelf without what it can spare, the bottles that fewest drinks know first.
pub fn reduced(oracle: &Oracle, shelf: &Set) -> Set {
    let order: Vec<usize> = popular(oracle).into_iter().rev().filter(|at| shelf.has(*at)).collect();
    order.into_iter().fold(*shelf, |shelf, at| {
        let without = shelf.without(at);
        if oracle.all_can(&without) { without } else { shelf }
    })
}
