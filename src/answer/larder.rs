//! The built-in ingredients as a list.

use std::collections::BTreeMap;

use super::FORMAT;
use crate::brief::{Brief, Candidate, Natural, Origin, Range, Role};
use crate::larder::{self, Basis, Entry, Figure, Provenance};
use crate::liquid::{Form, Label};
use crate::read::Shelf;

/// How much of each entry people are shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Detail {
    /// Figures.
    #[default]
    Figures,
    /// Figures, their sources, and which of them are judgement.
    Sources,
}

/// Entries of the larder.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct LarderAnswer {
    /// Version of this object.
    pub format: u32,
    /// The best found first; without words, in the order of the larder.
    pub ingredients: Vec<LarderLine>,
    /// The works that their sources name, in full.
    pub references: BTreeMap<&'static str, &'static str>,
    /// What the licences of these works ask to be said.
    pub attribution: &'static str,
    /// How much of each is shown to people; JSON and CSV always give everything.
    #[serde(skip)]
    pub detail: Detail,
}

/// One ingredient. Figures are per litre; of powders per kilogram.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct LarderLine {
    /// Its name.
    pub name: String,
    /// `house` or `larder`.
    pub from: Shelf,
    /// What a pack costs, where that is known.
    pub price: Option<String>,
    /// Other words that find it.
    pub also: Vec<String>,
    /// Which shelf it stands on.
    pub group: &'static str,
    /// What it does in most drinks.
    pub role: &'static str,
    /// `liquid` or `powder`.
    pub form: Form,
    /// % vol.
    pub strength: Span,
    /// Sugars, g.
    pub sugar: Span,
    /// Polyols and other solids that are no sugars, g.
    pub polyols: f64,
    /// What these are, in words.
    pub solid: Option<&'static str>,
    /// Acid as citric, g.
    pub acid: Span,
    /// Which acids, in words.
    pub acids: String,
    /// Sweetness of its sugars (of its polyols where it has only those), sucrose = 1.
    pub sweetness: Span,
    /// g/ml where stated.
    pub density: Option<f64>,
    /// mg.
    pub caffeine: Span,
    /// mg.
    pub sodium: f64,
    /// EU 1169/2011 Annex II.
    pub allergens: Vec<&'static str>,
    /// Allergens that only some makes hold.
    pub may_hold: Vec<&'static str>,
    /// What asks for care.
    pub handling: Vec<&'static str>,
    /// A few plain words for how it smells and tastes, each a judgement.
    pub notes: Vec<String>,
    /// Which figures are judgement or from memory.
    pub judged: Vec<String>,
    /// Whether its typical strength, sugar or acid is a guess.
    #[serde(skip)]
    pub guessed: bool,
    /// Where the figures come from.
    pub source: String,
    /// Anything else.
    pub note: String,
}

/// A typical value and its natural range.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Span {
    /// Typical.
    pub typical: f64,
    /// Lower end, where a range is known.
    pub min: Option<f64>,
    /// Upper end, where a range is known.
    pub max: Option<f64>,
}

impl Span {
    fn of(typical: f64, range: Option<Range>) -> Self {
        Self { typical, min: range.map(|r| r.min), max: range.map(|r| r.max) }
    }
}

/// Lists entries.
pub fn larder_answer(entries: &[&Entry], detail: Detail) -> LarderAnswer {
    LarderAnswer {
        format: FORMAT,
        ingredients: entries.iter().map(|e| line(e)).collect(),
        references: entries.iter().flat_map(|e| e.references()).collect(),
        attribution: larder::ATTRIBUTION,
        detail,
    }
}

/// The ingredients of a house in which every word is found, each with its figures.
pub fn house_lines(house: &Brief, words: &[String]) -> Vec<LarderLine> {
    let found = |candidate: &&Candidate| {
        let text =
            [&candidate.name, candidate.role.keyword(), &candidate.notes.join(" ")].join(" ").to_lowercase();
        words.iter().all(|word| text.contains(&word.to_lowercase()))
    };
    house.candidates.iter().filter(found).map(of_house).collect()
}

fn of_house(candidate: &Candidate) -> LarderLine {
    let (label, natural) = (&candidate.label, &candidate.natural);
    let price = candidate.price.as_ref().map(|price| format!("{} per {}", price.amount, price.pack_text));
    let (source, judged) = match &candidate.origin {
        Origin::Larder { entry, judged } => (format!("the larder's {entry}, and the house"), judged.clone()),
        Origin::Made(_) => ("made in house: from its parts".to_owned(), Vec::new()),
        Origin::Brief => ("the house".to_owned(), Vec::new()),
    };
    LarderLine {
        price,
        notes: candidate.notes.clone(),
        allergens: candidate.allergens.iter().map(|a| a.keyword()).collect(),
        handling: candidate.handling.iter().map(|h| h.keyword()).collect(),
        guessed: judged
            .iter()
            .any(|words| ["strength:", "sugar:", "acid:"].iter().any(|f| words.starts_with(f))),
        judged,
        source,
        ..known(Shelf::House, &candidate.name, candidate.role, label, *natural)
    }
}

/// The line of an ingredient of which no more is known.
fn known(from: Shelf, name: &str, role: Role, label: &Label, natural: Natural) -> LarderLine {
    LarderLine {
        name: name.to_owned(),
        from,
        price: None,
        also: Vec::new(),
        group: "house",
        role: role.keyword(),
        form: label.form,
        strength: Span::of(label.strength, natural.strength),
        sugar: Span::of(label.sugar, natural.sugar),
        polyols: label.polyols,
        solid: None,
        acid: Span::of(label.acid, natural.acid),
        acids: String::new(),
        sweetness: Span::of(sweetness(label), None),
        density: label.density,
        caffeine: Span::of(0.0, None),
        sodium: 0.0,
        allergens: Vec::new(),
        may_hold: Vec::new(),
        handling: Vec::new(),
        notes: Vec::new(),
        judged: Vec::new(),
        guessed: false,
        source: String::new(),
        note: String::new(),
    }
}

fn is_guess(provenance: Provenance) -> bool {
    matches!(provenance.figure, Figure::Strength | Figure::Sugar | Figure::Acid)
        && matches!(provenance.typical, Some(Basis::Weak | Basis::Judgement | Basis::Memory))
}

/// Of its sugars; of its polyols where it has only those.
fn sweetness(label: &Label) -> f64 {
    if label.sugar <= 0.0 && label.polyols > 0.0 { label.polyol_sweetness } else { label.sweetness }
}

fn line(entry: &Entry) -> LarderLine {
    let label = &entry.label;
    LarderLine {
        also: entry.also.clone(),
        group: entry.group.keyword(),
        solid: (label.polyols > 0.0).then(|| entry.solid.words()),
        acids: entry.acids.clone(),
        sweetness: Span::of(sweetness(label), Some(entry.sweetness)),
        caffeine: Span::of(entry.caffeine, entry.caffeine_range),
        sodium: entry.sodium,
        allergens: entry.allergens.iter().map(|a| a.keyword()).collect(),
        may_hold: entry.may_hold.iter().map(|a| a.keyword()).collect(),
        handling: entry.handling.iter().map(|h| h.keyword()).collect(),
        notes: entry.notes.clone(),
        judged: entry.judged.clone(),
        guessed: entry.provenance.iter().copied().any(is_guess),
        source: entry.source.clone(),
        note: entry.note.clone(),
        ..known(Shelf::Larder, &entry.name, entry.role, label, entry.natural)
    }
}
