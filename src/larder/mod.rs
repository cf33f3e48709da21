//! The built-in ingredients, with figures, natural ranges, allergens and sources.

use crate::brief::{Allergen, Handling, Natural, Role};
use crate::liquid::Label;

/// One built-in ingredient.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Its name in the trade's words, lower case.
    pub name: String,
    /// Other words that find it.
    pub also: Vec<String>,
    /// What it does in most drinks.
    pub role: Role,
    /// Typical composition.
    pub label: Label,
    /// Natural ranges.
    pub natural: Natural,
    /// Caffeine, mg per litre (powder: per kg).
    pub caffeine: f64,
    /// Sodium, mg per litre (powder: per kg).
    pub sodium: f64,
    /// Allergens of EU 1169/2011 Annex II.
    pub allergens: Vec<Allergen>,
    /// What asks for care.
    pub handling: Vec<Handling>,
    /// Which figures or ranges are judgement or from memory, in words; empty where all are sourced.
    pub judged: Vec<String>,
    /// Where the figures come from.
    pub source: String,
    /// Anything else that a user should know.
    pub note: String,
}

/// All entries, in the order of the data file. Parsed on first use.
pub fn all() -> &'static [Entry] {
    todo!()
}

/// The entry of this exact name (or other word), letter case aside.
pub fn find(_name: &str) -> Option<&'static Entry> {
    todo!()
}
