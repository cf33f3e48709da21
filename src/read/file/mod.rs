//! The brief as it is written: one struct a table, one field a key, nothing checked beyond its kind.
//!
//! The JSON Schema is made from these structs, and unknown keys, wrong kinds and numbers out of range
//! are found by walking the text's tables along that schema: there is no second list of keys.

mod candidate;
mod figure;
mod house;
mod notebook;
mod quantity;
mod value;
mod word;

pub use candidate::{Candidate, FIGURES, Made};
pub use figure::{Figure, Highest, HoldWish, Melt, Titrated};
pub use house::{Bring, House, Kept};
pub use notebook::{Tasted, Weighed};
pub use quantity::{Code, Pour, PourError, PouredAs, Quantity};
pub use value::{At, Entries, Short, entries, listed};
pub use word::{By, Keyword, Served, Store, Word};

use schemars::JsonSchema;
use serde::Deserialize;

use crate::brief::{Nearest, Per, Role};
use crate::liquid::Method;

/// What a drink must measure in the glass, what may go into it, and what to aim for.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "A washline brief", extend(
    "dependentRequired" = { "hold": ["reference"] },
    "anyOf" = [{ "required": ["aim"] }, { "required": ["reference"] }],
))]
pub struct File {
    /// What the drink is called (default: Untitled drink)
    pub title: Option<At<String>>,
    /// ISO 4217 code of the currency of all prices; needed as soon as there is a price
    #[schemars(regex(pattern = "^[A-Z]{3}$"))]
    pub currency: Option<At<String>>,
    /// The file of bottles, prices and preparations that are kept once; its path relative to the brief
    #[expect(dead_code, reason = "its schema is what counts: whoever reads files has looked it up")]
    pub house: Option<At<String>>,
    /// How the drink is made and served
    #[schemars(required)]
    pub serve: Option<At<Serve>>,
    /// Limits on the drink as served, melt water included, at 20 °C
    pub targets: Option<At<Targets>>,
    /// What makes one spec better than another: exactly one of lowest, highest and nearest (default, where there is
    /// a reference: nearest to it)
    pub aim: Option<At<Aim>>,
    /// What the guest pays
    pub menu: Option<At<Menu>>,
    /// Further properties that ingredients carry and targets may bound, such as caffeine
    pub properties: Option<At<Entries<Property>>>,
    /// What may go into the drink, one table an ingredient
    #[schemars(required, length(min = 1))]
    pub candidate: Option<At<Vec<At<Candidate>>>>,
    /// All that fit come in as candidates
    pub bring: Option<At<Vec<At<Bring>>>>,
    /// How many of a group are used
    pub choose: Option<At<Vec<At<Choose>>>>,
    /// Ratios of poured volumes
    pub proportion: Option<At<Vec<At<Proportion>>>>,
    /// The spec that the drink comes from: name = amount
    pub reference: Option<At<Entries<Quantity>>>,
    /// Targets from the reference itself: its own measured value, give or take this much; or "close", or "loose"
    pub hold: Option<At<Held>>,
    /// How much of an answer is wanted
    pub answer: Option<At<Answer>>,
    /// Natural ranges and the hand that pours
    pub variation: Option<At<Variation>>,
    /// Specs that were kept, to be compared; `--keep NAME` writes them
    pub kept: Option<At<Vec<At<Kept>>>>,
    /// Glasses that were tasted, and what was said of them
    pub tasted: Option<At<Vec<At<Tasted>>>>,
    /// What was weighed, read and titrated
    pub weighed: Option<At<Vec<At<Weighed>>>>,
}

/// How the drink is made and served.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend(
    "if" = { "properties": { "method": { "const": "blend" } }, "required": ["method"] },
    "then" = { "required": ["melt"] }
))]
pub struct Serve {
    /// How it is made, which decides how much ice melts into it
    #[schemars(required)]
    pub method: Option<At<Word<Method>>>,
    /// Melt water in % of the poured volume: shifts the method's rule, whose spread stays
    pub melt: Option<At<Short<f64, Melt>>>,
    /// Whether it is served without ice in the glass or with some (default: up; on ice where it is built)
    pub served: Option<At<Word<Served>>>,
    /// How much ice is in the glass (default: a third of a gram per ml of glass, half a gram of crushed ice)
    pub ice: Option<At<Quantity>>,
    /// Whether the ice in the glass is crushed (default false)
    pub crushed: Option<At<bool>>,
    /// The step the bar measures in, "free" for any amount, or what its jiggers measure (default 2.5 ml)
    pub pour: Option<At<Short<Quantity, Pour>>>,
    /// An ingredient that is used gets at least this much (default: one pour step); not for powders
    pub smallest: Option<At<Quantity>>,
    /// At most so many ingredients
    #[schemars(range(min = 1, max = 1000))]
    pub most: Option<At<usize>>,
    /// Brim volume of the glass
    pub glass: Option<At<Quantity>>,
    /// Share of the glass that the served drink leaves free, in % (default 5)
    #[schemars(range(min = 0), extend("exclusiveMaximum" = 100))]
    pub headroom: Option<At<f64>>,
}

/// Limits on what is in the glass: one entry a target, by its own name or that of a property.
#[derive(Debug, Default, Deserialize)]
#[serde(transparent)]
pub struct Targets(pub Entries<Limits>);

/// A limit, in its target's unit.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(transparent)]
pub struct Bound(pub f64);

/// What is held of the reference, each give or take so much.
#[derive(Debug, Default, Deserialize)]
#[serde(transparent)]
pub struct Held(pub Entries<f64>);

/// The two sides of a target; at least one is given.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend("minProperties" = 1))]
pub struct Limits {
    /// At least this much: a number in the target's unit, or a quantity with its own
    pub min: Option<At<Bound>>,
    /// At most this much: a number in the target's unit, or a quantity with its own
    pub max: Option<At<Bound>>,
}

/// The aim: exactly one of lowest, highest and nearest.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend(
    "oneOf" = [{ "required": ["lowest"] }, { "required": ["highest"] }, { "required": ["nearest"] }]
))]
pub struct Aim {
    /// As low as possible: a target name, a property or an ingredient
    pub lowest: Option<At<String>>,
    /// As high as possible: a target name, a property or an ingredient, or { notes = [ … ] }: as many of these as can be
    /// carried by what is used
    pub highest: Option<At<Short<String, Highest>>>,
    /// As close as possible: to the reference, or to the middle of every two-sided range
    pub nearest: Option<At<Word<Nearest>>>,
    /// Differences of at most this do not matter, in the unit of what is aimed for: among specs as good as that the one
    /// that holds in the most serves comes first (default: by what is aimed for; 0: every difference matters)
    #[schemars(range(min = 0, max = 1_000_000_000))]
    pub to: Option<At<f64>>,
}

impl Aim {
    /// The names that are aimed at, with their places.
    pub fn names(&self) -> impl Iterator<Item = At<String>> + '_ {
        self.lowest.iter().cloned().chain(self.highest.iter().filter_map(At::name))
    }
}

impl At<Short<String, Highest>> {
    /// The name that is to be as high as possible, where it is one.
    pub fn name(&self) -> Option<At<String>> {
        Some(At { value: self.of.clone()?, place: self.place() })
    }
}

/// What the guest pays, and how much of it goes out.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend("anyOf" = [{ "required": ["price"] }, { "required": ["serves"] }]))]
pub struct Menu {
    /// Price on the menu, tax included
    #[schemars(range(max = 1_000_000_000), extend("exclusiveMinimum" = 0))]
    pub price: Option<At<f64>>,
    /// Tax included in it, % of the net price (default 0)
    #[schemars(range(min = 0, max = 1000))]
    pub tax: Option<At<f64>>,
    /// How many serves go out in a week: `washline menu` buys for them
    #[schemars(range(min = 0, max = 1_000_000))]
    pub serves: Option<At<f64>>,
}

/// A further property that ingredients carry.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Property {
    /// Its unit, such as mg
    #[schemars(required)]
    pub unit: Option<At<String>>,
    /// Whether its target is stated per serve or per litre of the served drink (default: serve)
    pub per: Option<At<Word<Per>>>,
}

/// How many of a group are used.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend(
    "oneOf" = [{ "required": ["role"] }, { "required": ["note"] }, { "required": ["among"] }],
    "anyOf" = [{ "required": ["min"] }, { "required": ["max"] }]
))]
pub struct Choose {
    /// All ingredients of this role
    pub role: Option<At<Word<Role>>>,
    /// All ingredients that carry this note
    pub note: Option<At<String>>,
    /// These ingredients, by name
    pub among: Option<At<Vec<At<String>>>>,
    /// At least so many of them
    #[schemars(range(min = 0, max = 1000))]
    pub min: Option<At<usize>>,
    /// At most so many of them
    #[schemars(range(min = 0, max = 1000))]
    pub max: Option<At<usize>>,
}

/// A ratio of poured volumes.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend("anyOf" = [{ "required": ["min"] }, { "required": ["max"] }]))]
pub struct Proportion {
    /// The ingredient above the line, by name
    #[schemars(required)]
    pub of: Option<At<String>>,
    /// The ingredient below the line, by name
    #[schemars(required)]
    pub to: Option<At<String>>,
    /// The ratio is at least this
    #[schemars(range(min = 0, max = 1_000_000))]
    pub min: Option<At<f64>>,
    /// The ratio is at most this
    #[schemars(range(min = 0, max = 1_000_000))]
    pub max: Option<At<f64>>,
}

/// How much of an answer is wanted.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Answer {
    /// How many further specs, each with another set of ingredients (default 6)
    #[schemars(range(min = 0, max = 100))]
    pub alternatives: Option<At<usize>>,
    /// Only those at most so many % worse than the best
    #[schemars(range(min = 0, max = 1_000_000))]
    pub within: Option<At<f64>>,
    /// The best spec that holds in at least so many of 100 serves, each (default 50, 75 and 90)
    #[schemars(length(max = 10), inner(range(min = 0, max = 100)))]
    pub steady: Option<At<Vec<At<f64>>>>,
}

/// Natural ranges and the hand that pours.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Variation {
    /// For which compositions the targets hold: typical, worst (every one in the natural ranges), or in a share of serves
    pub hold: Option<At<Short<Word<HoldWish>, HoldWish>>>,
    /// How far one pour of a liquid is off, or how it is poured (default: jigger)
    pub pour_error: Option<At<PourError>>,
}
