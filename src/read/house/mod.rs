//! The house: bottles, prices, preparations, measured figures and notes, written down once for all
//! briefs that name it.
//!
//! A house is taken into a brief before anything else is done with it: each `[[candidate]]` with a
//! `house = …` gets the keys that it does not state itself, each `[[bring]]` becomes candidates. From then on
//! nothing knows where a candidate stood. What comes from the house keeps its place in the house's text, so
//! that a finding points there.

mod bring;
mod items;
mod shelf;
mod take_in;

use std::ops::Range;

pub use bring::Brought;
pub use items::whole;
pub use shelf::{Shelf, open, schema};
pub use take_in::{bar, take_in, weighed};

use super::shape::shown;
use super::tables::name_of;
use super::text::Kind;
use super::{Changes, text, word_at};
use crate::brief::Role;
use crate::finding::{Finding, Text};

/// The text of a house, and what its file is called.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct House {
    /// The name of the file, as it is shown.
    pub name: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// The file that a brief names as its house.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Named {
    /// Its path, relative to the brief.
    pub path: String,
    /// Where the brief names it; `None` where the command line does.
    pub place: Option<Range<usize>>,
}

/// The house that a brief, or a setting, names. `None` where there is none, or where the brief cannot be
/// read: reading it will say so.
pub fn named(bytes: &[u8], changes: &Changes) -> Option<Named> {
    let set = changes.settings.iter().rev().find(|setting| setting.is_under("house"));
    if let Some(setting) = set {
        let path = setting.value.trim().trim_matches('"').to_owned();
        return (!path.is_empty()).then_some(Named { path, place: None });
    }
    let (path, place) = word_at(bytes, "house")?;
    (!path.trim().is_empty()).then_some(Named { path, place: Some(place) })
}

/// Whether a text is that of a house, and of no brief: it lists ingredients, and says of no drink how it is made.
pub fn is_house(bytes: &[u8]) -> bool {
    let document = text::decode(bytes, Kind::Brief).ok().and_then(|text| text::parse(text).ok());
    let of_brief = ["serve", "targets", "aim", "reference", "house"];
    document.is_some_and(|document| of_brief.iter().all(|key| !document.contains_key(*key)))
}

/// Findings about the house's own text.
fn of_house(mut findings: Vec<Finding>) -> Vec<Finding> {
    findings.iter_mut().for_each(|finding| finding.text = Text::House);
    findings
}

/// What a house offers, with its roles, in the order of the file; nothing where it cannot be read.
pub fn offers(house: Option<&House>) -> Vec<(String, Role)> {
    let shelf = house.and_then(|house| open(house, 0).ok());
    let Some(shelf) = shelf else { return Vec::new() };
    let tables = (0..shelf.items.len()).filter_map(|at| shelf.table(at));
    let one = |table| Some((name_of(table)?.to_owned(), Role::from_keyword(&bring::role_of(table))?));
    tables.filter_map(one).collect()
}

/// A name quoted for a sentence.
fn quoted(name: &str) -> String {
    format!("\"{}\"", shown(name))
}
