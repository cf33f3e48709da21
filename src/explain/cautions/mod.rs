//! What asks for care in the specs of an answer: short, never missing where it applies.
//!
//! Nothing here replaces local rules or a competent person, and the list says so at its end.

mod cold;
mod drink;
mod handled;
mod skeleton;
mod sour;
mod sure;

use crate::brief::{Brief, Candidate, Handling};
use crate::solve::Spec;

/// One thing that asks for care.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Caution {
    /// What it is about.
    topic: Topic,
    /// The words.
    text: String,
}

/// What a caution is about; the order is that of the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Topic {
    Ethanol,
    Allergens,
    Handling,
    Caffeine,
    Polyols,
    Melt,
    Cold,
    Density,
    Sourness,
    Crystals,
    Skeleton,
    Judged,
}

/// The cautions of an answer's specs: those of the first, with what it leaves open that nobody would
/// serve; then, for the others (the alternatives), what the first does not ask for.
pub fn cautions(brief: &Brief, specs: &[Spec]) -> Vec<String> {
    let open = specs.first().map(|first| skeleton::cautions(brief, first)).unwrap_or_default();
    all(brief, specs, open)
}

/// The cautions of a spec that somebody gave: how it is built is theirs to know.
pub fn of_given(brief: &Brief, spec: &Spec) -> Vec<String> {
    all(brief, std::slice::from_ref(spec), Vec::new())
}

fn all(brief: &Brief, specs: &[Spec], open: Vec<Caution>) -> Vec<String> {
    let Some((first, others)) = specs.split_first() else { return Vec::new() };
    let mut list = of_spec(brief, first);
    list.extend(open);
    list.sort_by_key(|c| c.topic);
    let mut further: Vec<Caution> = Vec::new();
    for (at, spec) in others.iter().enumerate() {
        for caution in of_drink(brief, spec) {
            if !list.iter().chain(&further).any(|c| c.topic == caution.topic) {
                further.push(Caution {
                    text: format!("Alternative {}: {}", at + 1, lower_first(&caution.text)),
                    ..caution
                });
            }
        }
    }
    let new = poured(brief, others, &poured(brief, [first], &[]));
    let of_new = of_ingredients(brief, &new).into_iter();
    further
        .extend(of_new.map(|c| Caution { text: format!("In alternatives: {}", lower_first(&c.text)), ..c }));
    further.sort_by_key(|c| c.topic);
    list.extend(further);
    let rules = list.iter().any(|c| c.topic < Topic::Melt);
    let mut texts: Vec<String> = list.into_iter().map(|c| c.text).collect();
    texts.extend(rules.then(|| RULES.to_owned()));
    texts
}

/// Who has the last word.
const RULES: &str = "Check all of this with your local rules and a competent person.";

/// What can hurt somebody in this spec, and where its figures mislead the tongue; without what is merely less certain
/// than it looks.
pub fn hazards(brief: &Brief, spec: &Spec) -> Vec<String> {
    let found = of_spec(brief, spec);
    let rules = found.iter().any(|c| c.topic < Topic::Melt).then(|| RULES.to_owned());
    let kept = found.into_iter().filter(|c| c.topic < Topic::Melt || c.topic == Topic::Sourness);
    kept.map(|c| c.text).chain(rules).collect()
}

/// The cautions of a spec that is made as a batch. Where to have them checked stands with its label facts.
pub fn of_batch(brief: &Brief, spec: &Spec) -> Vec<String> {
    of_spec(brief, spec).into_iter().map(|caution| caution.text).collect()
}

/// The allergens of a spec and who brings them; nothing where none is known.
pub fn allergens(brief: &Brief, spec: &Spec) -> Option<String> {
    handled::allergens(&poured(brief, [spec], &[])).map(|caution| caution.text)
}

fn of_spec(brief: &Brief, spec: &Spec) -> Vec<Caution> {
    let mut list = of_drink(brief, spec);
    list.extend(of_ingredients(brief, &poured(brief, [spec], &[])));
    list.sort_by_key(|c| c.topic);
    list
}

/// The ingredients that specs pour, each once, without those known already.
fn poured<'a>(
    brief: &'a Brief,
    specs: impl IntoIterator<Item = &'a Spec>,
    known: &[&Candidate],
) -> Vec<&'a Candidate> {
    let mut found: Vec<&Candidate> = Vec::new();
    for candidate in specs.into_iter().flat_map(|s| &s.pours).map(|p| &brief.candidates[p.candidate]) {
        if !known.iter().chain(&found).any(|c| c.name == candidate.name) {
            found.push(candidate);
        }
    }
    found
}

fn of_drink(brief: &Brief, spec: &Spec) -> Vec<Caution> {
    let found = [
        drink::strong(spec),
        drink::caffeine(brief, spec),
        drink::polyols(brief, spec),
        sure::estimate(brief, spec),
        sure::density(spec),
        cold::glass(brief, spec),
        cold::freezes(brief, spec),
        cold::short_of_ice(brief, spec),
        sour::caution(brief, spec),
    ];
    found.into_iter().flatten().collect()
}

fn of_ingredients(brief: &Brief, candidates: &[&Candidate]) -> Vec<Caution> {
    let care = Handling::ALL.into_iter().filter_map(|handling| handled::handling(candidates, handling));
    let sure = sure::crystals(candidates).into_iter().chain(sure::judged(brief, candidates));
    handled::allergens(candidates).into_iter().chain(care).chain(sure).collect()
}

/// The words within a sentence: `Contains` becomes `contains`; `EU rules` stays.
fn lower_first(text: &str) -> String {
    let mut letters = text.chars();
    match (letters.next(), letters.next()) {
        (Some(first), Some(second)) if second.is_lowercase() || second == ' ' => {
            first.to_lowercase().chain([second]).chain(letters).collect()
        }
        _ => text.to_owned(),
    }
}

/// `a`, `a and b`, `a, b and c`.
fn listed(names: &[&str]) -> String {
    match names {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}
