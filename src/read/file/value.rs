//! The kinds of values that a brief writes, each with its place in the text.

use std::borrow::Cow;
use std::fmt;
use std::marker::PhantomData;
use std::ops::{Deref, Range};

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::value::{MapAccessDeserializer, SeqAccessDeserializer};
use serde::de::{Deserialize, Deserializer, Error, IntoDeserializer, MapAccess, SeqAccess, Visitor};
use toml::Spanned;

use super::{Bound, Held, Limits, Quantity, Targets};
use crate::brief::Measure;

/// Gives a type its schema under a name, which stands among the definitions; or `inline`, where it is used.
macro_rules! schema {
    ($of:ty: inline $name:literal, |$generator:ident| $schema:expr) => {
        schema!(@ $of, $name, true, $generator, $schema);
    };
    ($of:ty: $name:literal, |$generator:ident| $schema:expr) => {
        schema!(@ $of, $name, false, $generator, $schema);
    };
    (@ $of:ty, $name:literal, $inline:literal, $generator:ident, $schema:expr) => {
        impl schemars::JsonSchema for $of {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                $name.into()
            }

            fn inline_schema() -> bool {
                $inline
            }

            fn json_schema($generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
                $schema
            }
        }
    };
}
pub(super) use schema;

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

/// Something that is written as a table or a list, or short: as one plain value `P`, from which it follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Short<P, T>(pub T, PhantomData<P>);

impl<P, T> Deref for Short<P, T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.0
    }
}

struct ShortVisitor<P, T>(PhantomData<(P, T)>);

impl<'de, P: Deserialize<'de>, T: Deserialize<'de> + From<P>> Visitor<'de> for ShortVisitor<P, T> {
    type Value = T;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a plain value, a table or a list")
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<T, E> {
        P::deserialize(text.into_deserializer()).map(T::from)
    }

    fn visit_i64<E: Error>(self, number: i64) -> Result<T, E> {
        P::deserialize(number.into_deserializer()).map(T::from)
    }

    fn visit_f64<E: Error>(self, number: f64) -> Result<T, E> {
        P::deserialize(number.into_deserializer()).map(T::from)
    }

    fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<T, A::Error> {
        T::deserialize(MapAccessDeserializer::new(map))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, list: A) -> Result<T, A::Error> {
        T::deserialize(SeqAccessDeserializer::new(list))
    }
}

impl<'de, P: Deserialize<'de>, T: Deserialize<'de> + From<P>> Deserialize<'de> for Short<P, T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(ShortVisitor(PhantomData)).map(|whole| Self(whole, PhantomData))
    }
}

/// What wraps a value has the schema of the value.
macro_rules! schema_of_the_value {
    ($(<$($of:ident),+> $wrapper:ty => $value:ident;)+) => {$(
        impl<$($of),+> JsonSchema for $wrapper where $value: JsonSchema {
            fn schema_name() -> Cow<'static, str> {
                $value::schema_name()
            }

            fn schema_id() -> Cow<'static, str> {
                $value::schema_id()
            }

            fn inline_schema() -> bool {
                $value::inline_schema()
            }

            fn json_schema(generator: &mut SchemaGenerator) -> Schema {
                $value::json_schema(generator)
            }
        }
    )+};
}

schema_of_the_value! {
    <T> At<T> => T;
    <P, T> Short<P, T> => T;
}

/// A table whose keys are names of the user's own, in the order of the text.
#[derive(Debug)]
pub struct Entries<T>(pub Vec<(At<String>, At<T>)>);

impl<T> Default for Entries<T> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

/// The entries of a table that may be absent.
pub fn entries<T>(table: Option<&At<Entries<T>>>) -> &[(At<String>, At<T>)] {
    table.map_or(&[], |table| table.value.0.as_slice())
}

/// The items of a list that may be absent.
pub fn listed<T>(list: Option<&At<Vec<At<T>>>>) -> &[At<T>] {
    list.map_or(&[], |list| list.value.as_slice())
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

schema!(Targets: "Targets", |generator| {
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
});

/// A limit: a number, or text with a unit.
fn limit() -> [Schema; 2] {
    [
        json_schema!({ "type": "number", "minimum": 0, "maximum": 1_000_000_000 }),
        json_schema!({ "type": "string", "pattern": super::figure::WITH_A_NUMBER }),
    ]
}

schema!(Bound: inline "Bound", |_generator| {
    json_schema!({ "anyOf": limit() })
});

schema!(Held: "Held", |generator| {
    let within = generator.subschema_for::<Bound>();
    json_schema!({
        "anyOf": [
            { "type": "object", "additionalProperties": within },
            { "type": "string", "enum": ["close", "loose"] },
        ],
    })
});

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
