//! The smallest total relative change of the targets that lets a spec through, and the best spec then.

use super::cores::bits;
use crate::brief::{Brief, Limit, Side};
use crate::explain::demand::{Demand, without};
use crate::explain::loosen::{Change, changed, loosen};
use crate::explain::oracle::{Oracle, Set, Verdict};
use crate::model::{Model, Objective, Soft, Together};
use crate::solve::{SearchMode, Spec, measured};

/// A brief made possible.
#[derive(Debug, Clone, PartialEq)]
pub struct Relaxed {
    /// What changes.
    pub changes: Vec<Change>,
    /// The sum of the changes, each over the figure that was asked for (over 1 where that is zero).
    pub total: f64,
    /// The best spec of the changed brief, by its own aim.
    pub spec: Spec,
    /// Whether it is proved that no smaller total would do.
    pub proved: bool,
}

/// Finds the smallest total change: of any targets together, or of one rule alone. Where the rules
/// cannot even be kept without the targets, one rule of each core that has no target in it is changed
/// first, as little as the others allow. What is `fixed` does not change.
pub fn relaxed(oracle: &mut Oracle, cores: &[Set], enough: &[Change], fixed: Set) -> Option<Relaxed> {
    let brief = oracle.model.brief;
    let rules = fixed | oracle.those(|d| !d.is_target());
    match oracle.can(rules) {
        Verdict::Can => {
            let one = smallest(oracle, enough, fixed);
            let most = one.map_or(f64::INFINITY, relative);
            let many = stretched(oracle, brief, vec![], rules, most);
            let one = one.filter(|_| many.as_ref().is_none_or(|m| m.total > most));
            one.and_then(|change| single(oracle, change)).or(many)
        }
        Verdict::Cannot if fixed == 0 => {
            let (changes, possible) = rules_first(oracle, cores)?;
            let mut inner = Oracle::new(&possible, oracle.demands.clone(), oracle.effort);
            let rules = inner.those(|d| !d.is_target());
            (inner.can(rules) == Verdict::Can).then_some(())?;
            stretched(&mut inner, brief, changes, rules, f64::INFINITY)
        }
        // Without what is fixed a single rule may still do.
        Verdict::Cannot => single(oracle, smallest(oracle, enough, fixed)?),
        Verdict::Unknown => None,
    }
}

/// The smallest change of one rule alone that is enough, of those that are not fixed.
fn smallest<'c>(oracle: &Oracle, enough: &'c [Change], fixed: Set) -> Option<&'c Change> {
    let held = oracle.members(fixed);
    let one = enough.iter().filter(|c| !c.demand.is_target() && !held.contains(&c.demand));
    one.min_by(|a, b| relative(a).total_cmp(&relative(b)))
}

/// One change of one rule, and the best spec then.
fn single(oracle: &Oracle, change: &Change) -> Option<Relaxed> {
    let brief = oracle.model.brief;
    let spec = best_within(oracle, brief, &changed(brief, change))?;
    Some(Relaxed { changes: vec![change.clone()], total: relative(change), spec, proved: change.proved })
}

/// Loosens rules until they can be kept together: one of each core that has no target in it.
fn rules_first(oracle: &Oracle, cores: &[Set]) -> Option<(Vec<Change>, Brief)> {
    let targets = oracle.those(Demand::is_target);
    let bare = without(oracle.model.brief, &oracle.members(targets));
    let mut given_up: Set = 0;
    for core in cores.iter().filter(|core| **core & targets == 0) {
        if core & given_up == 0 {
            // What has to be used gives way last.
            let must = |at: &usize| matches!(oracle.demands[*at], Demand::Must(_));
            let members = bits(*core);
            given_up |= 1 << members.iter().rev().find(|at| !must(at)).or(members.last())?;
        }
    }
    let mut open = without(&bare, &oracle.members(given_up));
    let mut possible = oracle.model.brief.clone();
    let mut changes = vec![];
    // One rule after another comes back, as much loosened as the others then need.
    for demand in oracle.members(given_up) {
        let mut back = open.clone();
        demand.take_back(&mut back, &bare);
        let loosened = loosen(&back, demand, None, oracle.effort)?;
        let change = loosened.changes.into_iter().next()?;
        open = changed(&back, &change);
        possible = changed(&possible, &change);
        changes.push(change);
    }
    Some((changes, possible))
}

/// The sum of relative misses made least over the targets, the rules kept, and at most `most`; then
/// the best spec within.
fn stretched(
    oracle: &mut Oracle,
    asked: &Brief,
    mut changes: Vec<Change>,
    rules: Set,
    most: f64,
) -> Option<Relaxed> {
    let brief = oracle.model.brief;
    let softs = softs(oracle, rules);
    let stretch = Objective::Elastic { softs, together: Together::Sum, most: 0.0 };
    let total = |spec: &Spec| stretch.score(&oracle.model, &spec.pours, &spec.served);
    let known = oracle.witnesses.iter().filter(|(keeps, _)| rules & !keeps == 0).map(|(_, spec)| spec);
    let known_best = known.min_by(|a, b| total(a).total_cmp(&total(b))).filter(|s| total(s) <= most).cloned();
    let ceiling = known_best.as_ref().map_or(most, &total);
    if !ceiling.is_finite() {
        return None;
    }
    let (spec, proved) = least(oracle, stretch, rules, (ceiling, known_best));
    let spec = spec?;
    let misses = misses(oracle, &spec);
    let possible = misses.iter().fold(brief.clone(), |brief, change| changed(&brief, change));
    changes.extend(misses);
    let total = changes.iter().map(relative).sum();
    let spec = best_within(oracle, asked, &possible).unwrap_or(spec);
    Some(Relaxed { changes, total, spec, proved })
}

/// How many nodes each round may look at: the last one as many as a search may.
const ROUNDS: [u64; 5] = [1_000, 1_000, 2_000, 4_000, u64::MAX];

/// The spec of the least sum of misses, and whether that is proved. A bound on the sum bounds every
/// miss and with it the rows, so each better spec that is found makes the next round's rows tighter.
fn least(
    oracle: &Oracle,
    mut stretch: Objective,
    rules: Set,
    known: (f64, Option<Spec>),
) -> (Option<Spec>, bool) {
    let (mut ceiling, mut best) = known;
    for nodes in ROUNDS {
        let largest = ceiling * (1.0 + 1e-6) + 1e-9;
        if let Objective::Elastic { most, .. } = &mut stretch {
            *most = largest;
        }
        let widened = widened(oracle, rules, largest);
        let model = Model::new(&widened);
        let found = oracle.effort.seek_within(nodes, &model, &stretch, SearchMode::Least, Some(largest));
        if let Some(entry) = found.entries.first() {
            ceiling = entry.score;
            best = Some(measured(&model, &stretch, entry));
        }
        if found.complete {
            return (best, true);
        }
    }
    (best, false)
}

fn size(asked: f64) -> f64 {
    if asked == 0.0 { 1.0 } else { asked.abs() }
}

/// A change over the figure that was asked for.
pub fn relative(change: &Change) -> f64 {
    change.needed.map_or(f64::INFINITY, |needed| (needed - change.asked).abs() / size(change.asked))
}

/// Every side of a target that may be missed as a limit, counted in what was asked for.
fn softs(oracle: &Oracle, rules: Set) -> Vec<Soft> {
    let brief = oracle.model.brief;
    let of = |demand: &Demand| {
        let size = demand.asked(brief).map_or(1.0, |(_, asked)| size(asked));
        demand.limits(brief, &oracle.model).into_iter().map(move |limit| Soft { limit, size })
    };
    let soft = |at: &usize| rules & (1 << at) == 0 && oracle.demands[*at].is_target();
    (0..oracle.demands.len()).filter(soft).flat_map(|at| of(&oracle.demands[at])).collect()
}

/// The brief with every target that may be missed as wide as a miss of `most` makes it: no better relaxation is
/// wider.
fn widened(oracle: &Oracle, rules: Set, most: f64) -> Brief {
    let mut wide = oracle.model.brief.clone();
    for demand in oracle.members(oracle.full() & !rules) {
        match demand {
            Demand::Target(at, Side::Min) => {
                let min = &mut wide.targets[at].min;
                *min = min.map(|min| (min - most * size(min)).max(0.0));
            }
            Demand::Target(at, Side::Max) => {
                let max = &mut wide.targets[at].max;
                *max = max.map(|max| max + most * size(max));
            }
            Demand::Hold(at) => wide.hold[at].within += most * size(wide.hold[at].within),
            _ => {}
        }
    }
    wide
}

/// The targets that a spec misses, and the figures that would let it through.
fn misses(oracle: &Oracle, spec: &Spec) -> Vec<Change> {
    let (brief, model) = (oracle.model.brief, &oracle.model);
    let judged = |limit: &Limit| model.judged_value(&spec.pours, &spec.served, limit);
    let missed = |demand: &&Demand| demand.is_target() && !demand.met(model, &spec.pours, &spec.served);
    let change = |demand: &Demand| {
        let limits = demand.limits(brief, model);
        let needed = match demand {
            Demand::Hold(_) => {
                let by = limits.iter().map(|l| Soft { limit: *l, size: 1.0 }.missed(judged(l)));
                demand.asked(brief)?.1 + by.fold(0.0, f64::max)
            }
            _ => judged(limits.first()?),
        };
        Change::of(brief, *demand, Some(needed))
    };
    oracle.demands.iter().filter(missed).filter_map(change).collect()
}

/// The best spec of the changed brief, scored as the brief asks.
fn best_within(oracle: &Oracle, asked: &Brief, possible: &Brief) -> Option<Spec> {
    let objective = Objective::of(&Model::new(asked));
    oracle.effort.best(&Model::new(possible), &objective, None)
}
