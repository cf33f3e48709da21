//! The melt as it is written: a figure, or a figure with its spread.

use std::borrow::Cow;
use std::fmt;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::value::MapAccessDeserializer;
use serde::de::{Deserialize, Deserializer, MapAccess, Visitor};

/// A given melt, in % of what is poured on the ice.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Melt {
    /// What was weighed, or is wanted.
    pub typical: f64,
    /// How far it may be off either way; the rule's own where none is given.
    pub spread: Option<f64>,
    /// The strength before the ice, % vol, of the drink that it was weighed with.
    pub at: Option<f64>,
    /// Whether it stands for every strength, and does not vary unless a spread is given.
    pub exact: bool,
}

struct MeltVisitor;

impl<'de> Visitor<'de> for MeltVisitor {
    type Value = Melt;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a number or { typical, spread, at, exact }")
    }

    fn visit_i64<E: serde::de::Error>(self, number: i64) -> Result<Melt, E> {
        self.visit_f64(number as f64)
    }

    fn visit_f64<E: serde::de::Error>(self, number: f64) -> Result<Melt, E> {
        Ok(Melt { typical: number, ..Melt::default() })
    }

    fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<Melt, A::Error> {
        #[derive(serde::Deserialize)]
        struct Written {
            typical: f64,
            spread: Option<f64>,
            at: Option<f64>,
            exact: Option<bool>,
        }
        let Written { typical, spread, at, exact } = Written::deserialize(MapAccessDeserializer::new(map))?;
        Ok(Melt { typical, spread, at, exact: exact.unwrap_or(false) })
    }
}

impl<'de> Deserialize<'de> for Melt {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(MeltVisitor)
    }
}

impl JsonSchema for Melt {
    fn schema_name() -> Cow<'static, str> {
        "Melt".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
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
    }
}
