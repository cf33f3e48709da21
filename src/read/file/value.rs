//! The kinds of values that a brief writes, each with its place in the text.

use std::borrow::Cow;
use std::fmt;
use std::marker::PhantomData;
use std::ops::{Deref, Range};

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::value::MapAccessDeserializer;
use serde::de::{Deserialize, Deserializer, MapAccess, Visitor};
use toml::Spanned;

use super::{Limits, Targets};
use crate::brief::Measure;

/// A value and the bytes of the text where it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct At<T> {
    /// What stands there.
    pub value: T,
    /// Where.
    pub place: Range<usize>,
}

impl<T> At<T> {
    /// Where it stands.
    pub fn place(&self) -> Range<usize> {
        self.place.clone()
    }
}

impl<T> Deref for At<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.value
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for At<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let spanned = Spanned::<T>::deserialize(deserializer)?;
        Ok(Self { place: spanned.span(), value: spanned.into_inner() })
    }
}

impl<T: JsonSchema> JsonSchema for At<T> {
    fn schema_name() -> Cow<'static, str> {
        T::schema_name()
    }

    fn schema_id() -> Cow<'static, str> {
        T::schema_id()
    }

    fn inline_schema() -> bool {
        T::inline_schema()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        T::json_schema(generator)
    }
}

/// A table whose keys are names of the user's own, in the order of the text.
#[derive(Debug)]
pub struct Entries<T>(pub Vec<(At<String>, At<T>)>);

impl<T> Default for Entries<T> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

struct EntriesVisitor<T>(PhantomData<T>);

impl<'de, T: Deserialize<'de>> Visitor<'de> for EntriesVisitor<T> {
    type Value = Entries<T>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a table")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Entries<T>, A::Error> {
        let mut entries = Vec::new();
        while let Some(entry) = map.next_entry::<At<String>, At<T>>()? {
            entries.push(entry);
        }
        entries.sort_by_key(|(key, _)| key.place.start);
        Ok(Entries(entries))
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Entries<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_map(EntriesVisitor(PhantomData))
    }
}

impl<T: Entry> JsonSchema for Entries<T> {
    fn schema_name() -> Cow<'static, str> {
        format!("Entries of {}", T::schema_name()).into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let value = T::entry(generator);
        json_schema!({ "type": "object", "additionalProperties": value })
    }
}

/// What may stand behind a name of the user's own.
pub trait Entry: JsonSchema {
    /// The schema of one value.
    fn entry(generator: &mut SchemaGenerator) -> Schema {
        generator.subschema_for::<Self>()
    }
}

impl Entry for Quantity {}
impl Entry for super::Property {}
impl Entry for f64 {
    fn entry(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "number", "minimum": 0, "maximum": 1e9 })
    }
}

impl JsonSchema for Targets {
    fn schema_name() -> Cow<'static, str> {
        "Targets".into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let limits = generator.subschema_for::<Limits>();
        let mut keys = serde_json::Map::new();
        for measure in Measure::BUILT_IN {
            let mut limits = limits.clone();
            limits.insert("description".to_owned(), target_description(measure).into());
            keys.insert(measure.keyword().to_owned(), limits.to_value());
        }
        json_schema!({ "type": "object", "properties": keys, "additionalProperties": limits })
    }
}

fn target_description(measure: Measure) -> &'static str {
    match measure {
        Measure::Volume => "Served volume in ml",
        Measure::Strength => "Strength in % vol",
        Measure::Sugar => "Sugars in g/L",
        Measure::Sweetness => "Sweetness in g/L as sucrose",
        Measure::Acid => "Titratable acid in g/L as citric",
        Measure::SugarAcid => "Grams of sugar per gram of acid",
        Measure::Cost => "Money per serve",
        Measure::PourCost => "Cost in % of the net menu price; needs [menu]",
        Measure::Energy => "Energy in kcal per serve",
        Measure::Ethanol => "Ethanol in g per serve",
        Measure::Melt => "Water from the ice in ml",
        Measure::Property(_) => "A property",
    }
}

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
        json_schema!({
            "description": "A number, or a typical value with its natural range",
            "anyOf": [number, {
                "type": "object",
                "properties": { "typical": number, "min": number, "max": number },
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
