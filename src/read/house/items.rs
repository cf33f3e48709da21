//! An ingredient of the house as one of a brief, and what is said where it is not there.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::{Shelf, quoted};
use crate::larder;
use crate::read::codes;
use crate::read::findings::{Findings, guess};
use crate::read::tables::{Item, put_at, text, word};

/// An ingredient of the house as a candidate of its own.
pub fn whole<'s>(shelf: &Shelf<'s>, at: usize) -> Option<Item<'s>> {
    let kept = shelf.items.get(at)?;
    let mut table = kept.get_ref().as_table()?.clone();
    if let (None, Some(name)) = (word(&table, "name"), word(&table, "larder").map(str::to_owned)) {
        let place = place_of_name(&table, &kept.span());
        put_at(&mut table, "name", text(name), &place);
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
    let help = guess(findings.closest(name, shelf.names()), || match larder::find(name) {
        Some(_) => format!("the larder has it: larder = {}", quoted(name)),
        None => "`washline larder --house FILE` lists what is in a house".to_owned(),
    });
    findings.error(codes::UNKNOWN_HOUSE, place, format!("the house has no {}", quoted(name)), help);
}

pub(super) fn unknown_entry(name: &str, place: Range<usize>, otherwise: &str, findings: &mut Findings) {
    let help = match larder::closest(name) {
        Some(meant) => format!("did you mean \"{}\"? `washline larder` lists them all", meant.name),
        None => format!("`washline larder` lists them all{otherwise}"),
    };
    findings.error(codes::UNKNOWN_LARDER, place, format!("the larder has no {}", quoted(name)), help);
}
