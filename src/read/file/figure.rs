//! Figures with more to them than a number: their range, their spread, and what is to hold of them.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::Deserialize;

use super::value::schema;
use super::{At, Word};
use crate::liquid::instruments::{BASE, SAMPLE_ML};

/// A number with its unit, in whatever way it is written; what it means is read later.
pub(super) const WITH_A_NUMBER: &str = "^[^A-Za-z]*[0-9¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]|^\\s*[A-Z]{1,3}\\$?\\s*[0-9]";

/// A figure of a composition: one number, or a typical value with its natural range. `MOST` is the
/// largest value that may stand there.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Figure<const MOST: u32> {
    /// The typical value.
    pub typical: f64,
    /// Lower end of the natural range.
    pub min: Option<f64>,
    /// Upper end of the natural range.
    pub max: Option<f64>,
}

impl<const MOST: u32> From<f64> for Figure<MOST> {
    fn from(typical: f64) -> Self {
        Self { typical, min: None, max: None }
    }
}

impl<const MOST: u32> JsonSchema for Figure<MOST> {
    fn schema_name() -> Cow<'static, str> {
        format!("FigureTo{MOST}").into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let number = json_schema!({ "type": "number", "minimum": 0, "maximum": MOST });
        let text = json_schema!({ "type": "string", "pattern": WITH_A_NUMBER });
        let either = json_schema!({ "anyOf": [number, text] });
        json_schema!({
            "description": "A number, or a typical value with its natural range",
            "anyOf": [number, text, {
                "type": "object",
                "properties": { "typical": either, "min": either, "max": either },
                "required": ["typical"],
                "additionalProperties": false,
            }],
        })
    }
}

/// A given melt, in % of what is poured on the ice: a number, or a number with its spread.
#[derive(Debug, Clone, Copy, PartialEq, Default, Deserialize)]
pub struct Melt {
    /// What was weighed, or is wanted.
    pub typical: f64,
    /// How far it may be off either way; the rule's own where none is given.
    pub spread: Option<f64>,
    /// The strength before the ice, % vol, of the drink that it was weighed with.
    pub at: Option<f64>,
    /// Whether it stands for every strength, and does not vary unless a spread is given.
    #[serde(default)]
    pub exact: bool,
}

impl From<f64> for Melt {
    fn from(typical: f64) -> Self {
        Self { typical, ..Self::default() }
    }
}

schema!(Melt: "Melt", |_generator| {
    let number = json_schema!({ "type": "number", "minimum": 0, "maximum": 300 });
    json_schema!({
        "description": "A number, or a typical value with its spread either way, the strength (% vol before \
                        the ice) of the drink that it was weighed with, and whether it stands for every strength",
        "anyOf": [number, {
            "type": "object",
            "properties": {
                "typical": number,
                "spread": { "type": "number", "minimum": 0, "maximum": 100 },
                "at": { "type": "number", "minimum": 0, "maximum": 100 },
                "exact": { "type": "boolean" },
            },
            "required": ["typical"],
            "additionalProperties": false,
        }],
    })
});

/// A titration: how much base, or that with its molarity and the sample.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(default)]
pub struct Titrated {
    /// Base used up, ml.
    pub base: f64,
    /// Molarity of the base, mol/L.
    pub molar: f64,
    /// The sample, ml.
    pub sample: f64,
}

impl From<f64> for Titrated {
    fn from(base: f64) -> Self {
        Self { base, molar: BASE, sample: SAMPLE_ML }
    }
}

impl Default for Titrated {
    /// A base that is missing has been told of before anything of this is used.
    fn default() -> Self {
        Self::from(0.0)
    }
}

schema!(Titrated: "Titration", |_generator| {
    let about = "Base used up, ml";
    let base = json_schema!({ "description": about, "type": "number", "minimum": 0, "maximum": 10_000 });
    let over_nothing = |about: &str| json_schema!({ "description": about, "type": "number", "exclusiveMinimum": 0, "maximum": 10_000 });
    json_schema!({
        "description": "ml of 0.1 mol/L base on 10 ml, or the table of all three",
        "anyOf": [base, {
            "type": "object",
            "properties": {
                "base": base,
                "molar": over_nothing("Molarity of the base, mol/L (default 0.1)"),
                "sample": over_nothing("The sample, ml (default 10)"),
            },
            "required": ["base"],
            "additionalProperties": false,
        }],
    })
});

/// For which compositions the targets have to hold, as written.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(from = "Share")]
pub enum HoldWish {
    /// The typical one.
    Typical,
    /// Every one in the natural ranges.
    Worst,
    /// In at least this many % of simulated serves.
    Share(f64),
}

#[derive(Deserialize)]
struct Share {
    share: f64,
}

impl From<Share> for HoldWish {
    fn from(Share { share }: Share) -> Self {
        Self::Share(share)
    }
}

impl From<Word<HoldWish>> for HoldWish {
    fn from(word: Word<Self>) -> Self {
        word.0
    }
}

schema!(HoldWish: "HoldFor", |_generator| {
    json_schema!({
        "anyOf": [{ "type": "string", "enum": ["typical", "worst"] }, {
            "type": "object",
            "properties": { "share": {
                "description": "In at least this many % of serves",
                "type": "number", "exclusiveMinimum": 0, "exclusiveMaximum": 100,
            } },
            "required": ["share"],
            "additionalProperties": false,
        }],
    })
});

/// What is to be as high as possible: one figure, or how many of some notes are covered.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Highest {
    /// A target name, a property or an ingredient; none: the notes.
    #[serde(skip)]
    pub of: Option<String>,
    /// Notes, as many of which as possible are to be carried by what is used.
    #[serde(default)]
    pub notes: Vec<At<String>>,
}

impl From<String> for Highest {
    fn from(of: String) -> Self {
        Self { of: Some(of), notes: Vec::new() }
    }
}

schema!(Highest: inline "Highest", |_generator| {
    json_schema!({
        "anyOf": [{ "type": "string" }, {
            "type": "object",
            "properties": { "notes": {
                "description": "Words that ingredients carry as their notes",
                "type": "array", "items": { "type": "string" }, "minItems": 1, "maxItems": 100,
            } },
            "required": ["notes"],
            "additionalProperties": false,
        }],
    })
});
