//! What the larder knows of the ingredients of a brief beyond their composition: caffeine, and
//! allergens that only some makes hold.

use std::collections::BTreeSet;

use super::{Entry, find};
use crate::brief::{Allergen, Brief, Origin, Per, Pour, Served};

/// Caffeine of a served drink, mg/L: by the brief's own property where it has one in mg, else by the
/// larder's figures.
pub fn caffeine_per_litre(brief: &Brief, pours: &[Pour], served: &Served) -> f64 {
    let drink = &served.drink;
    if let Some(at) = brief.properties.iter().position(|p| p.name == "caffeine" && p.unit == "mg") {
        let value = served.properties.get(at).copied().unwrap_or(f64::NAN);
        return match brief.properties[at].per {
            Per::Litre => value,
            Per::Serve => drink.per_volume(1000.0 * value),
        };
    }
    let carried = pours.iter().map(|pour| {
        entries(brief, pour.candidate).iter().map(|(share, e)| pour.amount * share * e.caffeine).sum::<f64>()
    });
    drink.per_volume(carried.sum::<f64>())
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
    let known = |origin: &Origin| match origin {
        Origin::Larder { entry, .. } => find(entry),
        Origin::Brief | Origin::Made(_) => None,
    };
    match &brief.candidates[candidate].origin {
        Origin::Made(made) => made
            .parts
            .iter()
            .filter_map(|part| {
                let own = brief.find(&part.name).map(|at| &brief.candidates[at].origin);
                let entry = own.map_or_else(|| find(&part.name), known);
                entry.map(|e| (part.per_unit.value, e))
            })
            .collect(),
        other => known(other).map(|e| (1.0, e)).into_iter().collect(),
    }
}
