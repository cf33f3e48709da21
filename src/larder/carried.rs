//! What the larder knows of the ingredients of a brief beyond their composition: caffeine, allergens
//! that only some makes hold, what their solids are, and how strong some makes are.

use std::collections::{BTreeMap, BTreeSet};

use super::{Entry, Solid, find};
use crate::brief::{Allergen, Brief, Candidate, Handling, Origin, Per, Pour, Preparation, Served};

/// Caffeine of a served drink, mg/L: by the brief's own property where it has one in mg, else by the
/// larder's figures.
pub fn caffeine_per_litre(brief: &Brief, pours: &[Pour], served: &Served) -> f64 {
    caffeine(brief, pours, served, |entry| entry.caffeine)
}

/// Caffeine of a served drink at the upper end of the larder's ranges, mg/L; the same as
/// [`caffeine_per_litre`] where the brief has a property of its own.
pub fn caffeine_at_most(brief: &Brief, pours: &[Pour], served: &Served) -> f64 {
    caffeine(brief, pours, served, |entry| entry.caffeine_range.map_or(entry.caffeine, |range| range.max))
}

fn caffeine(brief: &Brief, pours: &[Pour], served: &Served, figure: fn(&Entry) -> f64) -> f64 {
    let drink = &served.drink;
    if let Some(at) = brief.properties.iter().position(|p| p.name == "caffeine" && p.unit == "mg") {
        let value = served.properties.get(at).copied().unwrap_or(f64::NAN);
        return match brief.properties[at].per {
            Per::Litre => value,
            Per::Serve => drink.per_volume(1000.0 * value),
        };
    }
    let carried = pours.iter().map(|pour| {
        entries(brief, pour.candidate).iter().map(|(share, e)| pour.amount * share * figure(e)).sum::<f64>()
    });
    drink.per_volume(carried.sum::<f64>())
}

/// The strength that no make of an ingredient goes over, % vol: the end of the larder's range, or the
/// ingredient's own figure where the brief states one.
pub fn strongest(brief: &Brief, candidate: usize) -> f64 {
    let candidate = &brief.candidates[candidate];
    match &candidate.origin {
        Origin::Brief => candidate.natural.strength.map_or(candidate.label.strength, |range| range.max),
        Origin::Larder { entry, .. } => match find(entry) {
            Some(entry) if entry.label.strength == candidate.label.strength => at_most(entry),
            _ => candidate.label.strength,
        },
        Origin::Made(made) => {
            let further = parts(brief, made).map(|(share, of)| {
                share
                    * match of {
                        Source::Candidate(at) => strongest(brief, at) - brief.candidates[at].label.strength,
                        Source::Entry(entry) => at_most(entry) - entry.label.strength,
                    }
            });
            candidate.label.strength + further.sum::<f64>()
        }
    }
}

fn at_most(entry: &Entry) -> f64 {
    entry.natural.strength.map_or(entry.label.strength, |range| range.max)
}

/// The solids of a spec that are no sugars, by what they are, g.
pub fn solids(brief: &Brief, pours: &[Pour]) -> BTreeMap<Solid, f64> {
    let mut all = BTreeMap::new();
    for pour in pours {
        for (solid, grams) in solids_of(brief, &brief.candidates[pour.candidate]) {
            if grams > 0.0 {
                *all.entry(solid).or_default() += pour.amount * grams;
            }
        }
    }
    all
}

/// The solids in one ml (or g) of an ingredient that are no sugars, g.
fn solids_of(brief: &Brief, candidate: &Candidate) -> Vec<(Solid, f64)> {
    let grams = candidate.label.polyols / 1000.0;
    match &candidate.origin {
        Origin::Brief if candidate.handling.contains(&Handling::Glycerol) => vec![(Solid::Glycerol, grams)],
        Origin::Brief => vec![(Solid::Polyol, grams)],
        Origin::Larder { entry, .. } => vec![(find(entry).map_or(Solid::Polyol, |e| e.solid), grams)],
        Origin::Made(made) => parts(brief, made)
            .flat_map(|(share, of)| {
                let of_one = match of {
                    Source::Candidate(at) => solids_of(brief, &brief.candidates[at]),
                    Source::Entry(entry) => vec![(entry.solid, entry.label.polyols / 1000.0)],
                };
                of_one.into_iter().map(move |(solid, grams)| (solid, grams * share))
            })
            .collect(),
    }
}

/// Allergens that some makes of an ingredient hold and others do not, without those that it holds anyway.
pub fn may_hold(brief: &Brief, candidate: usize) -> Vec<Allergen> {
    let holds = &brief.candidates[candidate].allergens;
    let found = entries(brief, candidate);
    let may: BTreeSet<Allergen> = found.iter().flat_map(|(_, e)| e.may_hold.iter().copied()).collect();
    may.into_iter().filter(|a| !holds.contains(a)).collect()
}

/// The larder entries behind an ingredient: how much of each is in one ml (or g) of it.
fn entries(brief: &Brief, candidate: usize) -> Vec<(f64, &'static Entry)> {
    let own = |at: usize| match &brief.candidates[at].origin {
        Origin::Larder { entry, .. } => find(entry),
        Origin::Brief | Origin::Made(_) => None,
    };
    let known = |(share, of)| match of {
        Source::Candidate(at) => Some((share, own(at)?)),
        Source::Entry(entry) => Some((share, entry)),
    };
    match &brief.candidates[candidate].origin {
        Origin::Made(made) => parts(brief, made).filter_map(known).collect(),
        _ => own(candidate).map(|entry| (1.0, entry)).into_iter().collect(),
    }
}

/// Where a part of a preparation is from.
#[derive(Debug, Clone, Copy)]
pub(super) enum Source {
    /// A candidate of the brief.
    Candidate(usize),
    /// The larder alone.
    Entry(&'static Entry),
}

/// The parts of a preparation, as far as they are known: how much of each is in one ml (or g) of it.
pub(super) fn parts(brief: &Brief, made: &Preparation) -> impl Iterator<Item = (f64, Source)> {
    made.parts.iter().filter_map(|part| {
        let own = brief.find(&part.name).map(Source::Candidate);
        Some((part.per_unit.value, own.or_else(|| find(&part.name).map(Source::Entry))?))
    })
}
