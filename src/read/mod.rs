//! From the text of a brief to a [`Brief`], or to everything that is wrong with it.
//!
//! Bytes become text ([`text`]), text becomes tables, settings change them ([`settings`]), the walk
//! along the schema cuts out what has no place in a brief ([`shape`]), the rest is taken as written
//! ([`file`]), turned into the question ([`lower`]) and judged as a whole ([`rules`]).

pub mod codes;
mod file;
mod findings;
mod lower;
mod names;
mod rules;
mod settings;
mod shape;
pub mod spec_line;
mod text;

use std::sync::OnceLock;

use schemars::generate::SchemaSettings;
use schemars::transform::RecursiveTransform;
use schemars::{Schema, SchemaGenerator};
use serde::Deserialize;
use serde_json::Value;
use toml::Spanned;
use toml::de::DeTable;

pub use text::MOST_BYTES;

use crate::brief::Brief;
use crate::finding::Finding;
use file::File;
use findings::Findings;

/// One `--set KEY=VALUE`: a change to the brief before it is read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Setting {
    /// Dotted key, such as `targets.strength.max`.
    pub key: String,
    /// The value as TOML, or a bare string.
    pub value: String,
}

/// A brief that has been read, and what is worth a second look in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// The validated question.
    pub brief: Brief,
    /// Findings that do not stop it.
    pub warnings: Vec<Finding>,
}

/// Reads a brief from the bytes of a file.
///
/// # Errors
/// All findings, in the order of the text, when at least one of them is an error.
pub fn read(bytes: &[u8], settings: &[Setting]) -> Result<Reading, Vec<Finding>> {
    let text = text::decode(bytes).map_err(|finding| vec![finding])?;
    let mut document = text::parse(text)?;
    let mut findings = Findings::default();
    settings::apply(&mut document, settings, text.len(), &mut findings);
    let document = shape::keep(document, schema_once(), &mut findings);
    let brief = written(document, &mut findings).and_then(|file| lower::lower(&file, &mut findings));
    let stopped = findings.stops();
    let mut list = findings.into_list(text);
    settings::told(&mut list, settings, text.len());
    match brief {
        Some(brief) if !stopped => Ok(Reading { brief, warnings: list }),
        _ => Err(list),
    }
}

/// The JSON Schema of a brief, for editors.
pub fn schema() -> Value {
    schema_once().clone()
}

/// A commented brief to start from.
pub fn starter() -> &'static str {
    include_str!("starter.toml")
}

/// The tables as the structs have them. The walk along the schema has cut out whatever serde could
/// refuse; should it refuse something nevertheless, that is told, too.
fn written(document: DeTable<'_>, findings: &mut Findings) -> Option<File> {
    let deserializer = toml::Deserializer::from(Spanned::new(0..0, document));
    match File::deserialize(deserializer) {
        Ok(file) => Some(file),
        Err(error) => {
            let help = "compare it with the schema: `washline schema`";
            match error.span() {
                Some(place) => findings.error(codes::WRONG_TYPE, place, error.message(), help),
                None => findings.placeless(codes::WRONG_TYPE, error.message(), help),
            }
            None
        }
    }
}

fn schema_once() -> &'static Value {
    static SCHEMA: OnceLock<Value> = OnceLock::new();
    SCHEMA.get_or_init(|| {
        let settings = SchemaSettings::draft2020_12().with_transform(RecursiveTransform(without_null));
        SchemaGenerator::new(settings).into_root_schema_for::<File>().to_value()
    })
}

/// TOML has no null: an optional key is left out.
fn without_null(schema: &mut Schema) {
    if let Some(Value::Array(kinds)) = schema.get_mut("type") {
        kinds.retain(|kind| kind != "null");
        if let [only] = kinds.as_slice() {
            let only = only.clone();
            schema.insert("type".to_owned(), only);
        }
    }
    if let Some(Value::Array(words)) = schema.get_mut("enum") {
        words.retain(|word| !word.is_null());
    }
    let Some(Value::Array(branches)) = schema.get_mut("anyOf") else { return };
    branches.retain(|branch| branch.get("type").is_none_or(|kind| kind != "null"));
    if let [Value::Object(only)] = branches.as_slice() {
        let only = only.clone();
        schema.remove("anyOf");
        for (key, value) in only {
            schema.insert(key, value);
        }
    }
}
