//! The shelf of at most so many bottles that costs least for a week.
//!
//! On a shelf each drink is poured as its best spec there, by its own aim, and what the week takes of every bottle is
//! bought in whole packs. The search goes over shelves, most promising first: a node has bottles that are on the shelf and
//! bottles that are not. What good enough pours cost at least grows as bottles go, so the cheapest pours of everything
//! that is not yet off the shelf bound all shelves below; a bottle that is on it, and of which less than a pack is used,
//! counts as that pack, its pours being free then. Where nothing that is poured is undecided, the shelf is settled.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

use super::fewest::Cuts;
use super::oracle::Oracle;
use super::week::{self, Bought};
use super::{Bottles, Set};
use crate::solve::Spec;

/// After so many nodes, or so much searching, it is stopped, with a bound: some seconds of two cores of 2026.
const NODES: usize = 20_000;
/// See [`Oracle::spent`]: of this at most a quarter goes into climbing.
const SEARCHED: u64 = 200_000;
/// Money within this share is the same.
const SAME: f64 = 1e-9;

/// The cheapest shelf.
#[derive(Debug, Clone, PartialEq)]
pub struct Least {
    /// The bottles that are opened.
    pub shelf: Set,
    /// The spec of every drink, in the order of the oracle's drinks.
    pub specs: Vec<Spec>,
    /// What is bought for the week.
    pub bill: Vec<Bought>,
    /// Money for it.
    pub spend: f64,
    /// No shelf of so many bottles costs less.
    pub bound: f64,
    /// Shelves that cost the same, this one first.
    pub as_good: Vec<Set>,
}

impl Least {
    /// Whether it is proved that no shelf of so many bottles costs less.
    pub fn proved(&self) -> bool {
        self.bound >= self.spend * (1.0 - SAME) - SAME
    }
}

#[derive(Debug, Clone, Copy)]
struct Node {
    bound: f64,
    inside: Set,
    allowed: Set,
}

impl PartialEq for Node {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Node {}

impl PartialOrd for Node {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Node {
    /// The least bound is the greatest node; of the same bound the deeper one.
    fn cmp(&self, other: &Self) -> Ordering {
        other
            .bound
            .total_cmp(&self.bound)
            .then(self.inside.len().cmp(&other.inside.len()))
            .then_with(|| (self.inside, self.allowed).cmp(&(other.inside, other.allowed)))
    }
}

struct Run<'r, 'a> {
    oracle: &'r Oracle<'a>,
    cuts: &'r Cuts,
    most: usize,
    best: Option<Least>,
    /// The least bound of what was given up undecided.
    doubt: f64,
}

/// The cheapest shelf of at most so many bottles, from shelves that are known to do; `told` of each node. `None` where
/// none of so many was found. Every bottle has a price.
pub fn least(oracle: &Oracle, cuts: &Cuts, known: &[Set], most: usize, told: &dyn Fn()) -> Option<Least> {
    let mut run = Run { oracle, cuts, most, best: None, doubt: f64::INFINITY };
    known.iter().for_each(|shelf| run.offer_on(shelf));
    run.climb();
    let all = oracle.bottles.every();
    let mut open = BinaryHeap::from([Node { bound: 0.0, inside: Set::default(), allowed: all }]);
    let mut bound = f64::INFINITY;
    for _ in 0..NODES {
        let Some(node) = open.pop() else { break };
        told();
        if oracle.stop.raised() || oracle.spent() > SEARCHED {
            bound = node.bound;
            break;
        }
        open.extend(run.expanded(&node));
    }
    bound = open.iter().map(|node| node.bound).fold(bound.min(run.doubt), f64::min);
    let mut best = run.best?;
    best.bound = bound.min(best.spend);
    best.as_good.sort_by_key(|shelf| (*shelf != best.shelf, oracle.bottles.names(shelf)));
    Some(best)
}

impl Run<'_, '_> {
    fn bottles(&self) -> &Bottles {
        self.oracle.bottles
    }

    /// The specs, bill and bottles of the drinks on a shelf.
    fn week(&self, specs: Vec<Spec>) -> Least {
        let mut needs = vec![0.0; self.bottles().all.len()];
        let mut shelf = Set::default();
        for (drink, found) in self.oracle.drinks.iter().zip(&specs) {
            self.bottles().add_needs(drink.number, found, drink.serves, &mut needs);
            shelf = shelf.or(&self.bottles().opened(drink.number, found));
        }
        let bill = week::bill(self.bottles(), &needs);
        let spend = week::money(&bill);
        Least { shelf, specs, bill, spend, bound: 0.0, as_good: vec![shelf] }
    }

    /// Takes a shelf for the best where it is; says what a week on it comes to.
    fn offer(&mut self, specs: Vec<Spec>) -> Least {
        let week = self.week(specs);
        if week.shelf.len() <= self.most {
            match &mut self.best {
                Some(best) if week.spend > best.spend * (1.0 + SAME) => {}
                Some(best) if week.spend >= best.spend * (1.0 - SAME) => {
                    if !best.as_good.contains(&week.shelf) {
                        best.as_good.push(week.shelf);
                    }
                }
                _ => self.best = Some(week.clone()),
            }
        }
        week
    }

    fn offer_on(&mut self, shelf: &Set) {
        if let Some(specs) = self.oracle.best_on(shelf) {
            self.offer(specs);
        }
    }

    /// Takes bottles off the best shelf, puts others on and exchanges them, as long as that saves money.
    fn climb(&mut self) {
        while let Some(from) = self.best.as_ref().map(|best| (best.shelf, best.spend)) {
            let (shelf, spend) = from;
            let off: Vec<Set> = shelf.iter().map(|at| shelf.without(at)).collect();
            off.iter().for_each(|shelf| self.offer_on(shelf));
            let others: Vec<usize> = self.bottles().every().less(&shelf).iter().collect();
            for at in others {
                if self.oracle.spent() > SEARCHED / 4 {
                    break;
                }
                // What is no longer opened with it goes by itself; a shelf that is too large is not taken.
                self.offer_on(&shelf.with(at));
            }
            let better = self.best.as_ref().is_some_and(|best| best.spend < spend * (1.0 - SAME));
            if !better || self.oracle.stop.raised() || self.oracle.spent() > SEARCHED / 4 {
                return;
            }
        }
    }

    /// The nodes below one.
    fn expanded(&mut self, node: &Node) -> Vec<Node> {
        let over =
            |run: &Self, bound: f64| run.best.as_ref().is_some_and(|best| bound > best.spend * (1.0 + SAME));
        if over(self, node.bound) || !self.may_fit(node) {
            return vec![];
        }
        let Some(poured) = self.oracle.floor(&node.allowed, &Set::default()) else { return vec![] };
        let Some(specs) = self.oracle.best_on(&node.allowed) else {
            self.doubt = self.doubt.min(node.bound);
            return vec![];
        };
        let week = self.offer(specs);
        let bound = (poured - self.credit(&node.allowed)).max(node.bound);
        let bound = bound.max(self.with_packs(node, &week).unwrap_or(bound));
        let undecided = week.bill.iter().filter(|line| !node.inside.has(line.bottle));
        let waste = |line: &&Bought| line.left + line.spoiled;
        let price = |line: &&Bought| self.unit_price(line.bottle);
        let by_money = |line: &&Bought| waste(line) * price(line);
        let next = undecided.max_by(|a, b| by_money(a).total_cmp(&by_money(b)));
        let Some(next) = next.filter(|_| !over(self, bound)) else { return vec![] };
        vec![
            Node { bound, allowed: node.allowed.without(next.bottle), ..*node },
            Node { bound, inside: node.inside.with(next.bottle), ..*node },
        ]
    }

    /// Whether so few bottles may be enough: cuts that nothing inside meets, none of them with a bottle of another.
    fn may_fit(&self, node: &Node) -> bool {
        let (mut taken, mut count) = (node.inside, node.inside.len());
        for cut in &self.cuts.sets {
            let cut = cut.and(&node.allowed);
            if cut.is_empty() {
                return false;
            }
            if cut.and(&taken).is_empty() {
                taken = taken.or(&cut);
                count += 1;
            }
        }
        count <= self.most
    }

    fn unit_price(&self, at: usize) -> f64 {
        self.bottles().all[at].price.as_ref().map_or(0.0, crate::quantity::Price::per_unit)
    }

    /// What the stock of some bottles is worth: so much less may have to be bought than is poured.
    fn credit(&self, of: &Set) -> f64 {
        of.iter().map(|at| week::stock(&self.bottles().all[at]) * self.unit_price(at)).sum()
    }

    /// A bound that counts the packs of what is on the shelf and hardly used.
    fn with_packs(&self, node: &Node, week: &Least) -> Option<f64> {
        let packs = |line: &&Bought| {
            let bottle = &self.bottles().all[line.bottle];
            let least = bottle.stored.least_order.unwrap_or(1);
            let pack = bottle.price.as_ref().map_or(0.0, |price| price.pack.value);
            f64::from(least) * pack * self.unit_price(line.bottle)
        };
        let light = |line: &&Bought| {
            node.inside.has(line.bottle)
                && week::stock(&self.bottles().all[line.bottle]) == 0.0
                && line.need * self.unit_price(line.bottle) < packs(line)
        };
        let lines: Vec<&Bought> = week.bill.iter().filter(light).collect();
        if lines.is_empty() {
            return None;
        }
        let free: Set = lines.iter().map(|line| line.bottle).collect();
        let fixed: f64 = lines.iter().map(packs).sum();
        let poured = self.oracle.floor(&node.allowed, &free)?;
        Some(fixed + poured - self.credit(&node.allowed.less(&free)))
    }
}
