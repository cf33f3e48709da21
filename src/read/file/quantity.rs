//! A quantity as it is written.

use std::borrow::Cow;
use std::fmt;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::{Deserialize, Deserializer, Visitor};

/// A quantity as written: a number with a unit, or a bare number.
#[derive(Debug, Clone, PartialEq)]
pub enum Quantity {
    /// Text, such as `2.5 ml`.
    Text(String),
    /// A bare number: ml, or g for powders.
    Number(f64),
}

struct QuantityVisitor;

impl Visitor<'_> for QuantityVisitor {
    type Value = Quantity;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a quantity")
    }

    fn visit_str<E>(self, text: &str) -> Result<Quantity, E> {
        Ok(Quantity::Text(text.to_owned()))
    }

    fn visit_i64<E>(self, number: i64) -> Result<Quantity, E> {
        Ok(Quantity::Number(number as f64))
    }

    fn visit_f64<E>(self, number: f64) -> Result<Quantity, E> {
        Ok(Quantity::Number(number))
    }
}

impl<'de> Deserialize<'de> for Quantity {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(QuantityVisitor)
    }
}

/// What `Amount::parse` accepts, and `free`; which of the two may stand where is checked later.
const QUANTITY_PATTERN: &str = "^\\s*(?:free|\\+?(?:[0-9]+\\.?[0-9]*|\\.[0-9]+)(?:[eE][+-]?[0-9]+)?\\s*(?:\
    [mMcCdD]?[lL]|(?:[iI][mM][pP]\\s+)?[fF][lL]\\s+[oO][zZ]|[oO][zZ]|[tT][sS][pP]|[tT][bB][sS][pP]|\
    [bB][aA][rR][sS][pP][oO][oO][nN][sS]?|[dD][aA][sS][hH](?:[eE][sS])?|[kK]?[gG])?)\\s*$";

impl JsonSchema for Quantity {
    fn schema_name() -> Cow<'static, str> {
        "Quantity".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "description": "A number with a unit, such as \"2.5 ml\"; a bare number is ml, or g for a powder",
            "type": ["string", "number"],
            "pattern": QUANTITY_PATTERN,
            "minimum": 0,
            "maximum": 1e9,
        })
    }
}
