//! The built-in ingredients as a list.

use super::FORMAT;
use crate::brief::Range;
use crate::larder::Entry;
use crate::liquid::Form;

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
    /// In the order of the larder.
    pub ingredients: Vec<LarderLine>,
    /// How much of each is shown to people; JSON and CSV always give everything.
    #[serde(skip)]
    pub detail: Detail,
}

/// One ingredient. Figures are per litre; of powders per kilogram.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct LarderLine {
    /// Its name.
    pub name: String,
    /// Other words that find it.
    pub also: Vec<String>,
    /// What it does in most drinks.
    pub role: &'static str,
    /// `liquid` or `powder`.
    pub form: &'static str,
    /// % vol.
    pub strength: Span,
    /// Sugars, g.
    pub sugar: Span,
    /// Polyols, g.
    pub polyols: f64,
    /// Acid as citric, g.
    pub acid: Span,
    /// Sweetness of its sugars, sucrose = 1.
    pub sweetness: f64,
    /// g/ml where stated.
    pub density: Option<f64>,
    /// mg.
    pub caffeine: f64,
    /// mg.
    pub sodium: f64,
    /// EU 1169/2011 Annex II.
    pub allergens: Vec<&'static str>,
    /// What asks for care.
    pub handling: Vec<&'static str>,
    /// Which figures are judgement or from memory.
    pub judged: Vec<String>,
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
    LarderAnswer { format: FORMAT, ingredients: entries.iter().map(|e| line(e)).collect(), detail }
}

fn line(entry: &Entry) -> LarderLine {
    let (label, natural) = (&entry.label, &entry.natural);
    LarderLine {
        name: entry.name.clone(),
        also: entry.also.clone(),
        role: entry.role.keyword(),
        form: match label.form {
            Form::Liquid => "liquid",
            Form::Powder => "powder",
        },
        strength: Span::of(label.strength, natural.strength),
        sugar: Span::of(label.sugar, natural.sugar),
        polyols: label.polyols,
        acid: Span::of(label.acid, natural.acid),
        sweetness: label.sweetness,
        density: label.density,
        caffeine: entry.caffeine,
        sodium: entry.sodium,
        allergens: entry.allergens.iter().map(|a| a.keyword()).collect(),
        handling: entry.handling.iter().map(|h| h.keyword()).collect(),
        judged: entry.judged.clone(),
        source: entry.source.clone(),
        note: entry.note.clone(),
    }
}
