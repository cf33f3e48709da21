//! One ingredient as it is written.

use std::ops::Range;

use schemars::JsonSchema;
use serde::Deserialize;
use serde_json::Map;

use super::{At, By, Entries, Figure, Pour, PourError, Quantity, Short, Word};
use crate::brief::{Allergen, Handling, Role, Varies};
use crate::liquid::Form;

/// The keys of what is in an ingredient: of a preparation all of it follows from its parts.
pub const FIGURES: [&str; 12] = [
    "larder",
    "form",
    "strength",
    "sugar",
    "brix",
    "acid",
    "density",
    "sweetness",
    "polyols",
    "polyol_sweetness",
    "polyol_energy",
    "other_energy",
];

/// One ingredient: from the larder, with figures of its own, or made in house.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend(
    "anyOf" = [{ "required": ["name"] }, { "required": ["larder"] }, { "required": ["house"] }],
    "not" = { "required": ["sugar", "brix"] },
    // The composition of a preparation follows from its parts.
    "dependentSchemas" = { "made": { "properties": Map::from_iter(FIGURES.map(|key| (key.to_owned(), false.into()))) } }
))]
pub struct Candidate {
    /// What it is called, once in a brief (default: its larder name)
    pub name: Option<At<String>>,
    /// Takes the composition of this built-in ingredient; any other key overrides it
    pub larder: Option<At<String>>,
    /// Takes all that the house says of this ingredient; any other key overrides it
    pub house: Option<At<String>>,
    /// What it does in the drink (default: the larder's; else seasoning for a powder, modifier for a liquid)
    pub role: Option<At<Word<Role>>>,
    /// Liquid (amounts in ml, contents in g/L) or powder (amounts in g, contents in g/kg) (default liquid)
    pub form: Option<At<Word<Form>>>,
    /// Strength in % vol at 20 °C (default 0)
    pub strength: Option<At<Short<f64, Figure<100>>>>,
    /// Sugars in g/L, of a powder in g/kg (default 0)
    pub sugar: Option<At<Short<f64, Figure<2000>>>>,
    /// Sugars in g sucrose per 100 g, instead of sugar
    pub brix: Option<At<Short<f64, Figure<100>>>>,
    /// Titratable acid as citric in g/L, of a powder in g/kg (default 0)
    pub acid: Option<At<Short<f64, Figure<2000>>>>,
    /// g/ml at 20 °C (default: computed from the rest)
    #[schemars(range(max = 5), extend("exclusiveMinimum" = 0))]
    pub density: Option<At<f64>>,
    /// Sweetness of its sugars relative to sucrose, by mass (default 1)
    #[schemars(range(min = 0, max = 10_000))]
    pub sweetness: Option<At<f64>>,
    /// Polyols and other sweet solids that are no sugars, in g/L, of a powder in g/kg (default 0)
    #[schemars(range(min = 0, max = 2000))]
    pub polyols: Option<At<f64>>,
    /// Sweetness of its polyols relative to sucrose, by mass (default 0)
    #[schemars(range(min = 0, max = 10_000))]
    pub polyol_sweetness: Option<At<f64>>,
    /// Energy of its polyols in kcal/g (default 2.4; erythritol has 0)
    #[schemars(range(min = 0, max = 10))]
    pub polyol_energy: Option<At<f64>>,
    /// Energy from fat and protein in kcal per litre, of a powder per kg (default 0)
    #[schemars(range(min = 0, max = 10_000))]
    pub other_energy: Option<At<f64>>,
    /// Properties per litre, of a powder per kg, by the names declared under properties (default 0 each)
    pub carries: Option<At<Entries<f64>>>,
    /// What it costs: "14.50 per 700 ml", or "£14.50 per 700 ml"
    #[schemars(regex(
        pattern = "^\\s*(?:[A-Z]{3}|[A-Z]{0,2}\\$|[£€¥₹₩₺₱₪₫])?\\s*\\+?[0-9._]+(?:[eE][+-]?[0-9]+)?\\s*(?:[A-Z]{3}|[A-Z]{0,2}\\$|[£€¥₹₩₺₱₪₫])?\\s+per\\s+\\S"
    ))]
    pub price: Option<At<String>>,
    /// The share of what is bought that reaches a glass, over 0 and up to 1 (default 1)
    #[serde(rename = "yield")]
    #[schemars(range(max = 1), extend("exclusiveMinimum" = 0))]
    pub yielded: Option<At<f64>>,
    /// What stands there: "2 bottles", or "1.4 l" (default: nothing)
    #[schemars(regex(pattern = "^\\s*\\+?[0-9¼½¾⅓⅔./ ]+\\s*[a-zA-Z ]*$"))]
    pub stock: Option<At<String>>,
    /// Days that it keeps once it is opened or pressed (default: longer than a week)
    #[schemars(range(max = 10_000), extend("exclusiveMinimum" = 0))]
    pub keeps_days: Option<At<f64>>,
    /// The fewest packs that one order may have (default 1)
    #[schemars(range(min = 1, max = 10_000))]
    pub least_order: Option<At<u32>>,
    /// Least amount when it is used at all
    pub min: Option<At<Quantity>>,
    /// Greatest amount
    pub max: Option<At<Quantity>>,
    /// It has to be used (default false)
    pub must: Option<At<bool>>,
    /// Known, for the reference and for preparations, but not to be used (default false)
    pub out: Option<At<bool>>,
    /// It tops the drink up, after the ice's work (default: true of what holds gas)
    pub top: Option<At<bool>>,
    /// °C as it is poured (default: 5 of what is kept in a fridge, 20 of the rest)
    #[schemars(range(min = -40, max = 100))]
    pub temperature: Option<At<f64>>,
    /// Its own pour step, "free", or its own measures (default: the bar's; 0.1 g for a powder)
    pub pour: Option<At<Short<Quantity, Pour>>>,
    /// How far one pour of it is off, or how it is poured (default: as variation says; a scale for a powder)
    pub pour_error: Option<At<PourError>>,
    /// What its natural range is between: serves, lots, seasons or makes (default: make for a bottled thing; else lot)
    pub varies: Option<At<Word<Varies>>>,
    /// When its figures were measured: `washline calibrate --keep` writes it
    pub measured: Option<At<String>>,
    /// Allergens that it carries, by the names of EU 1169/2011 Annex II
    pub allergens: Option<At<Vec<At<Word<Allergen>>>>>,
    /// What asks for care when it is handled, kept or served
    pub handling: Option<At<Vec<At<Word<Handling>>>>>,
    /// What it smells and tastes of, in words of your own: counted, never tasted (default: the larder's)
    pub notes: Option<At<Vec<At<String>>>>,
    /// Made in house from other candidates, larder entries or water
    pub made: Option<At<Made>>,
}

/// How a preparation is made.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Made {
    /// Whether the parts are weighed or measured by volume
    #[schemars(required)]
    pub by: Option<At<Word<By>>>,
    /// How many parts of what: name = number
    #[schemars(required)]
    pub parts: Option<At<Entries<f64>>>,
    /// Share of what is made that never reaches a glass, in % (default 0)
    #[schemars(range(min = 0), extend("exclusiveMaximum" = 100))]
    pub loss: Option<At<f64>>,
}

impl At<Candidate> {
    /// Where it is named.
    pub fn name_place(&self) -> Range<usize> {
        self.name.as_ref().or(self.larder.as_ref()).map_or_else(|| self.place(), At::place)
    }

    /// Where each of its [`FIGURES`] stands.
    pub fn figures(&self) -> [Option<Range<usize>>; 12] {
        [
            self.larder.as_ref().map(At::place),
            self.form.as_ref().map(At::place),
            self.strength.as_ref().map(At::place),
            self.sugar.as_ref().map(At::place),
            self.brix.as_ref().map(At::place),
            self.acid.as_ref().map(At::place),
            self.density.as_ref().map(At::place),
            self.sweetness.as_ref().map(At::place),
            self.polyols.as_ref().map(At::place),
            self.polyol_sweetness.as_ref().map(At::place),
            self.polyol_energy.as_ref().map(At::place),
            self.other_energy.as_ref().map(At::place),
        ]
    }
}
