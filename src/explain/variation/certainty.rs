//! What it costs to be sure: limits for every composition in the natural ranges, or for a share of
//! serves, beside limits for the typical composition; and where certainty cannot be had, whose spread is
//! to blame.

use crate::brief::{Brief, Candidate, HoldFor, Limit, Measure, Natural, Range, Side, Source};
use crate::model::{Model, Objective};
use crate::search::seek;
use crate::simulate::SERVES;
use crate::solve::levels::Steady;
use crate::solve::{Ending, SearchLimits, SearchMode, Solved, Spec, Stop, levels, pourable};

use super::apart::unit;
use super::lean::varying;
use super::{Share, within_all};

/// How often a range is halved towards the answer: to less than a hundredth of it.
const HALVINGS: usize = 7;
/// So many nodes a search may take here: an explanation that takes longer than the answer helps nobody.
const NODES: u64 = 200_000;

/// What certainty costs, or what stands against it.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Certainty {
    /// The best score, were the typical composition enough; nothing where not even that can be met.
    pub typical_score: Option<f64>,
    /// The share of that spec's serves within all targets.
    pub typical_within: Option<f64>,
    /// The greatest share of serves that any spec looked at stays inside with, where a share is asked for that none
    /// was found to reach.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub most_within: Option<f64>,
    /// The score of that spec.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub most_within_score: Option<f64>,
    /// Between which values every target lies, whatever the composition; of the spec that was found.
    pub reach: Vec<Reach>,
    /// What knowing one ingredient exactly would bring, the most first; of the spec that was found.
    pub known: Vec<Known>,
    /// Which spreads are to blame, where no spec is certain.
    pub blame: Vec<Blame>,
}

/// A target over every composition.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Reach {
    /// The target.
    #[serde(skip)]
    pub measure: Measure,
    /// Its key.
    pub target: String,
    /// Its least value.
    pub min: f64,
    /// Its greatest value.
    pub max: f64,
}

/// The best spec, were one ingredient known to be typical.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Known {
    /// The ingredient.
    pub ingredient: String,
    /// The score then.
    pub score: f64,
}

/// Ingredients whose spread stands in the way, and how narrow it would have to be.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Blame {
    /// The ingredients: one where one alone is enough, else as few as do.
    pub ingredients: Vec<String>,
    /// The share of their ranges, from the typical value outwards, with which the brief can be met.
    pub share: f64,
    /// The ranges that would do.
    pub ranges: Vec<Narrow>,
}

/// A range that would do, beside the one that there is.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Narrow {
    /// The ingredient.
    pub ingredient: String,
    /// `strength`, `sugar` or `acid`.
    pub figure: &'static str,
    /// % vol, g/L, or g/kg of a powder.
    pub unit: &'static str,
    /// The range that it has.
    pub now: [f64; 2],
    /// The range that would do.
    pub needed: [f64; 2],
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
        typical_score: typical.as_ref().map(|spec| spec.score),
        typical_within: typical.as_ref().map(|spec| within_all(brief, &spec.pours).found),
        most_within: steadiest.as_ref().map(|steady| Share::of(steady.within, SERVES).found),
        most_within_score: steadiest.map(|steady| steady.spec.score),
        reach: best.map_or_else(Vec::new, |spec| reach(brief, spec)),
        known: best.map_or_else(Vec::new, |spec| known(brief, spec, stop)),
        blame: if conflict { blame(brief, stop) } else { vec![] },
    })
}

/// The spec that holds in the most serves, of all that are looked at where steadier ones are asked for.
fn steadiest(typical: &Brief, found: &Solved, asked: &Brief, stop: &Stop) -> Option<Steady> {
    let share = if let HoldFor::Share(share) = asked.variation.hold { share } else { 1.0 };
    levels::levels(typical, found, &[share], stop).steadiest
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
    let of = |measure| Reach {
        measure,
        target: brief.measure_name(measure).to_owned(),
        min: value(measure, Side::Min),
        max: value(measure, Side::Max),
    };
    brief.targets.iter().map(|target| of(target.measure)).collect()
}

/// Knowing an ingredient that the spec pours can only help; how much, one by one.
fn known(brief: &Brief, spec: &Spec, stop: &Stop) -> Vec<Known> {
    let poured = spec.pours.iter().map(|pour| pour.candidate);
    let mut known: Vec<Known> = poured
        .filter(|candidate| varies(&brief.candidates[*candidate]))
        .filter_map(|candidate| {
            let score = best(&narrowed(brief, &[candidate], 0.0), stop)?;
            Some(Known { ingredient: brief.candidates[candidate].name.clone(), score })
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

/// Whether anything of an ingredient has a range.
fn varies(candidate: &Candidate) -> bool {
    varying(candidate, candidate.natural).next().is_some()
}

/// Each ingredient that alone is to blame; where none is, as few as are together.
fn blame(brief: &Brief, stop: &Stop) -> Vec<Blame> {
    let spread: Vec<usize> = brief.usable().filter(|at| varies(&brief.candidates[*at])).collect();
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
        let candidate = &brief.candidates[*at];
        varying(candidate, candidate.natural).map(move |(figure, typical, now)| {
            let needed = drawn(now, typical, does);
            Narrow {
                ingredient: candidate.name.clone(),
                figure: figure.words(),
                unit: unit(candidate.label.form, figure),
                now: [now.min, now.max],
                needed: [needed.min, needed.max],
            }
        })
    });
    let ingredients = candidates.iter().map(|at| brief.candidates[*at].name.clone());
    Blame { ranges: ranges.collect(), share: does, ingredients: ingredients.collect() }
}

/// The brief with the ranges of some ingredients drawn towards their typical values.
fn narrowed(brief: &Brief, candidates: &[usize], share: f64) -> Brief {
    let mut brief = brief.clone();
    for &at in candidates {
        let candidate = &mut brief.candidates[at];
        let (natural, label) = (candidate.natural, &candidate.label);
        let towards = |range: Option<Range>, typical: f64| range.map(|range| drawn(range, typical, share));
        candidate.natural = Natural {
            strength: towards(natural.strength, label.strength),
            sugar: towards(natural.sugar, label.sugar),
            acid: towards(natural.acid, label.acid),
        };
    }
    brief
}

/// A range drawn towards a value.
fn drawn(range: Range, typical: f64, share: f64) -> Range {
    let towards = |end: f64| typical + share * (end - typical);
    Range { min: towards(range.min), max: towards(range.max) }
}
