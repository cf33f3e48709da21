//! What each drink can do with a part of the bottles, asked with as few searches as possible: a spec that was found
//! answers for every shelf that has its bottles, and a proof that there is none for every smaller shelf.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Mutex, MutexGuard, PoisonError};

use super::{Bottles, Set};
use crate::brief::{Aim, Brief, Goal, Measure};
use crate::explain::side_by_side::side_by_side;
use crate::explain::swap::best;
use crate::model::{Model, Objective, Sense};
use crate::quantity::Price;
use crate::solve::incumbents::same_score_margin;
use crate::solve::search::{search_within, seek};
use crate::solve::{Patience, Quest, Spec, Stop, Wanted, measured};

/// No search for any spec looks at more nodes than this.
const NODES: u64 = 60_000;
/// A search for the cheapest spec goes over no more figures than this: some 50 ms.
const CHEAPEST: u64 = 60_000_000;

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
    /// What a serve costs at least on a shelf, with some bottles free, and what the cheapest spec opens.
    floor: BTreeMap<(Set, Set), (Set, f64)>,
}

/// All drinks that can be made with every bottle there.
#[derive(Debug)]
pub struct Oracle<'a> {
    /// The bottles.
    pub bottles: &'a Bottles,
    /// The drinks.
    pub drinks: Vec<Drink<'a>>,
    workers: usize,
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
        let best = |drink: &Drink<'a>| {
            (drink.can(shelf, self.stop) == Verdict::Can).then(|| drink.best_on(shelf, self.stop)).flatten()
        };
        self.of_each(best).into_iter().collect()
    }

    /// How much has been searched for best and cheapest specs so far, the same on every machine: candidates, search by
    /// search.
    pub fn spent(&self) -> u64 {
        self.drinks.iter().map(|drink| drink.spent.load(Ordering::Relaxed)).sum()
    }

    /// What a week's pours cost at least on a shelf and on every smaller one, with some bottles free; `None` where a drink
    /// is proved impossible.
    pub fn floor(&self, shelf: &Set, free: &Set) -> Option<f64> {
        let of_each =
            self.of_each(|drink| Some(drink.serves * drink.floor(shelf, free, (self.bottles, self.stop))?));
        of_each.into_iter().sum()
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
            memory: Mutex::new(memory),
            spent: AtomicU64::new(0),
        })
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
        let patience = Patience { stop, nodes: NODES };
        let found = seek(&model, &objective, Quest::Any, Some(self.ceiling), patience);
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

    /// The best spec by its own aim.
    pub fn best_on(&self, shelf: &Set, stop: &Stop) -> Option<Spec> {
        let shelf = shelf.and(&self.bottles);
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

    /// What a serve that is good enough costs at least on a shelf and on every smaller one, were some bottles free; `None`
    /// where there is none, proved.
    pub fn floor(&self, shelf: &Set, free: &Set, (bottles, stop): (&Bottles, &Stop)) -> Option<f64> {
        let (shelf, free) = (shelf.and(&self.bottles), free.and(&self.bottles));
        let known = self.memory().floor.iter().find_map(|((from, same), (opened, floor))| {
            (*same == free && shelf.within(from) && opened.within(&shelf)).then_some(*floor)
        });
        if known.is_some() {
            return known;
        }
        let brief = self.on(&shelf)?;
        self.spend(&brief);
        let brief = if free.is_empty() { brief } else { self.freed(brief, &free, bottles) };
        let of_money = matches!(brief.aim, Aim::Lowest(Goal::Measure(m)) | Aim::Highest(Goal::Measure(m)) if is_money(m));
        let mut model = Model::new(&brief);
        // By other prices its own aim at money says nothing.
        if free.is_empty() || !of_money {
            model.caps.push((Objective::of(&model), self.ceiling));
        }
        let objective = Objective::goal(&model, Goal::Measure(Measure::Cost), Sense::Low);
        let found = search_within(&model, &objective, Wanted::best(1), stop, CHEAPEST);
        let Some(entry) = found.entries.first() else {
            return (!found.complete).then_some(found.bound.max(0.0));
        };
        let floor = if found.complete { entry.score } else { found.bound.min(entry.score) };
        let opened = self.opened(&measured(&model, &objective, entry));
        self.memory().floor.insert((shelf, free), (opened, floor));
        Some(floor)
    }

    fn spend(&self, brief: &Brief) {
        self.spent.fetch_add(brief.usable().count() as u64, Ordering::Relaxed);
    }

    /// The brief with some bottles free. What depends on money in it is left out: without it, the cost is no higher.
    fn freed(&self, mut brief: Brief, free: &Set, bottles: &Bottles) -> Brief {
        for (candidate, uses) in brief.candidates.iter_mut().zip(&bottles.uses[self.number]) {
            let price = |at: usize| bottles.all[at].price.as_ref().map(Price::per_unit);
            let paid = uses.iter().filter(|one| !free.has(one.bottle));
            let cost: Option<f64> = paid.map(|one| Some(one.each * price(one.bottle)?)).sum();
            candidate.cost_per_unit = candidate.cost_per_unit.and(cost);
        }
        brief.targets.retain(|target| !is_money(target.measure));
        brief.hold.retain(|hold| !is_money(hold.measure));
        brief
    }
}

fn is_money(measure: Measure) -> bool {
    matches!(measure, Measure::Cost | Measure::PourCost)
}
