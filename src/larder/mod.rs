//! The built-in ingredients, with figures, natural ranges, allergens and sources.
//!
//! They stand in one data file, `larder.toml`; an entry is read when it is first asked for.

mod carried;
mod family;
mod file;
mod folded;
mod group;
mod look;
mod ph;
mod provenance;
mod shelf;
mod solid;
mod sweetness;

pub use carried::{caffeine_at_most, caffeine_per_litre, may_hold, solids, strongest};
pub use family::{FAMILIES, Family, Need};
pub use folded::folded;
pub use group::{Between, Group};
pub use look::{closest, find, search};
pub use ph::{Ph, ph};
pub use provenance::{Basis, Figure, Provenance};
pub use shelf::{all, opened, references};
pub use solid::Solid;
pub use sweetness::{FRUCTOSE, GLUCOSE, LACTOSE, MALTOSE, SUCROSE, Sugars, Sweetness};

use crate::brief::{Allergen, Handling, Natural, Range, Role};
use crate::liquid::Label;

/// What the licences of the tables behind the larder ask to be said where it is shown.
pub const ATTRIBUTION: &str = include_str!("attribution.txt");

/// One built-in ingredient.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Its name in the trade's words, lower case.
    pub name: String,
    /// Other words that find it.
    pub also: Vec<String>,
    /// Which shelf it stands on.
    pub group: Group,
    /// What it does in most drinks.
    pub role: Role,
    /// Typical composition.
    pub label: Label,
    /// Natural ranges: how far makes, fruit and batches differ; [`Self::varies`] is what a bar meets.
    pub natural: Natural,
    /// Its sugars by kind, g/L (powder: g/kg).
    pub sugars: Sugars,
    /// The published spread of the sweetness of these sugars, or of its polyols where it has only those.
    pub sweetness: Range,
    /// What its solids that are no sugars (`label.polyols`) are.
    pub solid: Solid,
    /// Which acids it holds, in words; equal titratable acid is not equal sourness.
    pub acids: String,
    /// Caffeine, mg per litre (powder: per kg).
    pub caffeine: f64,
    /// Range of the caffeine, where it has one.
    pub caffeine_range: Option<Range>,
    /// Sodium, mg per litre (powder: per kg).
    pub sodium: f64,
    /// Allergens of EU 1169/2011 Annex II that are labelled as a rule.
    pub allergens: Vec<Allergen>,
    /// Allergens that only some makes hold: the label tells.
    pub may_hold: Vec<Allergen>,
    /// What asks for care.
    pub handling: Vec<Handling>,
    /// A few plain words for how it smells and tastes, each a judgement: a start for a bar's own.
    pub notes: Vec<String>,
    /// What each figure rests on.
    pub provenance: Vec<Provenance>,
    /// Which figures or ranges are judgement or from memory, in words; empty where all are sourced.
    pub judged: Vec<String>,
    /// Where the figures come from; short names stand in full under [`references`].
    pub source: String,
    /// Anything else that a user should know.
    pub note: String,
}

impl Entry {
    /// The ranges within which what one bar pours differs from day to day: none of a bottled thing,
    /// whose ranges are between makes.
    pub fn varies(&self) -> Natural {
        match self.group.ranges() {
            Between::Makes => Natural::default(),
            Between::Batches => self.natural,
        }
    }

    /// Whether it carries a note.
    pub fn has_note(&self, note: &str) -> bool {
        self.notes.iter().any(|own| folded(own) == folded(note))
    }

    /// What one of its figures rests on.
    pub fn provenance(&self, figure: Figure) -> Option<Provenance> {
        self.provenance.iter().copied().find(|p| p.figure == figure)
    }

    /// The works that its sources name, `(short name, in full)`.
    pub fn references(&self) -> impl Iterator<Item = (&'static str, &'static str)> + '_ {
        references()
            .iter()
            .filter(|(short, _)| self.source.contains(short.as_str()))
            .map(|(s, f)| (&**s, &**f))
    }
}

/// The name of the entry for water: it comes from the tap, and costs nothing where no price is given.
pub const WATER: &str = "water";

#[cfg(test)]
mod published;
#[cfg(test)]
mod tests;
