//! What is to be as high as possible: one figure, or how many of some notes are covered.

use std::borrow::Cow;
use std::fmt;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::value::MapAccessDeserializer;
use serde::de::{Deserialize, Deserializer, MapAccess, Visitor};

use super::At;

/// What `highest` names.
#[derive(Debug, Clone, PartialEq)]
pub enum Highest {
    /// A target name, a property or an ingredient.
    Of(String),
    /// Notes, as many of which as possible are to be carried by what is used.
    Notes(Vec<At<String>>),
}

struct HighestVisitor;

impl<'de> Visitor<'de> for HighestVisitor {
    type Value = Highest;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a name or { notes = [ … ] }")
    }

    fn visit_str<E: serde::de::Error>(self, text: &str) -> Result<Highest, E> {
        Ok(Highest::Of(text.to_owned()))
    }

    fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<Highest, A::Error> {
        #[derive(serde::Deserialize)]
        struct Written {
            #[serde(default)]
            notes: Vec<At<String>>,
        }
        Written::deserialize(MapAccessDeserializer::new(map)).map(|written| Highest::Notes(written.notes))
    }
}

impl<'de> Deserialize<'de> for Highest {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(HighestVisitor)
    }
}

impl JsonSchema for Highest {
    fn schema_name() -> Cow<'static, str> {
        "Highest".into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
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
    }
}
