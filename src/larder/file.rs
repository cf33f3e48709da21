//! The data file as it is written, and from it the entries.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::provenance::{Basis, Figure, Provenance};
use super::{Entry, Group, Solid, Sugars};
use crate::brief::{Allergen, Handling, Natural, Range, Role};
use crate::liquid::{Form, Label, energy};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenHead {
    references: BTreeMap<String, String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenEntry {
    name: String,
    #[serde(default)]
    also: Vec<String>,
    group: String,
    role: String,
    form: Option<String>,
    strength: Option<WrittenFigure>,
    sugar: Option<WrittenFigure>,
    split: Option<WrittenSplit>,
    polyols: Option<WrittenFigure>,
    polyol_sweetness: Option<WrittenFigure>,
    polyol_energy: Option<f64>,
    /// What the `polyols` are, where they are none.
    #[serde(default)]
    solid: Solid,
    acid: Option<WrittenFigure>,
    #[serde(default)]
    acids: String,
    density: Option<WrittenFigure>,
    caffeine: Option<WrittenFigure>,
    #[serde(default)]
    sodium: f64,
    #[serde(default)]
    other_energy: f64,
    #[serde(default)]
    allergens: Vec<String>,
    #[serde(default)]
    may_hold: Vec<String>,
    #[serde(default)]
    handling: Vec<String>,
    #[serde(default)]
    notes: Vec<String>,
    #[serde(default)]
    judged: Vec<String>,
    source: String,
    #[serde(default)]
    note: String,
}

#[derive(Deserialize, Clone, Copy)]
#[serde(deny_unknown_fields)]
struct WrittenFigure {
    typical: f64,
    min: Option<f64>,
    max: Option<f64>,
    from: Option<Basis>,
    range: Option<Basis>,
}

#[derive(Deserialize, Clone, Copy)]
struct WrittenSplit {
    #[serde(flatten)]
    sugars: Sugars,
    from: Basis,
}

impl WrittenFigure {
    /// Its range, when both ends stand there.
    fn spread(&self) -> Option<Range> {
        Some(Range { min: self.min?, max: self.max? })
    }
}

/// The works named in the head of the data file, by short name.
pub(super) fn references(text: &str) -> Result<BTreeMap<String, String>, String> {
    toml::from_str::<WrittenHead>(text).map(|head| head.references).map_err(|fault| fault.to_string())
}

/// The entry that its keys describe.
pub(super) fn entry(text: &str) -> Result<Entry, String> {
    toml::from_str(text).map_err(|fault| fault.to_string()).and_then(lower)
}

fn lower(written: WrittenEntry) -> Result<Entry, String> {
    let unknown = |word: &str| format!("{}: unknown word `{word}`", written.name);
    let sugars = written.split.map_or_else(
        || Sugars::sucrose(written.sugar.map_or(0.0, |figure| figure.typical)),
        |split| split.sugars,
    );
    let provenance = provenances(&written, &sugars);
    let warnings = provenance.iter().flat_map(Provenance::warnings);
    Ok(Entry {
        group: Group::from_keyword(&written.group).ok_or_else(|| unknown(&written.group))?,
        role: Role::from_keyword(&written.role).ok_or_else(|| unknown(&written.role))?,
        label: label(&written, &sugars)?,
        natural: Natural {
            strength: spread(written.strength),
            sugar: spread(written.sugar),
            acid: spread(written.acid),
        },
        sweetness: sweetness(&written, &sugars),
        sugars,
        solid: written.solid,
        caffeine: typical(written.caffeine),
        caffeine_range: spread(written.caffeine),
        sodium: written.sodium,
        allergens: words(&written.allergens, Allergen::from_keyword).map_err(unknown)?,
        may_hold: words(&written.may_hold, Allergen::from_keyword).map_err(unknown)?,
        handling: words(&written.handling, Handling::from_keyword).map_err(unknown)?,
        notes: written.notes,
        judged: warnings.chain(written.judged).collect(),
        provenance,
        name: written.name,
        also: written.also,
        acids: written.acids,
        source: written.source,
        note: written.note,
    })
}

fn typical(figure: Option<WrittenFigure>) -> f64 {
    figure.map_or(0.0, |figure| figure.typical)
}

fn spread(figure: Option<WrittenFigure>) -> Option<Range> {
    figure.as_ref().and_then(WrittenFigure::spread)
}

/// The meaning of each word, or the first that has none.
fn words<T>(written: &[String], meaning: fn(&str) -> Option<T>) -> Result<Vec<T>, &str> {
    written.iter().map(|word| meaning(word).ok_or(word.as_str())).collect()
}

fn label(written: &WrittenEntry, sugars: &Sugars) -> Result<Label, String> {
    let form = match written.form.as_deref() {
        None => Form::Liquid,
        Some("powder") => Form::Powder,
        Some(other) => return Err(format!("{}: unknown form `{other}`", written.name)),
    };
    Ok(Label {
        form,
        strength: typical(written.strength),
        sugar: typical(written.sugar),
        polyols: typical(written.polyols),
        acid: typical(written.acid),
        density: written.density.map(|figure| figure.typical),
        sweetness: sugars.sweetness().typical,
        polyol_sweetness: typical(written.polyol_sweetness),
        polyol_energy: written.polyol_energy.unwrap_or(energy::POLYOLS),
        other_energy: written.other_energy,
        ..Label::default()
    })
}

fn sweetness(written: &WrittenEntry, sugars: &Sugars) -> Range {
    if written.polyols.is_none() || sugars.total() > 0.0 {
        return sugars.sweetness().spread;
    }
    let one = typical(written.polyol_sweetness);
    spread(written.polyol_sweetness).unwrap_or(Range { min: one, max: one })
}

/// What each figure rests on, in the order of [`Figure`].
fn provenances(written: &WrittenEntry, sugars: &Sugars) -> Vec<Provenance> {
    let split = written.split.map(|split| split.from);
    // The typical sweetness of glucose and fructose is a judgement inside the published spread.
    let tasted =
        split.filter(|_| sugars.sweetness().spread != super::SUCROSE.spread).map(|_| Basis::Judgement);
    let figures = [
        (Figure::Strength, written.strength),
        (Figure::Sugar, written.sugar),
        (Figure::Acid, written.acid),
        (Figure::Polyols, written.polyols),
        (Figure::PolyolSweetness, written.polyol_sweetness),
        (Figure::Density, written.density),
        (Figure::Caffeine, written.caffeine),
    ];
    let stated = figures.into_iter().filter_map(|(figure, written)| {
        let written = written?;
        Some(Provenance { figure, typical: written.from, range: written.range })
    });
    let derived = [(Figure::Split, split), (Figure::Sweetness, tasted)]
        .into_iter()
        .filter_map(|(figure, basis)| Some(Provenance { figure, typical: Some(basis?), range: None }));
    let mut all: Vec<_> = stated.chain(derived).collect();
    all.sort_by_key(|p| p.figure);
    all
}
