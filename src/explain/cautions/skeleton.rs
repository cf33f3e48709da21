//! Answers that measure right and that nobody would serve: what the brief left open, in words, and the
//! line that would forbid it.
//!
//! Every threshold is common practice, no source.

use super::{Caution, Topic, listed};
use crate::brief::{Aim, Brief, Candidate, Measure, Nearest, Origin, Pour, Role};
use crate::larder::{self, Group};
use crate::quantity::{Unit, number};
use crate::solve::Spec;

/// Under this much base, ml, a drink with alcohol in it is hardly that base's drink.
const BASE: f64 = 30.0;
/// A least pour of this much, ml, was chosen: the brief knows how little base it wants.
const CHOSEN: f64 = 10.0;
/// Up to this much of something, ml, is a trace that no guest tastes.
const TRACE: f64 = 2.5;
/// So many traces are no recipe.
const MANY: usize = 3;
/// From this acid on, g/L as citric, a drink is a sour.
const SOUR: f64 = 4.0;

pub fn cautions(brief: &Brief, spec: &Spec) -> Vec<Caution> {
    let found = [no_citrus(brief, spec), little_base(brief, spec), traces(brief, spec), no_volume(brief)];
    found.into_iter().flatten().map(|text| Caution { topic: Topic::Skeleton, text }).collect()
}

fn poured<'b>(brief: &'b Brief, spec: &'b Spec) -> impl Iterator<Item = (&'b Candidate, &'b Pour)> {
    spec.pours.iter().map(|pour| (&brief.candidates[pour.candidate], pour))
}

fn is_citrus(candidate: &Candidate) -> bool {
    let Origin::Larder { entry, .. } = &candidate.origin else { return false };
    larder::find(entry).is_some_and(|entry| entry.group == Group::Citrus)
}

/// A sour whose acid is mostly weighed in, and none of it citrus.
fn no_citrus(brief: &Brief, spec: &Spec) -> Option<String> {
    let drink = &spec.served.drink;
    let weighed: f64 = poured(brief, spec)
        .filter(|(candidate, _)| candidate.unit() == Unit::G)
        .map(|(candidate, pour)| pour.amount * candidate.portion.masses.acid)
        .sum();
    let sour = drink.per_volume(1000.0 * drink.masses.acid) >= SOUR;
    if !sour || 2.0 * weighed <= drink.masses.acid || poured(brief, spec).any(|(c, _)| is_citrus(c)) {
        return None;
    }
    let open: Vec<String> = brief
        .candidates
        .iter()
        .filter(|candidate| !candidate.out && is_citrus(candidate))
        .map(|candidate| format!("\"{}\"", candidate.name))
        .collect();
    let line = if open.is_empty() {
        "offer one: `[[candidate]]`, `larder = \"lemon juice\"`, `must = true`, `min = \"15 ml\"`".to_owned()
    } else {
        format!("to ask for some: `[[choose]]`, `among = [{}]`, `min = 1`", open.join(", "))
    };
    Some(format!(
        "A sour with no citrus in it: most of its acid is a powder's. Where that is not meant, {line}."
    ))
}

/// Less base than a drink is named after, and no least amount that says so.
fn little_base(brief: &Brief, spec: &Spec) -> Option<String> {
    let bases: Vec<(&Candidate, &Pour)> =
        poured(brief, spec).filter(|(candidate, _)| candidate.role == Role::Base).collect();
    let total: f64 = bases.iter().map(|(_, pour)| pour.amount).sum();
    let chosen = bases.iter().any(|(candidate, _)| candidate.least >= CHOSEN || candidate.must);
    if bases.is_empty() || total >= BASE || chosen || as_in_the_reference(brief, total) {
        return None;
    }
    let names: Vec<&str> = bases.iter().map(|(candidate, _)| candidate.name.as_str()).collect();
    Some(format!(
        "Only {} ml of base ({}). Where that is too little to taste, say so under it: `min = \"30 ml\"`.",
        number::trimmed(total, 1),
        listed(&names)
    ))
}

/// Whether the drink that the brief starts from has no more base either.
fn as_in_the_reference(brief: &Brief, total: f64) -> bool {
    brief.reference.as_ref().is_some_and(|reference| {
        let base = |pour: &&Pour| brief.candidates[pour.candidate].role == Role::Base;
        reference.pours.iter().filter(base).map(|pour| pour.amount).sum::<f64>() <= total
    })
}

/// Several things of which there is too little to taste; what is used by the dash is not meant.
fn traces(brief: &Brief, spec: &Spec) -> Option<String> {
    let by_the_dash = |role: Role| matches!(role, Role::Bitters | Role::Seasoning | Role::Texture);
    let names: Vec<&str> = poured(brief, spec)
        .filter(|(candidate, pour)| {
            candidate.unit() == Unit::Ml && pour.amount <= TRACE && !by_the_dash(candidate.role)
        })
        .map(|(candidate, _)| candidate.name.as_str())
        .collect();
    (names.len() >= MANY).then(|| {
        format!(
            "Traces of {}: {} ml or less of each. To have no such pours, under `[serve]`: `smallest = \"5 ml\"`.",
            listed(&names),
            number::trimmed(TRACE, 1)
        )
    })
}

/// An aim that shrinks the drink, and nothing that keeps its size.
fn no_volume(brief: &Brief) -> Option<String> {
    let held =
        brief.limits().iter().any(|t| t.measure == Measure::Volume && t.min.is_some_and(|min| min > 0.0));
    let from_the_reference = matches!(brief.aim, Aim::Nearest(Nearest::Reference));
    (!held && !from_the_reference).then(|| {
        "Nothing holds the volume: the drink may come out as small as the aim likes. Under `[targets]`: `volume = { \
         min = 90, max = 120 }`, with your own figures."
            .to_owned()
    })
}
