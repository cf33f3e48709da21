//! How far off a pour is, as it is written.

use std::borrow::Cow;
use std::fmt;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::{Deserialize, Deserializer, Visitor};

/// Text, such as `1 ml + 2 %` or `jigger`, or a bare number.
#[derive(Debug, Clone, PartialEq)]
pub enum PourError {
    /// As written.
    Text(String),
    /// A bare number: ml, or g for powders.
    Number(f64),
}

struct PourErrorVisitor;

impl Visitor<'_> for PourErrorVisitor {
    type Value = PourError;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a pour error")
    }

    fn visit_str<E>(self, text: &str) -> Result<PourError, E> {
        Ok(PourError::Text(text.to_owned()))
    }

    fn visit_i64<E>(self, number: i64) -> Result<PourError, E> {
        Ok(PourError::Number(number as f64))
    }

    fn visit_f64<E>(self, number: f64) -> Result<PourError, E> {
        Ok(PourError::Number(number))
    }
}

impl<'de> Deserialize<'de> for PourError {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(PourErrorVisitor)
    }
}

/// A word, an amount, a share, or an amount and a share.
const PATTERN: &str = "^\\s*(?:jigger|free hand|dash|scale|\
    \\+?(?:[0-9]+\\.?[0-9]*|\\.[0-9]+)(?:[eE][+-]?[0-9]+)?\\s*(?:%|(?:\
    [mMcCdD]?[lL]|(?:[iI][mM][pP]\\s+)?[fF][lL]\\s+[oO][zZ]|[oO][zZ]|[tT][sS][pP]|[tT][bB][sS][pP]|\
    [bB][aA][rR][sS][pP][oO][oO][nN][sS]?|[dD][aA][sS][hH](?:[eE][sS])?|[kK]?[gG])?\
    (?:\\s*\\+\\s*(?:[0-9]+\\.?[0-9]*|\\.[0-9]+)\\s*%)?))\\s*$";

impl JsonSchema for PourError {
    fn schema_name() -> Cow<'static, str> {
        "PourError".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "description": "Standard deviation of one pour: \"1 ml\", \"3 %\" of what is poured, \"1 ml + 3 %\"; or how it is \
                            poured: \"jigger\", \"free hand\", \"dash\", \"scale\"",
            "type": ["string", "number"],
            "pattern": PATTERN,
            "minimum": 0,
            "maximum": 1e9,
        })
    }
}
