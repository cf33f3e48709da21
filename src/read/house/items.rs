//! The ingredients of a brief and of its house, item by item, and what is said where one is not there.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};

use super::{Item, Shelf, name_of, quoted, word};
use crate::larder;
use crate::read::codes;
use crate::read::findings::Findings;

/// The candidates of a brief; nothing where they are no list, which the shape reports.
pub(super) fn list<'a, 's>(document: &'a mut DeTable<'s>) -> Option<&'a mut DeArray<'s>> {
    match document.get_mut("candidate").map(Spanned::get_mut) {
        Some(DeValue::Array(items)) => Some(items),
        _ => None,
    }
}

/// What a candidate is called.
pub(super) fn name_in<'a>(item: &'a Item<'_>) -> Option<&'a str> {
    name_of(item.get_ref().as_table()?)
}

/// An ingredient of the house as a candidate of its own.
pub fn whole<'s>(shelf: &Shelf<'s>, at: usize) -> Option<Item<'s>> {
    let kept = shelf.items.get(at)?;
    let mut table = kept.get_ref().as_table()?.clone();
    if let (None, Some(name)) = (word(&table, "name"), word(&table, "larder").map(str::to_owned)) {
        let place = place_of_name(&table, &kept.span());
        let value = Spanned::new(place.clone(), DeValue::String(name.into()));
        table.insert(Spanned::new(place, "name".into()), value);
    }
    Some(Spanned::new(kept.span(), DeValue::Table(table)))
}

pub(super) fn place_of_name(kept: &DeTable<'_>, otherwise: &Range<usize>) -> Range<usize> {
    kept.get("name").or_else(|| kept.get("larder")).map_or_else(|| otherwise.clone(), Spanned::span)
}

pub(super) fn no_house(place: Range<usize>, findings: &mut Findings) {
    let help = "name it at the top of the brief: house = \"house.toml\", a path relative to the brief";
    findings.error(codes::NO_HOUSE, place, "the brief names no house", help);
}

pub(super) fn unknown(name: &str, place: Range<usize>, shelf: &Shelf<'_>, findings: &mut Findings) {
    let help = match findings.closest(name, shelf.names()) {
        Some(meant) => format!("did you mean \"{meant}\"?"),
        None if larder::find(name).is_some() => format!("the larder has it: larder = {}", quoted(name)),
        None => "`washline larder --house FILE` lists what is in a house".to_owned(),
    };
    findings.error(codes::UNKNOWN_HOUSE, place, format!("the house has no {}", quoted(name)), help);
}
