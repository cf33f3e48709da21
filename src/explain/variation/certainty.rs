//! What it costs to be sure: limits for every composition in the natural ranges, or for a share of
//! serves, beside limits for the typical composition; and where certainty cannot be had, whose spread is
//! to blame.

use crate::brief::{Brief, HoldFor, Limit, Measure, Natural, Range, Side, Source};
use crate::larder::Figure;
use crate::model::{Model, Objective};
use crate::search::seek;
use crate::simulate::SERVES;
use crate::solve::{Ending, SearchLimits, SearchMode, Solved, Spec, Stop, levels, pourable};

use super::lean::varying;
use super::{Share, within_all};

/// How often a range is halved towards the answer: to less than a hundredth of it.
const HALVINGS: usize = 7;
/// So many nodes a search may take here: an explanation that takes longer than the answer helps nobody.
const NODES: u64 = 200_000;

/// What certainty costs, or what stands against it.
#[derive(Debug, Clone, PartialEq)]
pub struct Certainty {
    /// The best spec, were the typical composition enough; nothing where not even that can be met.
    pub typical: Option<Spec>,
    /// The share of its serves within all targets.
    pub typical_within: Option<Share>,
    /// Of all specs that were looked at the one that holds in the most serves, and its share; where a share is asked for
    /// that no spec was found to reach.
    pub steadiest: Option<(Spec, Share)>,
    /// Between which values every target lies, whatever the composition; of the spec that was found.
    pub reach: Vec<Reach>,
    /// What knowing one ingredient exactly would bring, the most first; of the spec that was found.
    pub known: Vec<Known>,
    /// Which spreads are to blame, where no spec is certain.
    pub blame: Vec<Blame>,
}

/// A target over every composition.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reach {
    /// The target.
    pub measure: Measure,
    /// Its least value.
    pub min: f64,
    /// Its greatest value.
    pub max: f64,
}

/// The best spec, were one ingredient known to be typical.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Known {
    /// The ingredient.
    pub candidate: usize,
    /// The score then.
    pub score: f64,
}

/// Ingredients whose spread stands in the way, and how narrow it would have to be.
#[derive(Debug, Clone, PartialEq)]
pub struct Blame {
    /// The ingredients: one where one alone is enough, else as few as do.
    pub candidates: Vec<usize>,
    /// The share of their ranges, from the typical value outwards, with which the brief can be met.
    pub share: f64,
    /// The ranges that would do.
    pub ranges: Vec<Narrow>,
}

/// A range that would do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Narrow {
    /// The ingredient.
    pub candidate: usize,
    /// The figure.
    pub figure: Figure,
    /// The range that it has.
    pub now: Range,
    /// The range that would do.
    pub range: Range,
}

/// Holds what is sure against what is typical; nothing where the brief asks for the typical alone.
pub fn certainty(brief: &Brief, solved: &Solved, stop: &Stop) -> Option<Certainty> {
    if brief.variation.hold == HoldFor::Typical {
        return None;
    }
    let refused = matches!(brief.variation.hold, HoldFor::Share(_)) && solved.specs.is_empty();
    let mut typical = on_the_typical(brief);
    if !refused {
        typical.answer.alternatives = 0;
    }
    let found = pourable(&typical, stop);
    let steadiest = if refused { steadiest(&typical, &found, brief, stop) } else { None };
    let typical = found.specs.into_iter().next();
    let worst = brief.variation.hold == HoldFor::Worst;
    let best = solved.specs.first().filter(|_| worst);
    let conflict = worst && solved.ending == Ending::Conflict && typical.is_some();
    Some(Certainty {
        steadiest,
        reach: best.map_or_else(Vec::new, |spec| reach(brief, spec)),
        known: best.map_or_else(Vec::new, |spec| known(brief, spec, stop)),
        blame: if conflict { blame(brief, stop) } else { vec![] },
        typical_within: typical.as_ref().map(|spec| within_all(brief, &spec.pours)),
        typical,
    })
}

/// The spec that holds in the most serves, of all that are looked at where steadier ones are asked for.
fn steadiest(typical: &Brief, found: &Solved, asked: &Brief, stop: &Stop) -> Option<(Spec, Share)> {
    let share = if let HoldFor::Share(share) = asked.variation.hold { share } else { 1.0 };
    let steady = levels::levels(typical, found, &[share], stop).steadiest?;
    Some((steady.spec, Share::of(steady.within, SERVES)))
}

/// The brief, were the typical composition enough.
pub fn on_the_typical(brief: &Brief) -> Brief {
    let mut typical = brief.clone();
    typical.variation.hold = HoldFor::Typical;
    typical
}

fn reach(brief: &Brief, spec: &Spec) -> Vec<Reach> {
    let model = Model::new(brief);
    let value = |measure: Measure, side: Side| {
        let limit = model.limits.iter().find(|l| l.measure == measure && l.side == side);
        // Where that side is free, its own value is what the effects are weighed at.
        let free = Limit { measure, side, value: spec.served.value(measure), source: Source::Target };
        model.judged_value(&spec.pours, &spec.served, limit.unwrap_or(&free))
    };
    let of = |measure| Reach { measure, min: value(measure, Side::Min), max: value(measure, Side::Max) };
    brief.targets.iter().map(|target| of(target.measure)).collect()
}

/// Knowing an ingredient that the spec pours can only help; how much, one by one.
fn known(brief: &Brief, spec: &Spec, stop: &Stop) -> Vec<Known> {
    let poured = spec.pours.iter().map(|pour| pour.candidate);
    let mut known: Vec<Known> = poured
        .filter(|candidate| varying(brief.candidates[*candidate].natural).next().is_some())
        .filter_map(|candidate| {
            let score = best(&narrowed(brief, &[candidate], 0.0), stop)?;
            Some(Known { candidate, score })
        })
        .collect();
    let gain = |k: &Known| (k.score - spec.score).abs();
    known.retain(|k| brief.aim.better(k.score, spec.score));
    known.sort_by(|a, b| gain(b).total_cmp(&gain(a)));
    known
}

/// The score of the best pourable spec; nothing where there is none, or it is not proved.
fn best(brief: &Brief, stop: &Stop) -> Option<f64> {
    let model = Model::new(brief);
    let objective = Objective::of(&model);
    let found = seek(&model, &objective, SearchMode::Least, None, SearchLimits { stop, nodes: NODES });
    found.entries.first().filter(|_| found.complete).map(|entry| objective.value(entry.score))
}

/// Whether a pourable spec was found at all.
fn can(brief: &Brief, stop: &Stop) -> bool {
    let model = Model::new(brief);
    let objective = Objective::of(&model);
    let limits = SearchLimits { stop, nodes: NODES };
    !seek(&model, &objective, SearchMode::Any, None, limits).entries.is_empty()
}

/// Each ingredient that alone is to blame; where none is, as few as are together.
fn blame(brief: &Brief, stop: &Stop) -> Vec<Blame> {
    let spread: Vec<usize> =
        brief.usable().filter(|at| varying(brief.candidates[*at].natural).next().is_some()).collect();
    let enough = |set: &[usize]| can(&narrowed(brief, set, 0.0), stop);
    let alone: Vec<Blame> =
        spread.iter().filter(|at| enough(&[**at])).map(|at| blamed(brief, &[*at], stop)).collect();
    if !alone.is_empty() || stop.raised() {
        return alone;
    }
    // Whoever can stay as uncertain as he is leaves the set.
    let mut set = spread.clone();
    for at in spread {
        let fewer: Vec<usize> = set.iter().copied().filter(|other| *other != at).collect();
        if enough(&fewer) {
            set = fewer;
        }
    }
    if stop.raised() || set.is_empty() { vec![] } else { vec![blamed(brief, &set, stop)] }
}

/// How narrow is narrow enough: a narrower range is never worse, so the share can be halved towards.
fn blamed(brief: &Brief, candidates: &[usize], stop: &Stop) -> Blame {
    let (mut does, mut fails) = (0.0, 1.0);
    for _ in 0..HALVINGS {
        let middle = 0.5 * (does + fails);
        if can(&narrowed(brief, candidates, middle), stop) {
            does = middle;
        } else {
            fails = middle;
        }
    }
    let ranges = candidates.iter().flat_map(|at| {
        let natural = &brief.candidates[*at].natural;
        let narrow = scaled(natural, brief, *at, does);
        varying(brief.candidates[*at].natural).filter_map(move |figure| {
            let (now, range) = of(natural, figure).zip(of(&narrow, figure))?;
            Some(Narrow { candidate: *at, figure, now, range })
        })
    });
    Blame { ranges: ranges.collect(), share: does, candidates: candidates.to_vec() }
}

fn of(natural: &Natural, figure: Figure) -> Option<Range> {
    match figure {
        Figure::Strength => natural.strength,
        Figure::Sugar => natural.sugar,
        Figure::Acid => natural.acid,
        _ => None,
    }
}

/// The brief with the ranges of some ingredients drawn towards their typical values.
fn narrowed(brief: &Brief, candidates: &[usize], share: f64) -> Brief {
    let mut brief = brief.clone();
    for &at in candidates {
        brief.candidates[at].natural = scaled(&brief.candidates[at].natural, &brief, at, share);
    }
    brief
}

fn scaled(natural: &Natural, brief: &Brief, at: usize, share: f64) -> Natural {
    let label = &brief.candidates[at].label;
    let towards = |range: Option<Range>, typical: f64| {
        range.map(|r| Range {
            min: typical + share * (r.min - typical),
            max: typical + share * (r.max - typical),
        })
    };
    Natural {
        strength: towards(natural.strength, label.strength),
        sugar: towards(natural.sugar, label.sugar),
        acid: towards(natural.acid, label.acid),
    }
}
