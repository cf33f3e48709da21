//! What each drink can do with a part of the bottles, asked with as few searches as possible: a spec that was found
//! answers for every shelf that has its bottles, and a proof that there is none for every smaller shelf.

use std::collections::BTreeMap;
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

/// The cheapest spec of a drink on a shelf.
#[derive(Debug, Clone, PartialEq)]
pub struct Cheapest {
    /// The spec.
    pub spec: Spec,
    /// Nothing on this shelf costs less, a serve.
    pub bound: f64,
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
    /// The worst score that will do, low being better.
    ceiling: f64,
    /// The bottles that may matter to it.
    pub bottles: Set,
    /// What each of its candidates needs.
    needs: Vec<Set>,
    memory: Mutex<Memory>,
}

/// What is known of a drink.
#[derive(Debug, Default)]
struct Memory {
    can: Vec<Set>,
    cannot: Vec<Set>,
    cheapest: BTreeMap<Set, Option<Cheapest>>,
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

    /// The cheapest spec of every drink on a shelf; `None` where one cannot be made.
    pub fn cheapest(&self, shelf: &Set) -> Option<Vec<Cheapest>> {
        self.of_each(|drink| drink.cheapest(shelf, self.stop)).into_iter().collect()
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
            ceiling,
            bottles: relevant,
            needs,
            memory: Mutex::new(memory),
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
        if self.opened(&self.best).within(shelf) {
            return Some(self.best.clone());
        }
        best(&self.on(shelf)?, stop).specs.into_iter().next()
    }

    /// The cheapest spec that is good enough; `None` where there is none.
    pub fn cheapest(&self, shelf: &Set, stop: &Stop) -> Option<Cheapest> {
        let shelf = shelf.and(&self.bottles);
        if let Some(known) = self.memory().cheapest.get(&shelf) {
            return known.clone();
        }
        let found = self.found_cheapest(&shelf, stop);
        if let Some(found) = &found {
            let opened = self.opened(&found.spec);
            let mut memory = self.memory();
            memory.can.push(opened);
            // Every shelf between what it opens and this one has the same cheapest spec: this is the least such.
            memory.cheapest.insert(opened, Some(found.clone()));
        }
        self.memory().cheapest.insert(shelf, found.clone());
        found
    }

    fn found_cheapest(&self, shelf: &Set, stop: &Stop) -> Option<Cheapest> {
        let known = || {
            let memory = self.memory();
            let between = |(from, found): (&Set, &Option<Cheapest>)| {
                let found = found.as_ref()?;
                (shelf.within(from) && self.opened(&found.spec).within(shelf)).then(|| found.clone())
            };
            memory.cheapest.iter().find_map(between)
        };
        if let Some(found) = known() {
            return Some(found);
        }
        Self::priced(&self.on(shelf)?, Some(self.ceiling), stop)
    }

    /// The cheapest spec of a brief that scores at most so much by its own aim.
    fn priced(brief: &Brief, ceiling: Option<f64>, stop: &Stop) -> Option<Cheapest> {
        let mut model = Model::new(brief);
        if let Some(ceiling) = ceiling {
            model.caps.push((Objective::of(&model), ceiling));
        }
        let objective = Objective::goal(&model, Goal::Measure(Measure::Cost), Sense::Low);
        let found = search_within(&model, &objective, Wanted::best(1), stop, CHEAPEST);
        let entry = found.entries.first()?;
        let bound = if found.complete { entry.score } else { found.bound.min(entry.score) };
        Some(Cheapest { spec: measured(&model, &objective, entry), bound })
    }

    /// What a serve costs at least on a shelf, were some bottles free; `None` where it cannot be made.
    ///
    /// What depends on money in the brief itself (a limit on the cost, an aim at it) is left out: by other prices it
    /// says nothing, and without it the cost is no higher.
    pub fn cheapest_with(&self, shelf: &Set, free: &Set, bottles: &Bottles, stop: &Stop) -> Option<f64> {
        let mut brief = self.on(shelf)?;
        for (candidate, uses) in brief.candidates.iter_mut().zip(&bottles.uses[self.number]) {
            let priced = |at: usize| bottles.all[at].price.as_ref().map(Price::per_unit);
            let paid = uses.iter().filter(|one| !free.has(one.bottle));
            let cost: Option<f64> = paid.map(|one| Some(one.each * priced(one.bottle)?)).sum();
            candidate.cost_per_unit = candidate.cost_per_unit.and(cost);
        }
        let money = |measure: Measure| matches!(measure, Measure::Cost | Measure::PourCost);
        brief.targets.retain(|target| !money(target.measure));
        brief.hold.retain(|hold| !money(hold.measure));
        let of_money =
            matches!(brief.aim, Aim::Lowest(Goal::Measure(m)) | Aim::Highest(Goal::Measure(m)) if money(m));
        let ceiling = (!of_money).then_some(self.ceiling);
        Self::priced(&brief, ceiling, stop).map(|found| found.bound)
    }
}
