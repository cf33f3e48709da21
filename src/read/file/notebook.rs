//! What was tasted and what was weighed, as it is written.

use std::borrow::Cow;
use std::fmt;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::Deserialize;
use serde::de::value::MapAccessDeserializer;
use serde::de::{Deserializer, MapAccess, Visitor};

use super::word::Keyword;
use super::{At, Entries, Quantity, Word};
use crate::brief::{Said, Titration};
use crate::liquid::Method;
use crate::liquid::instruments::{BASE, SAMPLE_ML};

/// A glass that was tasted, and what was said of it.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend("anyOf" = [
    { "required": ["sweet"] }, { "required": ["sour"] }, { "required": ["strong"] }, { "required": ["long"] },
    { "required": ["words"] },
]))]
pub struct Tasted {
    /// What was in it: "50 ml aged rum, 25 ml lime juice", or a table of amounts
    pub poured: Option<At<PouredAs>>,
    /// The same as poured
    pub pours: Option<At<PouredAs>>,
    /// The name of a kept spec that was in it, instead: the code of a glass of a flight
    pub glass: Option<At<Code>>,
    /// The same as glass
    pub code: Option<At<Code>>,
    /// How sweet it was
    pub sweet: Option<At<Word<Said>>>,
    /// How sour it was
    pub sour: Option<At<Word<Said>>>,
    /// How strong it was
    pub strong: Option<At<Word<Said>>>,
    /// How long it was: how much there was of it
    pub long: Option<At<Word<Said>>>,
    /// Anything else, in the taster's own words
    pub words: Option<At<String>>,
    /// When
    pub date: Option<At<String>>,
}

/// Something that was weighed, read or titrated.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Weighed {
    /// What was poured, as the jigger says: "25 ml lime juice"
    #[schemars(required)]
    pub poured: Option<At<PouredAs>>,
    /// How it was made (default: as the brief makes its drink)
    pub method: Option<At<Word<Method>>>,
    /// What the pours weighed before the ice, g
    #[schemars(range(min = 0, max = 1_000_000))]
    pub grams_in: Option<At<f64>>,
    /// What was strained off the ice, g
    #[schemars(range(min = 0, max = 1_000_000))]
    pub grams_out: Option<At<f64>>,
    /// Temperature at which the density was read, °C (default 20)
    #[schemars(range(min = 0, max = 40))]
    pub temperature: Option<At<f64>>,
    /// Reading of a refractometer, °Brix
    #[schemars(range(min = 0, max = 84))]
    pub brix: Option<At<f64>>,
    /// Density, g/ml
    #[schemars(range(min = 0.7, max = 1.6))]
    pub density: Option<At<f64>>,
    /// Titration: ml of 0.1 mol/L base on 10 ml, or { base, molar, sample }
    pub titration: Option<At<Titrated>>,
    /// When
    pub date: Option<At<String>>,
}

/// What was poured, as it is written: a line, or a table of amounts.
#[derive(Debug)]
pub enum PouredAs {
    /// `"50 ml aged rum, 25 ml lime juice"`
    Line(String),
    /// `{ "aged rum" = "50 ml", "lime juice" = "25 ml" }`
    Each(Entries<Quantity>),
}

struct PouredVisitor;

impl<'de> Visitor<'de> for PouredVisitor {
    type Value = PouredAs;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a line of pours, or a table of amounts")
    }

    fn visit_str<E>(self, line: &str) -> Result<PouredAs, E> {
        Ok(PouredAs::Line(line.to_owned()))
    }

    fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<PouredAs, A::Error> {
        Entries::deserialize(MapAccessDeserializer::new(map)).map(PouredAs::Each)
    }
}

impl<'de> Deserialize<'de> for PouredAs {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(PouredVisitor)
    }
}

impl JsonSchema for PouredAs {
    fn schema_name() -> Cow<'static, str> {
        "Poured".into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let each = generator.subschema_for::<Entries<Quantity>>();
        json_schema!({ "anyOf": [{ "type": "string" }, each] })
    }
}

/// The name of a kept spec; that of a glass of a flight is a number, and may stand without quotes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Code(pub String);

struct CodeVisitor;

impl Visitor<'_> for CodeVisitor {
    type Value = Code;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a name or a number")
    }

    fn visit_str<E>(self, name: &str) -> Result<Code, E> {
        Ok(Code(name.to_owned()))
    }

    fn visit_i64<E>(self, number: i64) -> Result<Code, E> {
        Ok(Code(number.to_string()))
    }
}

impl<'de> Deserialize<'de> for Code {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(CodeVisitor)
    }
}

impl JsonSchema for Code {
    fn schema_name() -> Cow<'static, str> {
        "Code".into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "anyOf": [{ "type": "string" }, { "type": "integer", "minimum": 0, "maximum": 1_000_000_000 }] })
    }
}

impl Keyword for Said {
    const NAME: &'static str = "Said";

    fn words() -> Vec<(&'static str, Self)> {
        Self::ALL.into_iter().map(|said| (said.keyword(), said)).collect()
    }
}

/// A titration as it is written: a number, or a table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Titrated(pub Titration);

struct TitratedVisitor;

impl<'de> Visitor<'de> for TitratedVisitor {
    type Value = Titrated;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a number or { base, molar, sample }")
    }

    fn visit_i64<E: serde::de::Error>(self, number: i64) -> Result<Titrated, E> {
        self.visit_f64(number as f64)
    }

    fn visit_f64<E: serde::de::Error>(self, base: f64) -> Result<Titrated, E> {
        Ok(Titrated(Titration { base, molar: BASE, sample: SAMPLE_ML }))
    }

    fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<Titrated, A::Error> {
        #[derive(serde::Deserialize)]
        struct Written {
            base: Option<f64>,
            molar: Option<f64>,
            sample: Option<f64>,
        }
        let Written { base, molar, sample } = Written::deserialize(MapAccessDeserializer::new(map))?;
        // A base that is missing has been told of by then: nothing of this is used.
        let (molar, sample) = (molar.unwrap_or(BASE), sample.unwrap_or(SAMPLE_ML));
        Ok(Titrated(Titration { base: base.unwrap_or_default(), molar, sample }))
    }
}

impl<'de> Deserialize<'de> for Titrated {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(TitratedVisitor)
    }
}

impl JsonSchema for Titrated {
    fn schema_name() -> Cow<'static, str> {
        "Titration".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
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
    }
}
