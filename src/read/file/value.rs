//! The kinds of values that a brief writes, each with its place in the text.

use std::borrow::Cow;
use std::fmt;
use std::marker::PhantomData;
use std::ops::{Deref, Range};

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::{Deserialize, Deserializer, MapAccess, Visitor};
use toml::Spanned;

use super::{Bound, Held, Limits, Quantity, Targets};
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
        let [number, text] = limit();
        let target =
            |description: &str| json_schema!({ "description": description, "anyOf": [limits, number, text] });
        let mut keys = serde_json::Map::new();
        for measure in Measure::BUILT_IN {
            let target = target(target_description(measure));
            keys.insert(measure.keyword().to_owned(), target.to_value());
        }
        let rest = target("A property of the brief: limits, or one figure");
        json_schema!({ "type": "object", "properties": keys, "additionalProperties": rest })
    }
}

/// A limit: a number, or text with a unit.
fn limit() -> [Schema; 2] {
    [
        json_schema!({ "type": "number", "minimum": 0, "maximum": 1_000_000_000 }),
        json_schema!({ "type": "string", "pattern": super::figure::WITH_A_NUMBER }),
    ]
}

impl JsonSchema for Bound {
    fn schema_name() -> Cow<'static, str> {
        "Bound".into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "anyOf": limit() })
    }
}

impl JsonSchema for Held {
    fn schema_name() -> Cow<'static, str> {
        "Held".into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let within = generator.subschema_for::<Bound>();
        json_schema!({
            "anyOf": [
                { "type": "object", "additionalProperties": within },
                { "type": "string", "enum": ["close", "loose"] },
            ],
        })
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
        Measure::Level => "How high it stands in the glass in ml",
        Measure::Property(_) => "A property",
    }
}
