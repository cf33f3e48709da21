//! The shelf of at most so many bottles that costs least for a week.
//!
//! On a shelf each drink is poured as its best spec there, by its own aim, and what the week takes of every bottle is
//! bought in whole packs. The search goes over shelves, most promising first: a node has bottles that are on the shelf and
//! bottles that are not. What a drink may be poured as below it are its offers up to the first that opens only what is
//! there for sure (`offers.rs`); a bottle that all of them open is on the shelf. The bound is that of `relaxed.rs`, its prices
//! handed down. Where nothing that is poured is undecided, the shelf is settled.

use std::cmp::Ordering;
use std::collections::BinaryHeap;
use std::sync::Arc;

use super::fewest::Cuts;
use super::offers::Offer;
use super::oracle::{Drink, Oracle, Verdict};
use super::relaxed::{Prices, Relaxed, View};
use super::week::{self, Bought};
use super::{Bottles, Set};
use crate::explain::side_by_side::side_by_side;
use crate::solve::Spec;

/// After so many nodes, or so much searching, it is stopped, with a bound: some seconds of two cores of 2026.
const NODES: usize = 20_000;
/// See [`Oracle::spent`]: of this at most a quarter goes into climbing.
const SEARCHED: u64 = 150_000;
/// Nor are offers priced more often than this: some seconds of two cores, for a hundred drinks as for twenty.
const PRICED: u64 = 1_500_000_000;
/// Prices are moved so often for the first bound, and for one further down.
const ROUNDS: (usize, usize) = (400, 30);
/// So many nodes are looked at before what they found is taken in: the same on every machine.
const TOGETHER: usize = 16;
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
    /// Whether these are proved to be all.
    pub all: bool,
}

impl Least {
    /// Whether it is proved that no shelf of so many bottles costs less.
    pub fn proved(&self) -> bool {
        self.bound >= self.spend * (1.0 - SAME) - SAME
    }
}

/// Offers of a drink, best first; nothing of one that is not listed.
type Listed<'r> = Option<Vec<&'r Offer>>;

#[derive(Debug, Clone)]
struct Node<'r> {
    bound: f64,
    inside: Set,
    allowed: Set,
    /// What drinks may be poured as, but for what is out by the sets.
    offers: Arc<Vec<Listed<'r>>>,
    /// Prices that show the bound.
    prices: Option<Arc<Prices>>,
}

impl PartialEq for Node<'_> {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Node<'_> {}

impl PartialOrd for Node<'_> {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Node<'_> {
    /// The least bound is the greatest node; of the same bound the deeper one.
    fn cmp(&self, other: &Self) -> Ordering {
        other
            .bound
            .total_cmp(&self.bound)
            .then(self.inside.len().cmp(&other.inside.len()))
            .then_with(|| (self.inside, self.allowed).cmp(&(other.inside, other.allowed)))
    }
}

/// What is below a node.
struct Below<'r> {
    nodes: Vec<Node<'r>>,
    /// Shelves that may be good.
    shelves: Vec<Set>,
    /// The bound of what cannot be said.
    doubt: f64,
    /// How many offers were priced, each time counted.
    priced: u64,
}

struct Run<'r, 'a> {
    oracle: &'r Oracle<'a>,
    relaxed: Relaxed<'r, 'a>,
    cuts: &'r Cuts,
    most: usize,
    best: Option<Least>,
    /// The least bound of what was given up undecided.
    doubt: f64,
}

/// The cheapest shelf of at most so many bottles, from shelves that are known to do; `told` of each node. `None` where
/// none of so many was found, or a bottle has no price.
pub fn least(oracle: &Oracle, cuts: &Cuts, known: &[Set], most: usize, told: &dyn Fn()) -> Option<Least> {
    let relaxed = Relaxed::new(oracle)?;
    let mut run = Run { oracle, relaxed, cuts, most, best: None, doubt: f64::INFINITY };
    known.iter().for_each(|shelf| run.offer_on(shelf));
    run.climb();
    let offers: Vec<Listed> =
        oracle.drinks.iter().map(|drink| drink.listed().map(|all| all.iter().collect())).collect();
    // What is searched is remembered, and what is known should not hang on which thread is first.
    let together = if oracle.all_listed() { TOGETHER } else { 1 };
    let node = Node {
        bound: 0.0,
        inside: Set::default(),
        allowed: oracle.bottles.every(),
        offers: Arc::new(offers),
        prices: None,
    };
    let mut open = BinaryHeap::from([node]);
    let (mut nodes, mut priced) = (0, 0);
    while nodes < NODES && !open.is_empty() {
        if oracle.stop.raised() || oracle.spent() > SEARCHED || priced > PRICED {
            break;
        }
        told();
        let next: Vec<Node> = (0..together).filter_map(|_| open.pop()).collect();
        nodes += next.len();
        for below in side_by_side(&next, oracle.workers.min(next.len()), |node| run.expanded(node)) {
            run.doubt = run.doubt.min(below.doubt);
            priced += below.priced;
            below.shelves.iter().for_each(|shelf| run.offer_on(shelf));
            open.extend(below.nodes);
        }
    }
    let bound = open.iter().map(|node| node.bound).fold(run.doubt, f64::min);
    let mut best = run.best?;
    best.bound = bound.min(best.spend);
    // What costs the same was not cut off.
    best.all = bound.is_infinite();
    best.as_good.sort_by_key(|shelf| (*shelf != best.shelf, oracle.bottles.names(shelf)));
    Some(best)
}

impl<'r, 'a> Run<'r, 'a> {
    fn bottles(&self) -> &'r Bottles {
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
        Least { shelf, specs, bill, spend, bound: 0.0, as_good: vec![shelf], all: false }
    }

    /// Takes a shelf for the best where it is.
    fn offer_on(&mut self, shelf: &Set) {
        let Some(specs) = self.oracle.best_on(shelf) else { return };
        let week = self.week(specs);
        if week.shelf.len() > self.most {
            return;
        }
        match &mut self.best {
            Some(best) if week.spend > best.spend * (1.0 + SAME) => {}
            Some(best) if week.spend >= best.spend * (1.0 - SAME) => {
                if !best.as_good.contains(&week.shelf) {
                    best.as_good.push(week.shelf);
                }
            }
            _ => self.best = Some(week),
        }
    }

    /// Takes bottles off the best shelf, puts others on and exchanges them, as long as that saves money.
    fn climb(&mut self) {
        while let Some((shelf, spend)) = self.best.as_ref().map(|best| (best.shelf, best.spend)) {
            let others: Vec<usize> = self.bottles().every().less(&shelf).iter().collect();
            let off = shelf.iter().map(|at| shelf.without(at));
            // What is no longer opened with it goes by itself; a shelf that is too large is not taken.
            let on = others.iter().map(|at| shelf.with(*at));
            let swaps =
                shelf.iter().flat_map(|gone| others.iter().map(move |at| shelf.without(gone).with(*at)));
            for other in off.chain(on).chain(swaps) {
                if self.oracle.stop.raised() || self.oracle.spent() > SEARCHED / 4 {
                    return;
                }
                self.offer_on(&other);
            }
            if !self.best.as_ref().is_some_and(|best| best.spend < spend * (1.0 - SAME)) {
                return;
            }
        }
    }

    fn over(&self, bound: f64) -> bool {
        self.best.as_ref().is_some_and(|best| bound > best.spend * (1.0 + SAME))
    }

    /// What is below a node.
    fn expanded(&self, node: &Node<'r>) -> Below<'r> {
        let nothing = |doubt: f64| Below { nodes: vec![], shelves: vec![], doubt, priced: 0 };
        if self.over(node.bound) {
            return nothing(f64::INFINITY);
        }
        let Some(view) = self.narrowed(node) else { return nothing(f64::INFINITY) };
        if !self.may_fit(&view) {
            return nothing(f64::INFINITY);
        }
        let Some(week) = self.first_week(&view.allowed, &view.offers) else { return nothing(node.bound) };
        let (first, rounds) = match &node.prices {
            Some(prices) => (Arc::clone(prices), ROUNDS.1),
            None => (Arc::new(self.relaxed.first_prices(&view.inside, &week.bill)), ROUNDS.0),
        };
        let listed = self.oracle.all_listed();
        let priced = (rounds * view.offers.iter().flatten().map(Vec::len).sum::<usize>()) as u64;
        let inside = view.inside;
        let cutoff = self.best.as_ref().map_or(f64::INFINITY, |best| best.spend * (1.0 + SAME));
        let Some(bound) = self.relaxed.bound(view, &first, rounds, cutoff) else {
            return nothing(f64::INFINITY);
        };
        let shelves = if listed { vec![week.shelf, bound.opens] } else { vec![week.shelf] };
        let money = bound.money.max(node.bound);
        let undecided = week.bill.iter().filter(|line| !inside.has(line.bottle));
        // Without it the bound rises most.
        let rise = |line: &&Bought| bound.without.get(&line.bottle).copied().unwrap_or(0.0);
        let next = undecided.max_by(|a, b| rise(a).total_cmp(&rise(b)));
        let next = next.filter(|_| !self.over(money)).map(|line| line.bottle);
        let prices = listed.then(|| Arc::new(bound.prices));
        let node = Node {
            bound: money,
            inside: bound.view.inside,
            allowed: bound.view.allowed,
            offers: Arc::new(bound.view.offers),
            prices,
        };
        let nodes = next.into_iter().flat_map(|bottle| {
            let off = Node { allowed: node.allowed.without(bottle), ..node.clone() };
            let on = Node { inside: node.inside.with(bottle), ..node.clone() };
            [off, on]
        });
        let nodes = nodes.filter(|node| node.inside.within(&node.allowed)).collect();
        Below { nodes, shelves, doubt: f64::INFINITY, priced }
    }

    /// What every drink may be poured as on the shelves below, as far as it is listed; what all of them open is inside,
    /// what none does is gone. `None` where a drink cannot be made on any.
    fn narrowed(&self, node: &Node<'r>) -> Option<View<'r>> {
        let (mut inside, mut allowed) = (node.inside, node.allowed);
        loop {
            let of_each = self.oracle.drinks.iter().zip(node.offers.iter());
            let offers: Vec<Listed> = of_each
                .map(|(drink, left)| self.offers(drink, left.as_ref()?, (&inside, &allowed)))
                .collect();
            let (mut sure, mut open) = (inside, inside);
            for (drink, offers) in self.oracle.drinks.iter().zip(&offers) {
                let Some(offers) = offers else {
                    if drink.can(&allowed, self.oracle.stop) == Verdict::Cannot {
                        return None;
                    }
                    open = open.or(&drink.bottles);
                    continue;
                };
                let every = offers.iter().map(|offer| offer.opens).reduce(|all, one| all.and(&one))?;
                sure = sure.or(&every);
                open = offers.iter().fold(open, |all, offer| all.or(&offer.opens));
            }
            let open = open.and(&allowed);
            if sure.len() > self.most {
                return None;
            }
            if sure == inside && open == allowed {
                return Some(View { inside, allowed, most: self.most, offers });
            }
            (inside, allowed) = (sure, open);
        }
    }

    /// Which of the offers of a drink it may be poured as on shelves with some bottles inside and others allowed.
    fn offers(
        &self,
        drink: &'r Drink<'a>,
        left: &[&'r Offer],
        (inside, allowed): (&Set, &Set),
    ) -> Listed<'r> {
        let mut left = left.iter().copied().peekable();
        let mut may_be = vec![];
        for offer in drink.listed()? {
            let is_left = left.next_if(|next| std::ptr::eq(*next, offer)).is_some();
            let fits = offer.opens.within(allowed) && offer.opens.or(inside).len() <= self.most;
            if fits && is_left {
                may_be.push(offer);
            }
            // Nothing after it is poured on any of these shelves.
            if fits && offer.opens.within(inside) {
                break;
            }
        }
        Some(may_be)
    }

    /// What the week takes where every drink is poured as well as it may be.
    fn first_week(&self, allowed: &Set, offers: &[Option<Vec<&Offer>>]) -> Option<Least> {
        let first = |(drink, offers): (&Drink, &Option<Vec<&Offer>>)| match offers {
            Some(offers) => offers.first().map(|offer| offer.spec.clone()),
            None => drink.good_on(allowed, self.oracle.stop),
        };
        Some(self.week(self.oracle.drinks.iter().zip(offers).map(first).collect::<Option<_>>()?))
    }

    /// Whether so few bottles may be enough: cuts that nothing inside meets, none of them with a bottle of another.
    fn may_fit(&self, view: &View) -> bool {
        let (mut taken, mut count) = (view.inside, view.inside.len());
        for cut in &self.cuts.sets {
            let cut = cut.and(&view.allowed);
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
}
