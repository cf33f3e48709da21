//! A quantity as it is written.

use std::borrow::Cow;
use std::fmt;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::{Deserialize, Deserializer, SeqAccess, Visitor};

use super::At;

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
const QUANTITY_PATTERN: &str = "^\\s*(?:free|(?:\\+?(?:[0-9]+\\.?[0-9]*|\\.[0-9]+)(?:[eE][+-]?[0-9]+)?|\
    (?:[0-9]{1,6}[ \\t]*)?[¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]|\
    (?:[0-9]{1,6}[ \\t]+)?[0-9]{1,6}[/\u{2044}](?!0+(?![0-9]))[0-9]{1,6})\\s*(?:\
    [mMcCdD]?[lL]|(?:[iI][mM][pP]\\s+)?[fF][lL]\\s+[oO][zZ]|[oO][zZ]|[tT][sS][pP]|[tT][bB][sS][pP]|\
    [bB][aA][rR][sS][pP][oO][oO][nN][sS]?|[dD][aA][sS][hH](?:[eE][sS])?|[kK]?[gG])?)\\s*$";

/// In which amounts is poured, as written: a step, `free`, or what jiggers measure.
#[derive(Debug, Clone, PartialEq)]
pub enum Pour {
    /// A step, `free`, or `jigger 15/25/40`.
    Step(Quantity),
    /// The amounts themselves.
    List(Vec<At<Quantity>>),
}

struct PourVisitor;

impl<'de> Visitor<'de> for PourVisitor {
    type Value = Pour;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a quantity or a list of them")
    }

    fn visit_str<E>(self, text: &str) -> Result<Pour, E> {
        Ok(Pour::Step(Quantity::Text(text.to_owned())))
    }

    fn visit_i64<E>(self, number: i64) -> Result<Pour, E> {
        Ok(Pour::Step(Quantity::Number(number as f64)))
    }

    fn visit_f64<E>(self, number: f64) -> Result<Pour, E> {
        Ok(Pour::Step(Quantity::Number(number)))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Pour, A::Error> {
        let mut all = Vec::new();
        while let Some(item) = items.next_element()? {
            all.push(item);
        }
        Ok(Pour::List(all))
    }
}

impl<'de> Deserialize<'de> for Pour {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(PourVisitor)
    }
}

impl JsonSchema for Pour {
    fn schema_name() -> Cow<'static, str> {
        "Pour".into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let quantity = generator.subschema_for::<Quantity>();
        json_schema!({
            "description": "A step such as \"2.5 ml\", \"free\", what jiggers measure, halves included: \"jigger 25/50\", \
                or a list of amounts: these and their sums",
            "anyOf": [
                quantity,
                { "type": "string", "pattern": "^\\s*[jJ][iI][gG][gG][eE][rR][sS]?\\s+\\S" },
                { "type": "array", "items": quantity, "minItems": 1 },
            ],
        })
    }
}

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
