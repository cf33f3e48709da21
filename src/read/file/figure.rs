//! Values that are either plain or a small table: figures with their range, and what is held.

use std::borrow::Cow;
use std::fmt;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::value::MapAccessDeserializer;
use serde::de::{Deserialize, Deserializer, MapAccess, Visitor};

/// A figure of a composition: one number, or a typical value with its natural range. `MOST` is the
/// largest value that may stand there.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure<const MOST: u32> {
    /// The typical value.
    pub typical: f64,
    /// Lower end of the natural range.
    pub min: Option<f64>,
    /// Upper end of the natural range.
    pub max: Option<f64>,
}

/// A number with its unit, in whatever way it is written; what it means is read later.
pub(super) const WITH_A_NUMBER: &str = "^[^A-Za-z]*[0-9¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]|^\\s*[A-Z]{1,3}\\$?\\s*[0-9]";

struct FigureVisitor<const MOST: u32>;

impl<'de, const MOST: u32> Visitor<'de> for FigureVisitor<MOST> {
    type Value = Figure<MOST>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a number or { typical, min, max }")
    }

    fn visit_i64<E: serde::de::Error>(self, number: i64) -> Result<Self::Value, E> {
        self.visit_f64(number as f64)
    }

    fn visit_f64<E: serde::de::Error>(self, number: f64) -> Result<Self::Value, E> {
        Ok(Figure { typical: number, min: None, max: None })
    }

    fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<Self::Value, A::Error> {
        #[derive(serde::Deserialize)]
        struct Written {
            typical: f64,
            min: Option<f64>,
            max: Option<f64>,
        }
        let Written { typical, min, max } = Written::deserialize(MapAccessDeserializer::new(map))?;
        Ok(Figure { typical, min, max })
    }
}

impl<'de, const MOST: u32> Deserialize<'de> for Figure<MOST> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(FigureVisitor)
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

/// For which compositions the targets have to hold, as written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HoldWish {
    /// The typical one.
    Typical,
    /// Every one in the natural ranges.
    Worst,
    /// In at least this many % of simulated serves.
    Share(f64),
}

struct HoldVisitor;

impl<'de> Visitor<'de> for HoldVisitor {
    type Value = HoldWish;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("`typical`, `worst` or { share = 95 }")
    }

    fn visit_str<E: serde::de::Error>(self, text: &str) -> Result<HoldWish, E> {
        match text {
            "typical" => Ok(HoldWish::Typical),
            "worst" => Ok(HoldWish::Worst),
            _ => Err(E::custom("unknown word")),
        }
    }

    fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<HoldWish, A::Error> {
        #[derive(serde::Deserialize)]
        struct Written {
            share: f64,
        }
        Written::deserialize(MapAccessDeserializer::new(map)).map(|w| HoldWish::Share(w.share))
    }
}

impl<'de> Deserialize<'de> for HoldWish {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(HoldVisitor)
    }
}

impl JsonSchema for HoldWish {
    fn schema_name() -> Cow<'static, str> {
        "HoldFor".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
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
    }
}
