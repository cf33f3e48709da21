//! Another acid: as much to the titration is not as sour to the tongue.

use super::{Caution, Topic, listed};
use crate::brief::{Brief, Origin, Pour};
use crate::larder;
use crate::solve::Spec;

/// From this share of a drink's acid on, an ingredient's acids count; common practice, no source.
const COUNTS: f64 = 0.1;

/// Where a spec's acids are of other kinds than those of the reference.
pub fn caution(brief: &Brief, spec: &Spec) -> Option<Caution> {
    let reference = brief.reference.as_ref()?;
    let (before, after) = (acids(brief, &reference.pours), acids(brief, &spec.pours));
    let words = |all: &[(&str, &'static str)]| {
        let names: Vec<String> = all.iter().map(|(name, kinds)| format!("{name} ({kinds})")).collect();
        listed(&names.iter().map(String::as_str).collect::<Vec<_>>())
    };
    let new = after.iter().any(|(_, kinds)| !before.iter().any(|(_, known)| known == kinds));
    (new && !before.is_empty()).then(|| Caution {
        topic: Topic::Sourness,
        text: format!(
            "Equal titratable acid is not equal sourness: the reference's acid comes from {}, here it comes from \
             {}. Taste it.",
            words(&before),
            words(&after)
        ),
    })
}

/// The ingredients that bring a good part of the acid and whose kinds of acid the larder knows.
fn acids<'b>(brief: &'b Brief, pours: &[Pour]) -> Vec<(&'b str, &'static str)> {
    let grams = |pour: &Pour| pour.amount * brief.candidates[pour.candidate].portion.masses.acid;
    let total: f64 = pours.iter().map(grams).sum();
    let sour = pours.iter().filter(|pour| grams(pour) > COUNTS * total);
    sour.filter_map(|pour| {
        let candidate = &brief.candidates[pour.candidate];
        let Origin::Larder { entry, .. } = &candidate.origin else { return None };
        let kinds = larder::find(entry).map(|entry| entry.acids.as_str())?;
        (!kinds.is_empty()).then_some((candidate.name.as_str(), kinds))
    })
    .collect()
}
