//! Candidates: from the larder, with figures of their own, or made in house.

use std::collections::BTreeSet;

use super::label::Composition;
use super::{cost, label, spread, stored};
use crate::brief::{Candidate, Origin, Property, Role, Spread, Step, Stored};
use crate::larder::{self, Entry, Figure, WATER};
use crate::liquid::{Form, Stage};
use crate::read::codes;
use crate::read::file::{self, At, entries};
use crate::read::findings::{Findings, guess_key};
use crate::read::names::Names;
use crate::read::shape::shown;

/// All candidates as they state themselves; preparations follow in `made`, steps and amounts in `pours`.
pub fn all(
    written: &[At<file::Candidate>],
    names: &Names,
    properties: &[Property],
    findings: &mut Findings,
) -> Vec<Candidate> {
    check_units(written, properties, findings);
    written
        .iter()
        .enumerate()
        .map(|(at, candidate)| stated(candidate, (names, at), properties, findings))
        .collect()
}

/// A candidate as it states itself; a preparation's composition follows in `made`.
fn stated(
    written: &At<file::Candidate>,
    (names, at): (&Names, usize),
    properties: &[Property],
    findings: &mut Findings,
) -> Candidate {
    let name = names.of(at);
    let entry = entry(written, findings);
    still_of_house(written, findings);
    let composition =
        if written.made.is_some() { Composition::water() } else { label::stated(written, entry, findings) };
    let mut candidate = match entry {
        Some(entry) => from_larder(entry, name, &composition, properties),
        None => blank(name, &composition, properties),
    };
    candidate.spread = spread::between(written, entry);
    candidate.role = written.role.as_ref().map_or(candidate.role, |role| role.0);
    candidate.yielded = written.yielded.as_ref().map_or(1.0, |share| share.value);
    candidate.stored = stored::stated(written, findings);
    candidate.must = written.must.as_ref().is_some_and(|must| must.value);
    candidate.out = written.out.as_ref().is_some_and(|out| out.value);
    if written.made.is_none() {
        cost::state(&mut candidate, written, names.currency(), findings);
    }
    if candidate.cost_per_unit.is_none() && written.price.is_none() && is_water(written, &candidate) {
        candidate.cost_per_unit = Some(0.0);
    }
    if let Some(allergens) = &written.allergens {
        candidate.allergens = sorted(allergens.iter().map(|word| word.0));
    }
    if let Some(handling) = &written.handling {
        candidate.handling = sorted(handling.iter().map(|word| word.0));
    }
    if let Some(notes) = &written.notes {
        candidate.notes = notes.iter().map(|note| note.value.trim().to_owned()).collect();
    }
    if entry.is_none() && !candidate.out && !findings.stops() {
        warn_without_figures(written, name, findings);
    }
    if let Origin::Larder { judged, .. } = &mut candidate.origin {
        judged.retain(|words| !gives(written, words));
    }
    carry(written, properties, &mut candidate.carries, findings);
    candidate
}

/// Warns of an ingredient that counts as water because it states nothing, though the larder knows what is in it. A figure
/// that was refused may have been one: where there are errors already, nothing is said.
fn warn_without_figures(written: &At<file::Candidate>, name: &str, findings: &mut Findings) {
    let stated = written.strength.is_some()
        || written.sugar.is_some()
        || written.brix.is_some()
        || written.acid.is_some()
        || written.density.is_some()
        || written.polyols.is_some()
        || written.made.is_some();
    let known = if stated { None } else { larder::find(name) };
    let label = known.map(|entry| entry.label);
    let holds = label.is_some_and(|l| [l.strength, l.sugar, l.acid, l.polyols].iter().any(|f| *f > 0.0));
    if let (Some(entry), true, Some(at)) = (known, holds, &written.name)
        && !findings.tells(codes::NO_FIGURES, &at.place())
    {
        let what = format!("\"{}\" states no strength, sugar or acid, so it counts as water", shown(name));
        let help = format!("write larder = \"{}\" in the place of name, or state what is in it", entry.name);
        findings.warning(codes::NO_FIGURES, at.place(), what, help);
    }
}

/// Whether it is plain water, of the tap: by its role or its name, and with nothing in it.
fn is_water(written: &At<file::Candidate>, candidate: &Candidate) -> bool {
    let Composition { label, .. } = Composition::water();
    let called = candidate.role == Role::Water || candidate.name.eq_ignore_ascii_case(WATER);
    let still = candidate.handling.is_empty() && written.handling.is_none();
    called && still && written.made.is_none() && candidate.label == label
}

/// What the brief has of its house is taken in before settings are.
fn still_of_house(written: &At<file::Candidate>, findings: &mut Findings) {
    if let Some(house) = written.house.as_ref().filter(|_| !findings.stops()) {
        let what = "`house` cannot be set for an ingredient";
        let help = "swap it in instead: --swap \"lime juice=bay syrup\"";
        findings.error(codes::BAD_SETTING, house.place(), what, help);
    }
}

/// Whether the brief itself gives the figure that words of the larder warn of, such as `acid: judgement`.
fn gives(written: &file::Candidate, words: &str) -> bool {
    let about = |figure: Figure| {
        words
            .strip_prefix(figure.words())
            .is_some_and(|rest| rest.starts_with([':', ',']) || rest.starts_with(" range:"))
    };
    let sugar = written.sugar.is_some() || written.brix.is_some();
    (written.strength.is_some() && about(Figure::Strength))
        || (sugar && about(Figure::Sugar))
        || (written.acid.is_some() && about(Figure::Acid))
        || (written.density.is_some() && about(Figure::Density))
        || (written.sweetness.is_some() && (about(Figure::Sweetness) || about(Figure::Split)))
}

fn entry(written: &At<file::Candidate>, findings: &mut Findings) -> Option<&'static Entry> {
    let name = written.larder.as_ref()?;
    let entry = larder::find(name.trim());
    if entry.is_none() {
        let known = larder::all().iter().flat_map(|e| [&e.name].into_iter().chain(&e.also));
        let near = findings.closest(name, known.map(String::as_str));
        let by_words = || findings.suggests().then(|| larder::closest(name)).flatten();
        let help = match near.or_else(|| by_words().map(|entry| entry.name.as_str())) {
            Some(meant) => format!("did you mean \"{meant}\"? `washline larder` lists them all"),
            None => {
                "`washline larder` lists them all; or state its figures yourself under name = …".to_owned()
            }
        };
        let what = format!("the larder has no \"{}\"", shown(name));
        findings.error(codes::UNKNOWN_LARDER, name.place(), what, help);
    }
    entry
}

/// An entry of the larder as an ingredient.
pub fn from_larder(
    entry: &Entry,
    name: &str,
    composition: &Composition,
    properties: &[Property],
) -> Candidate {
    let carries = properties.iter().map(|p| larder_carries(entry, p)).collect();
    Candidate {
        role: entry.role,
        carries,
        cost_per_unit: (entry.name == WATER).then_some(0.0),
        allergens: sorted(entry.allergens.iter().copied()),
        handling: sorted(entry.handling.iter().copied()),
        notes: entry.notes.clone(),
        origin: Origin::Larder { entry: entry.name.clone(), judged: entry.judged.clone() },
        ..blank(name, composition, properties)
    }
}

/// An ingredient of which nothing but its composition is known.
pub fn blank(name: &str, composition: &Composition, properties: &[Property]) -> Candidate {
    Candidate {
        name: name.to_owned(),
        role: common_role(composition.label.form),
        label: composition.label,
        natural: composition.natural,
        spread: Spread::default(),
        portion: composition.portion,
        carries: vec![0.0; properties.len()],
        price: None,
        yielded: 1.0,
        cost_per_unit: None,
        step: Step::Free,
        least: 0.0,
        most: None,
        must: false,
        out: false,
        stage: Stage::Made,
        allergens: Vec::new(),
        handling: Vec::new(),
        notes: Vec::new(),
        origin: Origin::Brief,
        stored: Stored::default(),
    }
}

/// An entry of the larder as it stands, under its own name.
pub fn from_entry(entry: &Entry, properties: &[Property]) -> Candidate {
    let portion = entry.label.portion().unwrap_or(Composition::water().portion);
    let composition = Composition { label: entry.label, natural: entry.varies(), portion };
    from_larder(entry, &entry.name, &composition, properties)
}

/// What a form of ingredient mostly is, where neither the brief nor the larder says.
pub fn common_role(form: Form) -> Role {
    match form {
        Form::Liquid => Role::Modifier,
        Form::Powder => Role::Seasoning,
    }
}

/// In order and once each.
pub fn sorted<T: Ord>(items: impl IntoIterator<Item = T>) -> Vec<T> {
    items.into_iter().collect::<BTreeSet<T>>().into_iter().collect()
}

/// What the larder knows of a property, in the property's unit per litre or kilogram.
fn larder_carries(entry: &Entry, property: &Property) -> f64 {
    let milligrams = match property.name.as_str() {
        "caffeine" => entry.caffeine,
        "sodium" => entry.sodium,
        _ => return 0.0,
    };
    milligrams * per_milligram(&property.unit).unwrap_or(0.0)
}

/// How many of a unit a milligram is.
fn per_milligram(unit: &str) -> Option<f64> {
    match unit {
        "mg" => Some(1.0),
        "g" => Some(1e-3),
        "µg" | "μg" | "ug" | "mcg" => Some(1e3),
        _ => None,
    }
}

/// Warns where the larder knows a property that its unit keeps from being taken over.
fn check_units(written: &[At<file::Candidate>], properties: &[Property], findings: &mut Findings) {
    for property in properties {
        let known = matches!(property.name.as_str(), "caffeine" | "sodium");
        if !known || per_milligram(&property.unit).is_some() {
            continue;
        }
        if let Some(first) = written.iter().find_map(|c| c.larder.as_ref()) {
            let what = format!(
                "the larder's {} is in mg, and the property in \"{}\": it counts as none",
                property.name,
                shown(&property.unit)
            );
            let help = "declare the property in mg, g or µg, or state it under carries";
            findings.warning(codes::PROPERTY_UNIT, first.place(), what, help);
        }
    }
}

/// Puts what a candidate states under `carries` over what is known.
pub fn carry(
    written: &At<file::Candidate>,
    properties: &[Property],
    carries: &mut [f64],
    findings: &mut Findings,
) {
    for (name, value) in entries(written.carries.as_ref()) {
        let at = properties.iter().position(|p| p.name == name.value);
        if let Some(slot) = at.and_then(|at| carries.get_mut(at)) {
            *slot = value.value;
        } else if !findings.is_spoiled("properties") {
            let meant = findings.closest(name, properties.iter().map(|p| p.name.as_str()));
            let otherwise = || "declare it under [properties]: caffeine = { unit = \"mg\" }".to_owned();
            let help = guess_key(meant, otherwise);
            let what = format!("no property is named `{}`", shown(name));
            findings.error(codes::UNKNOWN_NAME, name.place(), what, help);
        }
    }
}
