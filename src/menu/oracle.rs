//! What each drink can do with a part of the bottles, asked with as few searches as possible: a spec that was found
//! answers for every shelf that has its bottles, and a proof that there is none for every smaller shelf.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Mutex, MutexGuard, OnceLock, PoisonError};

use super::offers::{Offer, offers};
use super::{Bottles, Set};
use crate::brief::{Aim, Brief, Goal, Measure};
use crate::explain::side_by_side::side_by_side;
use crate::model::{Model, Objective, Sense};
use crate::scenario::swap::best;
use crate::search::{same_score_margin, seek};
use crate::solve::within::search_within;
use crate::solve::{SearchLimits, SearchMode, Spec, Stop, Wanted, measured};

/// No search for any spec looks at more nodes than this.
const NODES: u64 = 60_000;
/// A search for the cheapest spec goes over no more figures than this: some 50 ms.
const CHEAPEST: u64 = 60_000_000;
/// Listing goes over no more figures than this for a menu, some five seconds of two cores, and at first over so many for
/// a drink.
const LISTING: u64 = 6_000_000_000;
const FIRST_LISTING: u64 = 150_000_000;

/// Whether a drink can be made with some bottles.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// It can.
    Can,
    /// Proved: it cannot.
    Cannot,
    /// The effort ran out.
    Unknown,
}

/// One drink.
#[derive(Debug)]
pub struct Drink<'a> {
    /// Which of the menu's drinks it is.
    pub number: usize,
    /// The question.
    pub brief: &'a Brief,
    /// Serves a week; 1 where nobody says.
    pub serves: f64,
    /// Its best spec with every bottle there.
    pub best: Spec,
    /// Whether that is proved to be its best.
    pub proved: bool,
    /// The worst score that will do, low being better.
    ceiling: f64,
    /// The bottles that may matter to it.
    pub bottles: Set,
    /// What each of its candidates needs.
    needs: Vec<Set>,
    /// Everything that it can be poured as, once it has been asked for and where that ends.
    listed: OnceLock<Vec<Offer>>,
    memory: Mutex<Memory>,
    /// How many candidates all searches for its best and its cheapest specs went over.
    spent: AtomicU64,
}

/// What is known of a drink.
#[derive(Debug, Default)]
struct Memory {
    /// Shelves on which it can be made, as little as is opened.
    can: Vec<Set>,
    /// Shelves on which it cannot.
    cannot: Vec<Set>,
    /// Its best spec on a shelf, and what that opens.
    best: BTreeMap<Set, (Set, Spec)>,
    /// What a serve costs at least on a shelf, by some prices (their bits), and what the cheapest spec opens.
    floor: BTreeMap<(Set, Vec<u64>), (Set, f64)>,
}

/// All drinks that can be made with every bottle there.
#[derive(Debug)]
pub struct Oracle<'a> {
    /// The bottles.
    pub bottles: &'a Bottles,
    /// The drinks.
    pub drinks: Vec<Drink<'a>>,
    /// So many threads.
    pub workers: usize,
    /// Raised to end it.
    pub stop: &'a Stop,
}

impl<'a> Oracle<'a> {
    /// Drinks with their best scores; each may be `within` (0.05 for 5 %) worse than its own best, or by what does not
    /// matter to it. A drink without a spec is left out.
    pub fn new(
        (briefs, bottles): (&'a [Brief], &'a Bottles),
        serves: &[f64],
        within: f64,
        (workers, stop): (usize, &'a Stop),
    ) -> Self {
        let numbers: Vec<usize> = (0..briefs.len()).collect();
        let drinks = side_by_side(&numbers, workers, |at| {
            Drink::new((*at, &briefs[*at]), bottles, serves.get(*at).copied().unwrap_or(1.0), (within, stop))
        });
        Self { bottles, drinks: drinks.into_iter().flatten().collect(), workers, stop }
    }

    /// Lists what every drink can be poured as, where that ends: then nothing of it is searched any more. What is not
    /// listed is tried again with more effort, as long as the effort for the menu lasts.
    pub fn list(&self) {
        let (mut left, mut each) = (LISTING, FIRST_LISTING);
        loop {
            let open: Vec<&Drink> = self.drinks.iter().filter(|drink| drink.listed().is_none()).collect();
            let spent =
                side_by_side(&open, self.workers, |drink| drink.list(self.bottles, (self.stop, each)));
            left = left.saturating_sub(spent.iter().sum());
            let open = self.drinks.iter().filter(|drink| drink.listed().is_none()).count() as u64;
            let next = left.checked_div(open).unwrap_or(0);
            if next < 2 * each || self.stop.raised() {
                return;
            }
            each = next;
        }
    }

    /// Whether nothing of any drink has to be searched any more.
    pub fn all_listed(&self) -> bool {
        self.drinks.iter().all(|drink| drink.listed().is_some())
    }

    /// Whether every drink can be made.
    pub fn all_can(&self, shelf: &Set) -> bool {
        self.drinks.iter().all(|drink| drink.can(shelf, self.stop) == Verdict::Can)
    }

    /// Asks something of every drink, several at a time.
    pub fn of_each<A: Send>(&self, ask: impl Fn(&Drink<'a>) -> A + Sync) -> Vec<A> {
        side_by_side(&self.drinks, self.workers, ask)
    }

    /// The best spec of every drink on a shelf; `None` where one cannot be made well enough.
    pub fn best_on(&self, shelf: &Set) -> Option<Vec<Spec>> {
        let best = |drink: &Drink<'a>| drink.good_on(shelf, self.stop);
        // Looking up takes less than a thread.
        if self.all_listed() {
            self.drinks.iter().map(best).collect()
        } else {
            self.of_each(best).into_iter().collect()
        }
    }

    /// How much has been searched for best and cheapest specs so far, the same on every machine: candidates, search by
    /// search.
    pub fn spent(&self) -> u64 {
        self.drinks.iter().map(|drink| drink.spent.load(Ordering::Relaxed)).sum()
    }
}

impl<'a> Drink<'a> {
    fn new(
        (number, brief): (usize, &'a Brief),
        bottles: &Bottles,
        serves: f64,
        (within, stop): (f64, &Stop),
    ) -> Option<Self> {
        let model = Model::new(brief);
        let objective = Objective::of(&model);
        let found = search_within(&model, &objective, Wanted::best(1), stop, stop.effort());
        let entry = found.entries.first()?;
        let best = measured(&model, &objective, entry);
        let room = (within * entry.score.abs()).max(brief.resolution.at(best.score));
        let needs: Vec<Set> = (0..brief.candidates.len()).map(|at| bottles.needed(number, at)).collect();
        let relevant = brief.usable().fold(Set::default(), |set, at| set.or(&needs[at]));
        let opened = bottles.opened(number, &best);
        let memory = Memory { can: vec![opened], ..Memory::default() };
        let ceiling = entry.score + room + same_score_margin(entry.score);
        Some(Self {
            number,
            brief,
            serves,
            best,
            proved: found.complete || found.bound >= entry.score - same_score_margin(entry.score),
            ceiling,
            bottles: relevant,
            needs,
            listed: OnceLock::new(),
            memory: Mutex::new(memory),
            spent: AtomicU64::new(0),
        })
    }

    /// Lists what it can be poured as, if that is no more work than `effort`; gives the work.
    pub fn list(&self, bottles: &Bottles, (stop, effort): (&Stop, u64)) -> u64 {
        let takes = |spec: &Spec| {
            let mut needs = vec![0.0; bottles.all.len()];
            bottles.add_needs(self.number, spec, self.serves, &mut needs);
            needs
        };
        let (listed, spent) = offers((self.brief, self.ceiling), &self.needs, takes, (stop, effort));
        // What is listed already is the same.
        listed.map(|offers| self.listed.set(offers));
        spent
    }

    fn memory(&self) -> MutexGuard<'_, Memory> {
        // What a fault left behind is still true, and the fault is told elsewhere.
        self.memory.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The brief with what a shelf has; `None` where something that has to be used is not there.
    fn on(&self, shelf: &Set) -> Option<Brief> {
        let lacks = |at: usize| !self.needs[at].within(shelf);
        if self.brief.usable().any(|at| self.brief.candidates[at].must && lacks(at)) {
            return None;
        }
        let mut brief = self.brief.clone();
        for (at, candidate) in brief.candidates.iter_mut().enumerate() {
            candidate.out |= lacks(at);
        }
        let some = brief.usable().next().is_some();
        some.then_some(brief)
    }

    /// What it can be poured as, best first, where that has been listed.
    pub fn listed(&self) -> Option<&[Offer]> {
        self.listed.get().map(Vec::as_slice)
    }

    /// The worst score that is good enough, low being better.
    pub fn ceiling(&self) -> f64 {
        self.ceiling
    }

    /// The bottles that a candidate needs.
    pub fn needs(&self, candidate: usize) -> Set {
        self.needs.get(candidate).copied().unwrap_or_default()
    }

    /// The bottles of a spec of this drink.
    fn opened(&self, spec: &Spec) -> Set {
        spec.pours.iter().fold(Set::default(), |set, pour| set.or(&self.needs[pour.candidate]))
    }

    /// Whether it keeps a spec that is good enough.
    pub fn can(&self, shelf: &Set, stop: &Stop) -> Verdict {
        let shelf = shelf.and(&self.bottles);
        if let Some(offers) = self.listed() {
            let can = offers.iter().any(|offer| offer.opens.within(&shelf));
            return if can { Verdict::Can } else { Verdict::Cannot };
        }
        {
            let memory = self.memory();
            if memory.can.iter().any(|known| known.within(&shelf)) {
                return Verdict::Can;
            }
            if memory.cannot.iter().any(|known| shelf.within(known)) {
                return Verdict::Cannot;
            }
        }
        let Some(brief) = self.on(&shelf) else {
            self.memory().cannot.push(shelf);
            return Verdict::Cannot;
        };
        let model = Model::new(&brief);
        let objective = Objective::of(&model);
        let limits = SearchLimits { stop, nodes: NODES };
        let found = seek(&model, &objective, SearchMode::Any, Some(self.ceiling), limits);
        match found.entries.first() {
            Some(entry) => {
                let opened = self.opened(&measured(&model, &objective, entry));
                self.memory().can.push(opened);
                Verdict::Can
            }
            None if found.complete => {
                self.memory().cannot.push(shelf);
                Verdict::Cannot
            }
            None => Verdict::Unknown,
        }
    }

    /// The best spec by its own aim, if that is good enough.
    pub fn good_on(&self, shelf: &Set, stop: &Stop) -> Option<Spec> {
        (self.can(shelf, stop) == Verdict::Can).then(|| self.best_on(shelf, stop)).flatten()
    }

    /// The best spec by its own aim.
    pub fn best_on(&self, shelf: &Set, stop: &Stop) -> Option<Spec> {
        let shelf = shelf.and(&self.bottles);
        if let Some(offers) = self.listed() {
            return offers.iter().find(|offer| offer.opens.within(&shelf)).map(|offer| offer.spec.clone());
        }
        if self.opened(&self.best).within(&shelf) {
            return Some(self.best.clone());
        }
        // What is best on a larger shelf, and opens nothing that is not here, is best here.
        let known = self.memory().best.iter().find_map(|(from, (opened, spec))| {
            (shelf.within(from) && opened.within(&shelf)).then(|| spec.clone())
        });
        if known.is_some() {
            return known;
        }
        let brief = self.on(&shelf)?;
        self.spend(&brief);
        let spec = best(&brief, stop).specs.into_iter().next()?;
        let opened = self.opened(&spec);
        self.memory().best.insert(shelf, (opened, spec.clone()));
        Some(spec)
    }

    /// What a serve that is good enough costs at least on a shelf and on every smaller one, by the prices of one ml (or g)
    /// of each bottle; `None` where there is none, proved.
    pub fn floor(&self, shelf: &Set, prices: &[f64], (bottles, stop): (&Bottles, &Stop)) -> Option<f64> {
        let shelf = shelf.and(&self.bottles);
        let by: Vec<u64> = self.bottles.iter().map(|at| prices[at].to_bits()).collect();
        let known = self.memory().floor.iter().find_map(|((from, same), (opened, floor))| {
            (*same == by && shelf.within(from) && opened.within(&shelf)).then_some(*floor)
        });
        if known.is_some() {
            return known;
        }
        let brief = self.on(&shelf)?;
        self.spend(&brief);
        let own = self.bottles.iter().all(|at| prices[at] == bottles.unit_price(at));
        let brief = if own { brief } else { self.priced(brief, prices, bottles) };
        let of_money = matches!(brief.aim, Aim::Lowest(Goal::Measure(m)) | Aim::Highest(Goal::Measure(m)) if is_money(m));
        let mut model = Model::new(&brief);
        // By other prices its own aim at money says nothing.
        if own || !of_money {
            model.objective_bounds.push((Objective::of(&model), self.ceiling));
        }
        let objective = Objective::goal(&model, Goal::Measure(Measure::Cost), Sense::Low);
        let found = search_within(&model, &objective, Wanted::best(1), stop, CHEAPEST);
        let Some(entry) = found.entries.first() else {
            return (!found.complete).then_some(found.bound.max(0.0));
        };
        let floor = if found.complete { entry.score } else { found.bound.min(entry.score) };
        let opened = self.opened(&measured(&model, &objective, entry));
        self.memory().floor.insert((shelf, by), (opened, floor));
        Some(floor)
    }

    fn spend(&self, brief: &Brief) {
        self.spent.fetch_add(brief.usable().count() as u64, Ordering::Relaxed);
    }

    /// The brief by other prices. What depends on money in it is left out: without it, the cost is no higher.
    fn priced(&self, mut brief: Brief, prices: &[f64], bottles: &Bottles) -> Brief {
        for (candidate, uses) in brief.candidates.iter_mut().zip(&bottles.uses[self.number]) {
            candidate.cost_per_unit = Some(uses.iter().map(|one| one.each * prices[one.bottle]).sum());
        }
        brief.targets.retain(|target| !is_money(target.measure));
        brief.hold.retain(|hold| !is_money(hold.measure));
        brief
    }
}

fn is_money(measure: Measure) -> bool {
    matches!(measure, Measure::Cost | Measure::PourCost)
}
