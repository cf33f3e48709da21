//! The house as it is written, and what a brief asks of it.

use schemars::JsonSchema;
use serde::Deserialize;

use super::{At, Candidate, Entries, Melt, PourError, Property, Quantity, Short, Store, Weighed, Word};
use crate::brief::Role;

/// Bottles, prices, preparations, measured figures and notes, written down once for all briefs.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "A washline house")]
#[expect(dead_code, reason = "its schema is what counts: a house is taken in table by table")]
pub struct House {
    /// Whose house it is
    pub title: Option<At<String>>,
    /// ISO 4217 code of the currency of all prices; a brief without one takes it over
    #[schemars(regex(pattern = "^[A-Z]{3}$"))]
    pub currency: Option<At<String>>,
    /// The properties that ingredients here carry, such as caffeine
    pub properties: Option<At<Entries<Property>>>,
    /// Bottles and preparations, one table each, with the keys that they have in a brief
    #[schemars(required, length(min = 1))]
    pub candidate: Option<At<Vec<At<Candidate>>>>,
    /// How much of the house's ice melts, by how a drink is made: for every brief that does not say its own
    pub melt: Option<At<Melts>>,
    /// How far one pour of a liquid is off, or how it is poured: for every brief that does not say its own
    pub pour_error: Option<At<PourError>>,
    /// What was weighed, read and titrated; `washline calibrate HOUSE` makes figures of it
    pub weighed: Option<At<Vec<At<Weighed>>>>,
}

/// Melt water in % of the poured volume, by how a drink is made.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[expect(dead_code, reason = "its schema is what counts: a house is taken in table by table")]
pub struct Melts {
    /// Shaken
    pub shake: Option<At<Short<f64, Melt>>>,
    /// Stirred
    pub stir: Option<At<Short<f64, Melt>>>,
    /// Built
    pub build: Option<At<Short<f64, Melt>>>,
    /// Blended
    pub blend: Option<At<Short<f64, Melt>>>,
}

/// All that fit come in as candidates.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Bring {
    /// Whether they come from the house or from the larder
    #[schemars(required)]
    #[expect(dead_code, reason = "it is fulfilled before the rest is read")]
    pub from: Option<At<Word<Store>>>,
    /// Only those of this role
    #[expect(dead_code, reason = "it is fulfilled before the rest is read")]
    pub role: Option<At<Word<Role>>>,
    /// Only those that carry this note
    pub note: Option<At<String>>,
    /// Only these, by name
    #[expect(dead_code, reason = "it is fulfilled before the rest is read")]
    pub names: Option<At<Vec<At<String>>>>,
    /// At most so many of a role, the first ones of the file
    #[expect(dead_code, reason = "it is fulfilled before the rest is read")]
    #[schemars(range(min = 1, max = 1000))]
    pub most: Option<At<usize>>,
}

/// A spec that was kept. Its figures are a note for people: whoever compares measures its pours anew.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Kept {
    /// What it was kept as, once in a brief
    #[schemars(required)]
    pub name: Option<At<String>>,
    /// When: year, month and day
    pub date: Option<At<String>>,
    /// Which version of the program worked it out
    #[expect(dead_code, reason = "for people")]
    pub version: Option<At<String>>,
    /// What the command line had changed in the brief
    #[expect(dead_code, reason = "for people")]
    pub set: Option<At<Vec<At<String>>>>,
    /// What is poured: name = amount
    #[schemars(required)]
    pub pours: Option<At<Entries<Quantity>>>,
    /// What it measured in the glass then
    #[expect(dead_code, reason = "for people")]
    pub served: Option<At<Entries<f64>>>,
}
