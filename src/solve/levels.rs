//! Steadier specs: the best by the aim that hold in at least so many serves, and the one that holds in the most.
//!
//! Room at the limits says where to look (`steadiness`): under ever lower ceilings of the aim the specs with the
//! most room are counted. What was found so is then held to proof, set by set (`share`), as far as the effort
//! goes. All levels have one effort, and all specs the same serves.

use super::capped::capped;
use super::good;
use super::share::{LISTS, in_share_from, in_share_within};
use super::steadiness::{lack_of_room, roomiest};
use super::within::search_within;
use super::{Solved, Spec, Stop, measured};
use crate::brief::{Brief, HoldFor};
use crate::model::{Model, Objective};
use crate::search::{Entry, Judge, Searched, Wanted};
use crate::simulate::{Run, SERVES, Serves, threads};

/// More than this is not gone over where an effort is set: less than a second, most of which goes into serves.
const LONGEST: u64 = 350_000_000;
/// What all levels together take at most, in figures gone over.
const EFFORT: u64 = 60_000_000;
/// One part in so many of it is for one search for room, and one in so many for the first.
const SEARCHES: u64 = 20;
const FIRST: u64 = 6;
/// So many sets of ingredients with the most room are counted where nothing else is asked.
const ROOMY: usize = 6;
/// How often the way from the best to a steadier spec is cut in half.
const HALVINGS: usize = 5;

/// A spec and how many of the serves it holds in.
#[derive(Debug, Clone, PartialEq)]
pub struct Steady {
    /// The spec.
    pub spec: Spec,
    /// So many of [`SERVES`] are within all targets.
    pub within: usize,
}

/// The best spec that holds in at least a share of serves.
#[derive(Debug, Clone, PartialEq)]
pub struct Level {
    /// The share asked for, 0 to 1.
    pub level: f64,
    /// The best spec that holds so often; nothing where none was found.
    pub found: Option<Steady>,
    /// Whether it is proved that no better spec does, or none at all.
    pub proved: bool,
}

/// What is steadier than the best.
#[derive(Debug, Clone, PartialEq)]
pub struct Levels {
    /// Every level that the best does not meet, in their order.
    pub levels: Vec<Level>,
    /// The spec that holds in the most serves, of all that were looked at.
    pub steadiest: Option<Steady>,
}

/// Looks for specs that are steadier than the best of an answer. A brief that is held to a share of its serves, or to every
/// composition, is held to it here as well.
pub fn levels(brief: &Brief, solved: &Solved, levels: &[f64], stop: &Stop) -> Levels {
    let model = Model::new(brief);
    let objective = Objective::of(&model);
    let serves = Serves::new(brief, Run::First);
    let mut looked = Looking {
        model: &model,
        objective: &objective,
        serves: &serves,
        seen: vec![],
        left: stop.effort().min(EFFORT),
        stop,
    };
    for spec in &solved.specs {
        looked.count(looked.entry(spec));
    }
    let Some(best) = looked.seen.first().cloned() else { return Levels { levels: vec![], steadiest: None } };
    let asked: Vec<f64> = levels.iter().copied().filter(|level| !meets(best.1, *level)).collect();
    if !asked.is_empty() {
        looked.roomiest(None);
    }
    let found = asked.iter().map(|level| looked.level(best.0.score, *level)).collect();
    let most = looked.seen.iter().max_by(|a, b| a.1.cmp(&b.1).then(b.0.score.total_cmp(&a.0.score)));
    Levels { levels: found, steadiest: most.map(|(entry, within)| looked.steady(entry, *within)) }
}

/// Searches a model whose specs have to hold in a share of the serves.
pub fn in_share(model: &Model, objective: &Objective, wanted: Wanted, share: f64, stop: &Stop) -> Searched {
    // Who sets no end waits for the proof.
    let effort = if stop.effort() == u64::MAX { u64::MAX } else { stop.effort().min(LONGEST) };
    let (known, spent) = holding(model, objective, (wanted.specs, share), (stop, effort / LISTS));
    in_share_from(model, objective, (wanted, share), (stop, effort.saturating_sub(spent)), known)
}

/// Specs that hold in a share of the serves, without proof that they are the best of them: one of each of at most so many
/// sets of ingredients, and what that took. Each of them is judged by the model itself.
fn holding(
    model: &Model,
    objective: &Objective,
    (specs, share): (usize, f64),
    (stop, effort): (&Stop, u64),
) -> (Vec<Entry>, u64) {
    let mut typical = model.clone();
    typical.serves = None;
    let serves = Serves::new(model.brief, Run::First);
    let found = search_within(&typical, objective, Wanted::best(specs), stop, effort / 2);
    let left = effort.saturating_sub(found.spent);
    let mut looked = Looking { model: &typical, objective, serves: &serves, seen: vec![], left, stop };
    let Some(best) = found.entries.first().map(|entry| entry.score) else { return (vec![], found.spent) };
    found.entries.into_iter().for_each(|entry| looked.count(Some(entry)));
    looked.roomiest(None);
    looked.halve(best, share);
    if looked.best(share).is_none() {
        looked.as_good(specs);
        looked.halve(best, share);
    }
    let spent = effort.saturating_sub(looked.left);
    let holding = looked.seen.into_iter().filter(|(_, within)| meets(*within, share)).map(|(entry, _)| entry);
    (holding.collect(), spent)
}

/// Whether a count of serves is at least a share of them.
fn meets(within: usize, level: f64) -> bool {
    within as f64 >= level * SERVES as f64 - 1e-6
}

/// The search as it stands.
struct Looking<'a> {
    model: &'a Model<'a>,
    objective: &'a Objective,
    serves: &'a Serves<'a>,
    /// Every spec that was counted, the best of the answer first.
    seen: Vec<(Entry, usize)>,
    left: u64,
    stop: &'a Stop,
}

impl Looking<'_> {
    fn entry(&self, spec: &Spec) -> Option<Entry> {
        let column = |candidate| self.model.columns.iter().position(|c| c.candidate == candidate);
        let rank = crate::search::ranks(self.model);
        let mut used: Vec<(usize, f64)> = spec
            .pours
            .iter()
            .filter_map(|p| column(p.candidate).map(|c| (c, p.amount / self.model.columns[c].unit)))
            .map(|(c, units)| (c, if self.model.columns[c].whole { units.round() } else { units }))
            .collect();
        used.sort_by_key(|(c, _)| rank[*c]);
        let (set, units) = used.into_iter().unzip();
        Judge { model: self.model, objective: self.objective }.entry(set, units)
    }

    fn steady(&self, entry: &Entry, within: usize) -> Steady {
        Steady { spec: measured(self.model, self.objective, entry), within }
    }

    /// Counts the serves of a spec that has not been seen.
    fn count(&mut self, entry: Option<Entry>) {
        let Some(entry) = entry else { return };
        if self.seen.iter().any(|(e, _)| e.set == entry.set && e.units == entry.units) {
            return;
        }
        let pours = Judge { model: self.model, objective: self.objective }.pours(&entry.set, &entry.units);
        let within = self.serves.holding(&pours, &self.model.targets(), threads());
        self.seen.push((entry, within));
    }

    /// Counts the specs with the most room that score at most so much.
    fn roomiest(&mut self, ceiling: Option<f64>) {
        let Some((known, _)) = self.seen.iter().max_by_key(|(_, within)| *within).cloned() else { return };
        let Some(room) = lack_of_room(self.model, self.serves, &known) else { return };
        let model = ceiling.map(|most| capped(self.model, self.objective, most));
        let model = model.as_ref().unwrap_or(self.model);
        let (specs, share) = if ceiling.is_some() { (1, SEARCHES) } else { (ROOMY, FIRST) };
        let effort = self.left.min(EFFORT / share);
        let (found, spent) = roomiest(model, (self.objective, &room), specs, (self.stop, effort));
        self.left = self.left.saturating_sub(spent);
        found.into_iter().for_each(|entry| self.count(Some(entry)));
    }

    /// Counts the steadiest of the specs that are as good as the best, and what has the most room around them: how far
    /// serves stray differs from spec to spec, so that from elsewhere other specs have it.
    fn as_good(&mut self, specs: usize) {
        let wanted = (Wanted::best(specs), self.model.brief.resolution);
        let chosen = good::choose(self.model, self.objective, wanted, (self.stop, self.left));
        self.left = self.left.saturating_sub(chosen.spent);
        let before = std::mem::take(&mut self.seen);
        chosen.entries.into_iter().for_each(|entry| self.count(Some(entry)));
        self.roomiest(None);
        self.seen.splice(0..0, before);
    }

    /// The spec with the best score among those seen that hold in a share of serves.
    fn best(&self, level: f64) -> Option<&(Entry, usize)> {
        let holding = self.seen.iter().filter(|(_, within)| meets(*within, level));
        holding.min_by(|a, b| a.0.score.total_cmp(&b.0.score))
    }

    /// Looks for the best spec of a level, and for a proof.
    fn level(&mut self, best: f64, level: f64) -> Level {
        self.halve(best, level);
        let proved = self.prove(level);
        Level { level, found: self.best(level).map(|(entry, within)| self.steady(entry, *within)), proved }
    }

    /// Looks for the best spec of a level between a score that is too good for it and the best that is known to do.
    fn halve(&mut self, best: f64, level: f64) {
        let mut low = best;
        for _ in 0..HALVINGS {
            let Some(high) = self.best(level).map(|(entry, _)| entry.score) else { break };
            if self.left == 0 || self.stop.raised() || high - low <= 1e-6 * high.abs() {
                break;
            }
            let middle = f64::midpoint(low, high);
            self.roomiest(Some(middle));
            if self.best(level).is_none_or(|(entry, _)| entry.score > middle) {
                low = middle;
            }
        }
    }

    /// Looks for anything better that holds as often; whether there is certainly nothing that is not seen.
    fn prove(&mut self, level: f64) -> bool {
        let HoldFor::Typical = self.model.brief.variation.hold else { return false };
        let mut asked = self.model.brief.clone();
        asked.variation.hold = HoldFor::Share(level);
        let model = Model::new(&asked);
        let ceiling = self.best(level).map(|(entry, _)| entry.score);
        let wanted = Wanted { ceiling, ..Wanted::best(1) };
        let effort = self.left / 2;
        let found = in_share_within(&model, self.objective, wanted, level, (self.stop, effort));
        self.left = self.left.saturating_sub(found.spent);
        found.entries.into_iter().for_each(|entry| self.count(Some(entry)));
        found.complete
    }
}
