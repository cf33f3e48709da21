//! From the text of a brief to a [`Brief`], or to everything that is wrong with it.
//!
//! Bytes become text (`text`), text becomes tables, swaps and settings change them (`changes`), the walk
//! along the schema cuts out what has no place in a brief (`shape`), the rest is taken as written
//! (`file`), turned into the question (`lower`) and judged as a whole (`rules`).

mod along;
mod axis;
mod calibrated;
mod changes;
pub mod codes;
mod dates;
mod edited;
pub mod edits;
mod figures;
mod file;
mod findings;
mod house;
mod kept;
mod learned;
mod lower;
mod measured;
mod names;
mod rules;
mod sales;
mod settings;
mod shape;
pub mod spec_line;
mod swaps;
mod tables;
mod text;
mod trials;
mod whole_house;

use std::ops::Range;
use std::sync::OnceLock;

use schemars::generate::SchemaSettings;
use schemars::transform::RecursiveTransform;
use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde::Deserialize;
use serde_json::Value;
use toml::Spanned;
use toml::de::DeTable;

use crate::brief::Brief;
use crate::finding::Finding;
pub use along::{figure_of, measure_named};
pub use axis::{Axis, Over, Place};
pub use calibrated::{NewFigure, Place as WrittenTo, Written, figures_in};
pub use changes::{Changes, Setting, Swap};
pub use file::Keyword;
pub use findings::{closest, guess, one_line};
pub use house::{House, Named, is_house, named as house_named, offers as house_offers};
pub use kept::{Keep, KeptSpec, kept_in};
pub use learned::{NewLimits, NewSide, limits_in};
pub use lower::CUSTOMARY;
pub use sales::sales;
pub use shape::shown;
pub use text::{MOST_BYTES, quoted};
pub use trials::{Shelf, Trial, Trials, trials};
pub use whole_house::{shelf_of, weighed_of};

use changes::Places;
use file::File;
use findings::Findings;
use lower::Lowered;
use text::Kind;

/// A brief that has been read, and what is worth a second look in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// The validated question.
    pub brief: Brief,
    /// Findings that do not stop it.
    pub warnings: Vec<Finding>,
    /// What swaps made of it, where there are any.
    pub swapped: Option<Swapped>,
    /// The specs that it keeps.
    pub kept: Vec<KeptSpec>,
}

/// What swaps made of a brief.
#[derive(Debug, Clone, PartialEq)]
pub struct Swapped {
    /// What goes out and what comes in, by their places among the candidates.
    pub pairs: Vec<(usize, usize)>,
    /// Who says what is held at the reference's own values.
    pub held: HeldBy,
    /// The brief's own aim, in words, where the nearest to the reference took its place.
    pub aside: Option<String>,
    /// Proportions that went with what goes out, in words.
    pub dropped: Vec<String>,
}

/// What stands for NEW where every ingredient of OLD's role is to be tried.
pub const ANY: &str = "?";

/// Who says what is held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HeldBy {
    /// The brief's `[hold]`.
    Brief,
    /// Nobody: the measures and margins of a swap without a `[hold]`.
    Custom,
}

/// Reads a brief from the bytes of a file.
///
/// # Errors
/// All findings, in the order of the text, when at least one of them is an error.
pub fn read(bytes: &[u8], settings: &[Setting]) -> Result<Reading, Vec<Finding>> {
    read_changed(bytes, &Changes { settings: settings.to_vec(), ..Changes::default() })
}

/// Reads a brief from the bytes of a file, with swaps and settings.
///
/// # Errors
/// All findings, in the order of the text, when at least one of them is an error.
pub fn read_changed(bytes: &[u8], changes: &Changes) -> Result<Reading, Vec<Finding>> {
    read_with(bytes, changes, Weighings::Briefs)
}

/// Whose `[[weighed]]` are read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Weighings {
    /// The brief's own.
    Briefs,
    /// The house's.
    Houses,
}

fn read_with(bytes: &[u8], changes: &Changes, whose: Weighings) -> Result<Reading, Vec<Finding>> {
    let text = text::decode(bytes, Kind::Brief).map_err(|finding| vec![finding])?;
    let mut document = text::parse(text)?;
    dates::as_text(&mut document);
    let mut findings = Findings::default();
    let places = Places::after(text.len(), changes);
    let (mut made, brought) = prepared(&mut document, changes, (&places, whose), &mut findings)?;
    swaps::aim_near(&mut document, changes, &places.swaps, &mut made, &mut findings);
    let (rewritten, said) = figures::find(&document, &mut findings);
    figures::put(&mut document, &rewritten);
    let document = shape::keep(document, schema_once(), Kind::Brief, &mut findings);
    let held = if changes.swaps.is_empty() { HeldBy::Brief } else { HeldBy::Custom };
    let asked = lower::Asked { held, brought: &brought, said: &said };
    let lowered = written(document, &mut findings).and_then(|file| lower::lower(&file, asked, &mut findings));
    let stopped = findings.stops();
    let mut list = findings.into_list(text);
    places.told(&mut list, changes);
    match lowered {
        Some(Lowered { brief, held, kept }) if !stopped => {
            let swapped = (!changes.swaps.is_empty()).then(|| made.of(&brief, held));
            Ok(Reading { brief, warnings: list, swapped, kept })
        }
        _ => Err(list),
    }
}

/// The document with what it takes from its house, then swaps, then settings. Gives what the swaps made
/// of it, and what `[[bring]]` brought.
///
/// # Errors
/// What is wrong with the house: without it, nothing else can be judged.
fn prepared<'s>(
    document: &mut DeTable<'s>,
    changes: &'s Changes,
    (places, whose): (&Places, Weighings),
    findings: &mut Findings,
) -> Result<(swaps::Made, Vec<house::Brought>), Vec<Finding>> {
    let early = |setting: &Setting| setting.is_under("house") || setting.is_under("bring");
    settings::apply(document, &changes.settings, &places.settings, early, findings);
    let shelf = changes.house.as_deref().map(|house| house::open(house, places.house.start)).transpose()?;
    let brought = house::take_in(document, shelf.as_ref(), findings);
    let made = swaps::apply(document, &changes.swaps, shelf.as_ref(), &places.swaps, findings);
    settings::apply(document, &changes.settings, &places.settings, |s| !early(s), findings);
    if let Some(shelf) = &shelf {
        house::bar(document, shelf);
        if whose == Weighings::Houses {
            house::weighed(document, shelf);
        }
    }
    Ok((made, brought))
}

/// The text of a brief that is still being written: it may be empty.
///
/// # Errors
/// When it is too large or no UTF-8.
pub fn text_of(bytes: &[u8]) -> Result<&str, Finding> {
    let empty = |finding: Finding| if finding.code == codes::EMPTY { Ok("") } else { Err(finding) };
    text::decode(bytes, Kind::Brief).or_else(empty)
}

/// The text that stands at a key at the top of a brief, with its place; `None` where there is none.
pub fn word_at(bytes: &[u8], key: &str) -> Option<(String, Range<usize>)> {
    let document = text::parse(text::decode(bytes, Kind::Brief).ok()?).ok()?;
    let value = document.get(key)?;
    Some((value.get_ref().as_str()?.to_owned(), value.span()))
}

/// The JSON Schema of a house, for editors.
pub fn house_schema() -> Value {
    house::schema().clone()
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
    SCHEMA.get_or_init(schema_of::<File>)
}

fn schema_of<T: JsonSchema>() -> Value {
    let settings = SchemaSettings::draft2020_12().with_transform(RecursiveTransform(without_null));
    SchemaGenerator::new(settings).into_root_schema_for::<T>().to_value()
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
