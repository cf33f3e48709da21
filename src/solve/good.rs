//! Specs that are as good as the best: what is aimed for differs by no more than matters. Among them the one that holds
//! in the most serves comes first, then the cheaper, the one with fewer ingredients, the names.
//!
//! Every further spec is chosen the same way from what is left once the sets of ingredients before it are set aside:
//! as good are all that differ by no more than matters from the best of what is left.

use std::ops::Range;

use super::capped::capped;
use super::halves;
use super::steadiness::{lack_of_room, roomiest};
use super::within::search_in;
use crate::brief::Resolution;
use crate::model::{Model, Objective};
use crate::search::{
    Entry, Judge, Keep, Searched, Stop, Subproblems, Wanted, branch_in, in_steps, ranks, same_score_margin,
};
use crate::simulate::{Run, Serves, on_threads, threads};

/// What looking for the exact order takes at most, in figures gone over, before differences that do not matter are let
/// be; and what going through the specs that are as good takes.
const EXACT: u64 = 8_000_000;
/// The same where specs are put together from halves, which takes as long whatever is looked for.
const HALVES: u64 = 150_000_000;
/// What looking for alternatives takes at most where differences that do not matter are let be. What is left of the effort
/// is for the best alone.
const ALTERNATIVES: u64 = 25_000_000;
/// The same of the best alone, and of further specs from halves, where both are tried.
const BEST: u64 = 100_000_000;
const FURTHER: u64 = 400_000_000;
/// What looking for specs with room takes at most.
const ROOM: u64 = 8_000_000;
/// No more specs than this are served to find the steadiest.
const SERVED: usize = 48;
/// Where not all can be served, so many sets of ingredients with the most room are.
const ROOMY: usize = 12;
/// So many serves tell which specs may be the steadiest, then so many, and so on.
const GLANCES: [usize; 3] = [1000, 3000, 8000];
/// By so many standard deviations a spec lies behind in them before it is not served any further.
const DOUBT: f64 = 5.0;

/// How many of the specs that are as good were served.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Looked {
    /// All of them, so many.
    All(usize),
    /// So many of more.
    Some(usize),
}

/// What a search found where small differences do not matter.
pub struct Chosen {
    /// The specs, in their order.
    pub entries: Vec<Entry>,
    /// The spec with the best score.
    pub optimum: Option<Entry>,
    /// No spec scores better than this.
    pub least: f64,
    /// Whether no spec at all is better than the optimum.
    pub exact: bool,
    /// Whether no set of ingredients comes before those listed by more than matters.
    pub complete: bool,
    /// Whether no spec is better than the first by more than matters.
    pub proved: bool,
    /// What does not matter, as a score.
    pub to: f64,
    /// How many of those as good as the best were served.
    pub looked: Looked,
    /// So many figures were gone over.
    pub spent: u64,
}

/// A way to go on from what is known with an effort, the most that it may take, and whether it is about all that is wanted.
type Step<'s> = (&'s dyn Fn(&Known, u64) -> Option<Searched>, u64, bool);

/// Searches a model where differences below a resolution do not matter.
pub fn choose(
    model: &Model,
    objective: &Objective,
    (wanted, to): (Wanted, Resolution),
    (stop, effort): (&Stop, u64),
) -> Chosen {
    let halves = halves::apply(model, objective);
    let by_halves = halves && halves::distance(objective);
    let subproblems = Subproblems::prepared(model, objective);
    let branch = |wanted, effort| branch_in(&subproblems, wanted, stop, effort);
    let most = if by_halves { HALVES } else { EXACT };
    let exact = search_in(&subproblems, wanted, stop, effort.min(most));
    let mut known = Known::of(&exact, objective.floor(model));
    let to = to.at(known.best().unwrap_or(f64::NAN));
    let mut complete = exact.complete;
    let coarse = Wanted { slack: to, ..wanted };
    let parts = |known: &Known, effort, parts| {
        halves::search(model, objective, coarse, known.least, (stop, effort, parts))
    };
    let first = |known: &Known, effort| parts(known, effort, 0..halves::PARTS);
    let further = |known: &Known, effort| parts(known, effort, halves::PARTS..halves::ALL_PARTS);
    let alternatives = |_: &Known, effort| Some(branch(coarse, effort));
    // Only what is better than what is known by more than matters is of interest.
    let alone = |known: &Known, effort| {
        let ceiling = known.best().map(|best| best - to);
        let wanted = Wanted { specs: 1, ceiling, ..coarse };
        let found = branch(wanted, effort);
        Some(Searched { bound: found.bound.min(ceiling.unwrap_or(f64::INFINITY)), ..found })
    };
    let steps: &[Step] = if by_halves {
        &[(&first, HALVES, true), (&further, FURTHER, true), (&alone, BEST, false)]
    } else if halves {
        let branches: Step = (&alternatives, ALTERNATIVES / 4, true);
        let halves: Step = (&first, HALVES, false);
        let soon: Step = (&alone, ALTERNATIVES, false);
        // Of a ratio branching proves the best at most, and nothing of what comes after it.
        let [one, two, three] =
            if objective.is_over_acid() { [halves, soon, branches] } else { [branches, soon, halves] };
        &[one, two, three, (&alone, BEST, false), (&further, FURTHER, false), (&alone, u64::MAX, false)]
    } else {
        &[(&alternatives, ALTERNATIVES, true), (&alone, u64::MAX, false)]
    };
    for (number, (step, most, all)) in steps.iter().enumerate() {
        if complete || (number > 0 && known.proved(to)) {
            break;
        }
        // Where the best is proved already, this is about what comes after it.
        let most = if known.proved(to) { ALTERNATIVES.min(*most) } else { *most };
        if let Some(found) = step(&known, effort.saturating_sub(known.spent).min(most)) {
            complete = found.complete && *all;
            known.and(&found, to);
        }
        complete |= known.all_as_good(wanted.specs, to);
    }
    known.choose(&subproblems, (wanted, to), (exact.complete, complete), (stop, effort))
}

/// What is known of a brief's specs.
struct Known {
    /// Specs that were found.
    pool: Vec<Entry>,
    /// No spec scores better than this.
    least: f64,
    /// So many figures were gone over for it.
    spent: u64,
}

impl Known {
    fn of(found: &Searched, floor: f64) -> Self {
        let pool = found.entries.clone();
        let best = pool.first().map_or(f64::INFINITY, |e| e.score);
        Self { pool, least: found.bound.min(best).max(floor), spent: found.spent }
    }

    /// Adds what a search found of which no spec that it did not list is better by more than `slack`.
    fn and(&mut self, found: &Searched, slack: f64) {
        self.spent += found.spent;
        let best = found.entries.first().map_or(f64::INFINITY, |e| e.score);
        self.least = self.least.max(found.bound.min(best - slack));
        found.entries.iter().for_each(|entry| self.add(entry));
        // What was found may lie under a bound by rounding alone.
        self.least = self.best().map_or(self.least, |best| self.least.min(best));
    }

    fn add(&mut self, entry: &Entry) {
        if !self.pool.iter().any(|e| e.set == entry.set && e.units == entry.units) {
            self.pool.push(entry.clone());
        }
    }

    /// Whether no spec is better than the best by more than matters.
    fn proved(&self, to: f64) -> bool {
        self.best().is_some_and(|best| best <= reach(self.least, to))
    }

    /// Whether so many sets of ingredients are known of which nothing is better by more than matters: then no other one comes
    /// before them by more.
    fn all_as_good(&self, sets: usize, to: f64) -> bool {
        let mut seen: Vec<&[usize]> = vec![];
        for entry in self.pool.iter().filter(|entry| entry.score <= reach(self.least, to)) {
            if !seen.contains(&entry.set.as_slice()) {
                seen.push(&entry.set);
            }
        }
        seen.len() >= sets
    }

    fn best(&self) -> Option<f64> {
        self.pool.iter().map(|e| e.score).min_by(f64::total_cmp)
    }

    fn choose(
        mut self,
        subproblems: &Subproblems,
        (wanted, to): (Wanted, f64),
        (exact, mut complete): (bool, bool),
        (stop, effort): (&Stop, u64),
    ) -> Chosen {
        let judge = subproblems.judge();
        let Judge { model, objective } = judge;
        let rank = ranks(model);
        let serves = Serves::new(model.brief, Run::First);
        let all = exact && self.list(subproblems, to, (stop, effort));
        // What is as near as matters to the middle of all ranges has the same room as the rest of its kind.
        if !all && !stop.raised() && !halves::distance(objective) {
            self.look_for_room((model, objective), &serves, to, (stop, effort));
            complete |= self.all_as_good(wanted.specs, to);
        }
        let good = self.pool.iter().filter(|e| e.score <= reach(self.least, to)).count();
        self.pool.sort_by(|a, b| a.order(b, &rank));
        let optimum = self.pool.first().cloned();
        let mut counted = Counted {
            judge,
            serves: &serves,
            glances: vec![(0, vec![]); self.pool.len()],
            shares: vec![None; self.pool.len()],
        };
        let entries = order(&self.pool, &mut counted, (self.least, to), wanted, &rank);
        let best = optimum.as_ref().map_or(f64::INFINITY, |e| e.score);
        // Where scores come in steps, less than a step better is nothing better.
        let least = objective.step().map_or(self.least, |step| in_steps(self.least, step));
        let exact = exact || least >= best - same_score_margin(best);
        Chosen {
            entries,
            least: if exact { best } else { least },
            exact,
            complete,
            proved: complete || exact || best <= reach(self.least, to),
            to,
            looked: if all { Looked::All(good) } else { Looked::Some(good) },
            optimum,
            spent: self.spent,
        }
    }

    /// Lists everything that is as good as any of the sets that are listed; whether that is all there is.
    fn list(&mut self, subproblems: &Subproblems, to: f64, (stop, effort): (&Stop, u64)) -> bool {
        let Judge { model, objective } = subproblems.judge();
        let last = self.pool.iter().map(|e| e.score).fold(f64::NEG_INFINITY, f64::max);
        let ceiling = Some(reach(last, to)).filter(|ceiling| ceiling.is_finite());
        let wanted = Wanted { ceiling, keep: Keep::Every, ..Wanted::best(SERVED) };
        let distance = halves::apply(model, objective) && halves::distance(objective);
        let most = if distance { HALVES } else { EXACT };
        let found = search_in(subproblems, wanted, stop, effort.min(most));
        self.spent += found.spent;
        found.entries.iter().for_each(|entry| self.add(entry));
        let all = found.complete && found.entries.len() < SERVED;
        // Even where the list is full, those as good as the best may be all on it.
        let beyond = found.entries.last().is_some_and(|e| e.score > reach(self.least, to));
        let free = model.columns.iter().any(|column| !column.whole);
        (all || found.complete && beyond) && !free
    }

    /// Adds those of the specs as good as the best that have the most room at their limits.
    fn look_for_room(
        &mut self,
        (model, objective): (&Model, &Objective),
        serves: &Serves,
        to: f64,
        (stop, effort): (&Stop, u64),
    ) {
        let best = self.pool.iter().min_by(|a, b| a.score.total_cmp(&b.score));
        let Some(best) = best.cloned() else { return };
        let Some(room) = lack_of_room(model, serves, &best) else { return };
        let model = capped(model, objective, reach(self.least, to).max(best.score));
        let (found, spent) = roomiest(&model, (objective, &room), ROOMY, (stop, effort.min(ROOM)));
        self.spent += spent;
        found.iter().for_each(|entry| self.add(entry));
    }
}

/// The worst score that is as good as another.
fn reach(score: f64, to: f64) -> f64 {
    score + to + same_score_margin(score)
}

/// In how many serves specs hold, counted when it is asked.
struct Counted<'a> {
    judge: Judge<'a>,
    serves: &'a Serves<'a>,
    /// Of each spec, in which of so many first serves it holds.
    glances: Vec<(usize, Vec<usize>)>,
    /// Of each spec, in how many of all.
    shares: Vec<Option<usize>>,
}

impl Counted<'_> {
    fn of(&mut self, at: usize, entry: &Entry) -> usize {
        *self.shares[at].get_or_insert_with(|| {
            let pours = self.judge.pours(&entry.set, &entry.units);
            self.serves.holding(&pours, &self.judge.model.targets(), threads())
        })
    }

    /// Looks at the first so many serves of specs.
    fn look(&mut self, pool: &[Entry], specs: &[usize], serves: usize) {
        let (limits, seen) = (self.judge.model.targets(), |at: usize| self.glances[at].0);
        let short: Vec<usize> = specs.iter().copied().filter(|at| seen(*at) < serves).collect();
        let meeting = |at: &usize| {
            let numbers: Vec<usize> = (seen(*at)..serves).collect();
            let pours = self.judge.pours(&pool[*at].set, &pool[*at].units);
            self.serves.meeting(&pours, &limits, &numbers, |_| true)
        };
        let of_some = |some: Range<usize>| short[some].iter().map(meeting).collect::<Vec<_>>();
        let held = on_threads(threads(), short.len(), of_some).concat();
        for (at, more) in short.into_iter().zip(held) {
            self.glances[at].0 = serves;
            self.glances[at].1.extend(more);
        }
    }

    /// Those that may hold in the most serves, by ever more of them. Of two specs in the same serves only those count in
    /// which one holds and the other does not; that what they show is turned by all the others is one case in millions.
    fn contenders(&mut self, pool: &[Entry], good: &[usize]) -> Vec<usize> {
        let mut left = good.to_vec();
        for serves in GLANCES {
            if left.len() < 2 {
                break;
            }
            left = self.contenders_by(pool, &left, serves);
        }
        left
    }

    fn contenders_by(&mut self, pool: &[Entry], good: &[usize], serves: usize) -> Vec<usize> {
        self.look(pool, good, serves);
        let held = |at: usize| &self.glances[at].1;
        let first = |at: usize| held(at).partition_point(|number| *number < serves);
        let counts: Vec<usize> = good.iter().map(|at| first(*at)).collect();
        let leader = good.iter().zip(&counts).max_by_key(|(_, count)| **count);
        let Some((leader, most)) = leader else { return vec![] };
        let leading = &held(*leader)[..*most];
        let may = |(at, count): (&usize, &usize)| {
            let lost = leading.iter().filter(|number| held(*at).binary_search(number).is_err()).count();
            let gained = count + lost - leading.len();
            (lost - gained) as f64 <= DOUBT * ((lost + gained) as f64).sqrt()
        };
        good.iter().zip(&counts).filter(|pair| may(*pair)).map(|(at, _)| *at).collect()
    }
}

/// The steadiest of those as good as the best, then the steadiest of what is left, and so on.
fn order(
    pool: &[Entry],
    counted: &mut Counted,
    (least, to): (f64, f64),
    wanted: Wanted,
    rank: &[usize],
) -> Vec<Entry> {
    let band = wanted.within.map_or(f64::INFINITY, |share| least + share * least.abs());
    let band = band + same_score_margin(band);
    let mut left: Vec<usize> = (0..pool.len()).collect();
    let mut chosen: Vec<Entry> = vec![];
    while let (true, Some(first)) = (chosen.len() < wanted.specs, left.first()) {
        // They are in the order of their scores. What is as good as the bound is as good as the best.
        let from = if chosen.is_empty() { pool[*first].score.min(least) } else { pool[*first].score };
        let limit = if chosen.is_empty() {
            reach(from, to).max(pool[*first].score)
        } else {
            reach(from, to).min(band)
        };
        let good: Vec<usize> = left.iter().copied().filter(|at| pool[*at].score <= limit).collect();
        let contenders = if good.len() > 1 { counted.contenders(pool, &good) } else { good };
        let several = contenders.len() > 1;
        let shares: Vec<(usize, usize)> = contenders
            .into_iter()
            .map(|at| (if several { counted.of(at, &pool[at]) } else { 0 }, at))
            .collect();
        let best = shares.into_iter().min_by(|a, b| {
            let (left, right) = (&pool[a.1], &pool[b.1]);
            b.0.cmp(&a.0).then_with(|| left.order_but_score(right, rank))
        });
        let Some((_, best)) = best else { break };
        chosen.push(pool[best].clone());
        left.retain(|at| pool[*at].set != pool[best].set);
    }
    chosen
}
