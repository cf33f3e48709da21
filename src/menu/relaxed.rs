//! A bound on what a week costs at least, by a Lagrangian relaxation.
//!
//! What makes shelves hard is that drinks share bottles. So each drink is let loose from the shelf: it pays a price for an
//! ml of a bottle, and one for its being open at all, and takes what is cheapest to itself; each bottle by itself sells as
//! much as is best for it, in whole packs, and no more bottles are open than may be. Whatever the prices, what the drinks
//! pay less what the bottles gain by it is no more than any shelf costs. Prices are moved to where it is most: up where
//! drinks take more than the bottle sells, down where less. (Geoffrion, Mathematical Programming Study 2, 1974; the step
//! after Polyak, USSR Computational Mathematics 9, 1969, along directions after Camerini, Fratta and Maffioli,
//! Mathematical Programming Study 3, 1975; from memory.) By the best prices it is seen what no shelf under a cutoff can have:
//! offers, bottles, and the lack of bottles.

use std::collections::BTreeMap;

use super::Set;
use super::offers::Offer;
use super::oracle::{Drink, Oracle};
use super::week::{Bought, Terms};
use crate::explain::side_by_side::side_by_side;

/// How much of the last direction is kept.
const KEPT: f64 = 0.5;
/// The first step is so much of the one that would do, were the bound a straight line.
const STEP: f64 = 1.2;
/// After so many rounds without a better bound steps become half as long.
const PATIENCE: usize = 8;

/// What every drink pays.
#[derive(Debug, Clone, PartialEq)]
pub struct Prices {
    /// For one ml (or g) of each bottle.
    each: Vec<f64>,
    /// For its being open at all, drink by drink.
    open: Vec<Vec<f64>>,
}

/// Shelves that have some bottles for sure and may have others, and what drinks may be poured as on them.
#[derive(Debug, Clone)]
pub struct View<'v> {
    /// These are on the shelf.
    pub inside: Set,
    /// No other is.
    pub allowed: Set,
    /// At most so many.
    pub most: usize,
    /// What each drink may be poured as; nothing of a drink that is not listed.
    pub offers: Vec<Option<Vec<&'v Offer>>>,
}

/// A bound, and what is seen by it.
#[derive(Debug)]
pub struct Bound<'v> {
    /// No shelf costs less, money.
    pub money: f64,
    /// The prices that show it.
    pub prices: Prices,
    /// What the drinks open by these prices.
    pub opens: Set,
    /// The view without what no shelf under the cutoff has.
    pub view: View<'v>,
    /// By how much the bound rises at least where a bottle that is undecided is left off.
    pub without: BTreeMap<usize, f64>,
}

/// Bottles as the relaxation sees them.
pub struct Relaxed<'r, 'a> {
    oracle: &'r Oracle<'a>,
    terms: Vec<Terms>,
}

impl<'r, 'a> Relaxed<'r, 'a> {
    /// Nothing where a bottle has no price.
    pub fn new(oracle: &'r Oracle<'a>) -> Option<Self> {
        Some(Self { oracle, terms: oracle.bottles.all.iter().map(Terms::of).collect::<Option<_>>()? })
    }

    /// Prices to begin with: what an ml costs; nothing for what a bottle that is open anyway has left in its first packs,
    /// were a week to take what a bill says.
    pub fn first_prices(&self, inside: &Set, bill: &[Bought]) -> Prices {
        let need = |at: usize| bill.iter().find(|line| line.bottle == at).map_or(0.0, |line| line.need);
        let price = |at: usize, terms: &Terms| {
            let free = inside.has(at) && terms.stock == 0.0 && need(at) <= terms.full(terms.first());
            if free { 0.0 } else { self.oracle.bottles.unit_price(at) }
        };
        Prices {
            each: self.terms.iter().enumerate().map(|(at, terms)| price(at, terms)).collect(),
            open: vec![vec![0.0; self.terms.len()]; self.oracle.drinks.len()],
        }
    }

    /// The best bound of some rounds from some prices; rounds end over the cutoff. `None` where a drink is proved
    /// impossible.
    pub fn bound<'v>(&self, view: View<'v>, first: &Prices, rounds: usize, cutoff: f64) -> Option<Bound<'v>> {
        let laid = Laid::new(self, &view)?;
        // What is searched takes too long to be asked again, and says nothing of how much is taken.
        let searched = self.searched(&view, first)?;
        let rounds = if self.oracle.all_listed() { rounds } else { 0 };
        let mut prices = first.clone();
        let moved = laid.moved(&prices, searched);
        let (mut best, mut known) = (moved.money, first.clone());
        let (mut step, mut waited, mut way) = (STEP, 0, moved);
        // How far it may have to go, where nobody knows how far.
        let goal = if cutoff.is_finite() { cutoff } else { 1.1 * best.abs() };
        for _ in 0..rounds {
            let length = laid.length(&way);
            if best > cutoff || length <= 0.0 {
                break;
            }
            let by = step * (goal - way.money).max(1e-6 * goal.abs()) / length;
            laid.shift(&mut prices, &way, by);
            let moved = laid.moved(&prices, searched);
            waited += 1;
            if moved.money > best {
                (best, waited) = (moved.money, 0);
                known.clone_from(&prices);
            } else if waited > PATIENCE {
                (step, waited) = (step / 2.0, 0);
                prices.clone_from(&known);
            }
            way = moved.turned(&way);
        }
        let moved = laid.moved(&known, searched);
        let opens = moved.opens;
        let (view, without) = laid.without(view, &known, &moved, cutoff);
        Some(Bound { money: moved.money, prices: known, opens, view, without })
    }

    /// What the drinks that are not listed pay at least by some prices.
    fn searched(&self, view: &View, prices: &Prices) -> Option<f64> {
        let all = self.oracle.drinks.iter().zip(&view.offers);
        let asked: Vec<&Drink> = all.filter(|(_, offers)| offers.is_none()).map(|(drink, _)| drink).collect();
        let by = (self.oracle.bottles, self.oracle.stop);
        let paid = |drink: &&Drink| Some(drink.serves * drink.floor(&view.allowed, &prices.each, by)?);
        side_by_side(&asked, self.oracle.workers, paid).into_iter().sum()
    }
}

/// A view laid out to be gone over many times.
struct Laid<'v> {
    /// What each offer of each drink takes.
    drinks: Vec<Vec<&'v [(usize, f64)]>>,
    bottles: Vec<Shop>,
    /// So many that are undecided may be open.
    room: usize,
    /// How many bottles there are in all.
    count: usize,
}

/// A bottle as it sells.
struct Shop {
    at: usize,
    inside: bool,
    /// Money for an ml, and for a pack.
    money: (f64, f64),
    /// The drinks that may open it.
    drinks: Vec<usize>,
    /// What may be best for it: money for so many packs, and how much of it is sold.
    ways: Vec<(f64, f64)>,
}

/// What the bottles and the drinks do by some prices.
struct Moved {
    money: f64,
    /// By how much drinks take more than a bottle sells.
    each: Vec<f64>,
    /// Whether a drink has a bottle open that is not, or the other way round.
    open: Vec<Vec<f64>>,
    opens: Set,
    /// What every drink pays.
    paid: Vec<f64>,
    /// What every bottle adds where it is open, and whether it is, in the order of the shops.
    added: Vec<(f64, bool)>,
}

impl<'v> Laid<'v> {
    /// Nothing where a drink has no offer left.
    fn new(relaxed: &Relaxed, view: &View<'v>) -> Option<Self> {
        let count = relaxed.terms.len();
        let mut ranges = vec![Range::default(); count];
        let mut drinks = vec![];
        let mut openers: Vec<Vec<usize>> = vec![vec![]; count];
        for (number, (drink, offers)) in relaxed.oracle.drinks.iter().zip(&view.offers).enumerate() {
            let Some(offers) = offers else {
                for bottle in drink.bottles.and(&view.allowed).iter() {
                    ranges[bottle].add((0.0, relaxed.terms[bottle].dust(), f64::INFINITY));
                }
                drinks.push(vec![]);
                continue;
            };
            if offers.is_empty() {
                return None;
            }
            for bottle in add_ranges(offers, &mut ranges) {
                openers[bottle].push(number);
            }
            drinks.push(offers.iter().map(|offer| offer.takes.as_slice()).collect());
        }
        let shop = |at: usize| {
            let terms = &relaxed.terms[at];
            Shop {
                at,
                inside: view.inside.has(at),
                money: (relaxed.oracle.bottles.unit_price(at), terms.price),
                drinks: std::mem::take(&mut openers[at]),
                ways: ways(terms, &ranges[at]),
            }
        };
        let room = view.most.saturating_sub(view.inside.len());
        Some(Self { drinks, bottles: view.allowed.iter().map(shop).collect(), room, count })
    }

    /// What everybody does by some prices; what is searched pays so much.
    fn moved(&self, prices: &Prices, searched: f64) -> Moved {
        let open = vec![vec![0.0; self.count]; self.drinks.len()];
        let (each, opens) = (vec![0.0; self.count], Set::default());
        let mut moved = Moved { money: searched, each, open, opens, paid: vec![], added: vec![] };
        for (number, offers) in self.drinks.iter().enumerate() {
            let paid = |takes: &[(usize, f64)]| paid(prices, number, takes);
            let taken = offers.iter().map(|takes| (paid(takes), takes)).min_by(|a, b| a.0.total_cmp(&b.0));
            moved.paid.push(taken.map_or(0.0, |(paid, _)| paid));
            for (bottle, take) in taken.iter().flat_map(|(_, takes)| **takes) {
                moved.each[*bottle] += take;
                moved.open[number][*bottle] += 1.0;
                moved.opens = moved.opens.with(*bottle);
            }
        }
        moved.money += moved.paid.iter().sum::<f64>();
        self.sell(prices, &mut moved);
        moved
    }

    /// What every bottle does: it sells what is best for it, and the best of them are open.
    fn sell(&self, prices: &Prices, moved: &mut Moved) {
        let mut undecided: Vec<(f64, usize)> = vec![];
        let mut sold = vec![];
        for (number, shop) in self.bottles.iter().enumerate() {
            let fees: f64 = shop.drinks.iter().map(|drink| prices.open[*drink][shop.at]).sum();
            let each = prices.each[shop.at];
            let ways = shop.ways.iter().map(|(money, sells)| (money - each * sells, *sells));
            let (money, sells) = ways.min_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or((0.0, 0.0));
            moved.added.push((money - fees, shop.inside));
            sold.push(sells);
            if !shop.inside && money < fees {
                undecided.push((money - fees, number));
            }
        }
        undecided.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        undecided.into_iter().take(self.room).for_each(|(_, number)| moved.added[number].1 = true);
        for ((shop, sells), (added, open)) in self.bottles.iter().zip(sold).zip(&moved.added) {
            if *open {
                moved.money += added;
                moved.each[shop.at] -= sells;
                shop.drinks.iter().for_each(|drink| moved.open[*drink][shop.at] -= 1.0);
            }
        }
    }

    /// The square of how far the bottles and the drinks are apart, in money.
    fn length(&self, way: &Moved) -> f64 {
        let of = |shop: &Shop| {
            let open: f64 = shop.drinks.iter().map(|drink| way.open[*drink][shop.at].powi(2)).sum();
            (way.each[shop.at] * shop.money.0).powi(2) + open * shop.money.1.powi(2)
        };
        self.bottles.iter().map(of).sum()
    }

    fn shift(&self, prices: &mut Prices, way: &Moved, by: f64) {
        for shop in &self.bottles {
            let (at, (each, pack)) = (shop.at, shop.money);
            prices.each[at] = (prices.each[at] + by * way.each[at] * each.powi(2)).max(0.0);
            for drink in &shop.drinks {
                let open = &mut prices.open[*drink][at];
                *open = (*open + by * way.open[*drink][at] * pack.powi(2)).max(0.0);
            }
        }
    }

    /// A view without what would bring the bound over the cutoff, and what it would rise by without each bottle.
    fn without(
        &self,
        mut view: View<'v>,
        prices: &Prices,
        moved: &Moved,
        cutoff: f64,
    ) -> (View<'v>, BTreeMap<usize, f64>) {
        let room = cutoff - moved.money;
        let mut without = BTreeMap::new();
        let chosen = moved.added.iter().zip(&self.bottles).filter(|((_, open), shop)| *open && !shop.inside);
        let full = chosen.clone().count() >= self.room;
        // What has to make room for another, and what comes next in place of one.
        let last = chosen.map(|((added, _), _)| *added).fold(f64::NEG_INFINITY, f64::max);
        let last = if full { last.min(0.0) } else { 0.0 };
        let closed = moved.added.iter().filter(|(_, open)| !open);
        let next = closed.map(|(added, _)| *added).fold(0.0, f64::min);
        for (shop, (added, open)) in self.bottles.iter().zip(&moved.added).filter(|(shop, _)| !shop.inside) {
            if !open && added - last > room {
                view.allowed = view.allowed.without(shop.at);
            }
            let others: f64 =
                shop.drinks.iter().map(|drink| self.dearer(*drink, shop.at, prices, moved)).sum();
            let rise = others + if *open { next - added } else { 0.0 };
            without.insert(shop.at, rise);
            if rise > room {
                view.inside = view.inside.with(shop.at);
            }
        }
        for (number, offers) in view.offers.iter_mut().enumerate() {
            let dear = |offer: &Offer| paid(prices, number, &offer.takes) - moved.paid[number] > room;
            offers.iter_mut().for_each(|offers| offers.retain(|offer| !dear(offer)));
        }
        (view, without)
    }

    /// By how much a drink pays more without a bottle.
    fn dearer(&self, drink: usize, bottle: usize, prices: &Prices, moved: &Moved) -> f64 {
        let others = self.drinks[drink].iter().filter(|takes| takes.iter().all(|(at, _)| *at != bottle));
        let least = others.map(|takes| paid(prices, drink, takes)).fold(f64::INFINITY, f64::min);
        least - moved.paid[drink]
    }
}

fn paid(prices: &Prices, drink: usize, takes: &[(usize, f64)]) -> f64 {
    takes.iter().map(|(bottle, take)| prices.each[*bottle] * take + prices.open[drink][*bottle]).sum()
}

impl Moved {
    /// A direction that keeps a part of the last one.
    fn turned(mut self, last: &Self) -> Self {
        self.each.iter_mut().zip(&last.each).for_each(|(a, b)| *a += KEPT * b);
        for (all, others) in self.open.iter_mut().zip(&last.open) {
            all.iter_mut().zip(others).for_each(|(a, b)| *a += KEPT * b);
        }
        self
    }
}

/// How much the drinks may take of a bottle together.
#[derive(Debug, Clone, Copy)]
struct Range {
    /// At least.
    least: f64,
    /// At least, where anything is taken.
    some: f64,
    /// At most.
    most: f64,
}

impl Default for Range {
    fn default() -> Self {
        Self { least: 0.0, some: f64::INFINITY, most: 0.0 }
    }
}

impl Range {
    /// Counts a drink in: what it takes at least, at least where it takes anything, and at most.
    fn add(&mut self, (least, some, most): (f64, f64, f64)) {
        *self = Self { least: self.least + least, some: self.some.min(some), most: self.most + most };
    }
}

/// Counts a drink in; gives the bottles that it may open.
fn add_ranges(offers: &[&Offer], ranges: &mut [Range]) -> Vec<usize> {
    let mut taken = BTreeMap::<usize, (usize, f64, f64)>::new();
    for (bottle, take) in offers.iter().flat_map(|offer| &offer.takes) {
        let one = taken.entry(*bottle).or_insert((0, f64::INFINITY, 0.0));
        *one = (one.0 + 1, one.1.min(*take), one.2.max(*take));
    }
    for (bottle, (count, low, high)) in &taken {
        ranges[*bottle].add((if *count == offers.len() { *low } else { 0.0 }, *low, *high));
    }
    taken.into_keys().collect()
}

/// What may be best for an open bottle to sell, whatever it is paid by the ml: money for the packs, and how much of them is
/// sold. In between the money is a straight line of what is sold.
fn ways(terms: &Terms, range: &Range) -> Vec<(f64, f64)> {
    let from = terms.each(range.least.max(range.some.min(range.most)));
    let to = if range.most.is_finite() { terms.each(range.most) } else { f64::INFINITY };
    let mut corners = vec![from, from.max(terms.first()), from.max(terms.first() + 1.0), to - 1.0, to];
    corners.retain(|packs| packs.is_finite() && (from..=to).contains(packs));
    corners.sort_by(f64::total_cmp);
    corners.dedup();
    corners
        .into_iter()
        .map(|packs| (terms.packs(packs) * terms.price, terms.full(packs).min(range.most)))
        .collect()
}
