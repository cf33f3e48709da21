//! What each bottle of a shelf is worth, and what the next one would bring.

use super::Set;
use super::oracle::{Oracle, Verdict};

/// A bottle, and what goes with it.
#[derive(Debug, Clone, PartialEq)]
pub struct Worth {
    /// The bottle.
    pub bottle: usize,
    /// The drinks that cannot be made without it, by their numbers in the menu.
    pub drinks: Vec<usize>,
}

/// A further bottle.
#[derive(Debug, Clone, PartialEq)]
pub struct Next {
    /// The bottle.
    pub bottle: usize,
    /// Money by use that a week's serves cost less with it.
    pub saves: f64,
    /// Drinks that it makes cheaper, by their numbers in the menu, and by how much a serve.
    pub drinks: Vec<(usize, f64)>,
}

/// Savings under this a week are none, in money.
const NOTHING: f64 = 0.005;

/// What would go with each bottle of a shelf, the most drinks first.
pub fn worth(oracle: &Oracle, shelf: &Set) -> Vec<Worth> {
    let lost = oracle.of_each(|drink| -> Vec<usize> {
        let matters = shelf.and(&drink.bottles);
        let gone = |at: &usize| drink.can(&shelf.without(*at), oracle.stop) == Verdict::Cannot;
        matters.iter().filter(gone).collect()
    });
    let drinks = |bottle: usize| {
        let of = lost.iter().zip(&oracle.drinks).filter(move |(lost, _)| lost.contains(&bottle));
        of.map(|(_, drink)| drink.number).collect()
    };
    let mut all: Vec<Worth> = shelf.iter().map(|bottle| Worth { bottle, drinks: drinks(bottle) }).collect();
    all.sort_by_key(|one| (std::cmp::Reverse(one.drinks.len()), oracle.bottles.all[one.bottle].name.clone()));
    all
}

/// The further bottle with which a week's pours cost least; `None` where none saves anything, or prices lack.
pub fn next(oracle: &Oracle, shelf: &Set) -> Option<Next> {
    let here = oracle.best_on(shelf)?;
    let others = oracle.bottles.every().less(shelf);
    let all = others.iter().filter_map(|bottle| {
        let there = oracle.best_on(&shelf.with(bottle))?;
        let saved = here.iter().zip(&there).zip(&oracle.drinks);
        let drinks: Vec<(usize, f64)> = saved
            .map(|((here, there), drink)| (drink.number, here.served.cost - there.served.cost))
            .filter(|(_, by)| *by > 0.0)
            .collect();
        let saves = here.iter().zip(&there).zip(&oracle.drinks);
        let saves = saves.map(|((h, t), drink)| drink.serves * (h.served.cost - t.served.cost)).sum();
        Some(Next { bottle, saves, drinks })
    });
    all.filter(|one| one.saves > NOTHING).max_by(|a, b| a.saves.total_cmp(&b.saves))
}
