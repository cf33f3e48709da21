//! What a brief takes from its house.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::bring::{Brought, bring};
use super::items::{no_house, place_of_name, unknown, whole};
use super::{Shelf, quoted};
use crate::read::codes;
use crate::read::file::FIGURES;
use crate::read::findings::Findings;
use crate::read::tables::{Item, is_true, list_mut, name_in, name_of, put, put_at, table_mut, text, word};

/// Keys that a brief states beside the house's figures without changing them.
const BESIDE: [&str; 9] = ["house", "must", "out", "min", "max", "pour", "price", "yield", "notes"];
/// Takes into a brief what it names of the house: candidates, what `[[bring]]` asks for, the parts of
/// preparations, the currency. Gives the names that `[[bring]]` brought.
pub fn take_in<'s>(
    document: &mut DeTable<'s>,
    shelf: Option<&Shelf<'s>>,
    findings: &mut Findings,
) -> Vec<Brought> {
    candidates(document, shelf, findings);
    let brought = bring(document, shelf, findings);
    if let Some(shelf) = shelf {
        parts(document, shelf);
        declared(document, shelf, findings);
        currency(document, shelf, findings);
    }
    brought
}

/// Every candidate that says `house = …` gets what it does not state itself.
fn candidates<'s>(document: &mut DeTable<'s>, shelf: Option<&Shelf<'s>>, findings: &mut Findings) {
    let Some(items) = list_mut(document, "candidate") else { return };
    for item in items.iter_mut() {
        let Some(table) = table_mut(item) else { continue };
        let Some(wanted) = table.get("house") else {
            warn_of_namesake(table, shelf, findings);
            continue;
        };
        let place = wanted.span();
        let Some(name) = wanted.get_ref().as_str().map(str::to_owned) else { continue };
        let Some(shelf) = shelf else {
            no_house(place, findings);
            continue;
        };
        match shelf.find(&name).and_then(|at| shelf.table(at)) {
            Some(kept) => {
                table.remove("house");
                fill(table, kept, &place);
            }
            None => unknown(&name, place, shelf, findings),
        }
    }
}

/// Warns of an ingredient that states nothing of what is in it and is called as something of the house, of which more is
/// known there: it was probably meant.
fn warn_of_namesake(table: &DeTable, shelf: Option<&Shelf>, findings: &mut Findings) {
    let states = |table: &DeTable| FIGURES.iter().chain(&["made"]).any(|key| table.contains_key(*key));
    let Some(name) = table.get("name").filter(|_| !states(table)) else { return };
    let (Some(called), Some(shelf)) = (name.get_ref().as_str(), shelf) else { return };
    let kept = shelf.find(called).and_then(|at| shelf.table(at)).filter(|kept| states(kept));
    if let Some(own) = kept.and_then(name_of) {
        let what = format!("{} states nothing of what is in it, so it counts as water", quoted(called));
        let help = format!("the house has it: write house = {} in the place of name", quoted(own));
        findings.warning(codes::NO_FIGURES, name.span(), what, help);
    }
}

/// Puts the keys of the house under those of the brief.
fn fill<'s>(table: &mut DeTable<'s>, kept: &DeTable<'s>, asked: &Range<usize>) {
    let own = |key: &str| table.contains_key(key);
    let made = own("made");
    let changed = table.keys().any(|key| !BESIDE.contains(&key.get_ref().as_ref()));
    let must = is_true(table, "must");
    let yields = |key: &str| match key {
        "sugar" => own("brix"),
        "brix" => own("sugar"),
        // What has to be used is not out.
        "out" => must,
        _ => made && FIGURES.contains(&key),
    };
    let mut taken: Vec<_> =
        kept.iter().filter(|(key, _)| !own(key.get_ref()) && !yields(key.get_ref())).collect();
    taken.sort_by_key(|(key, _)| key.span().start);
    let taken: Vec<_> = taken.into_iter().map(|(key, value)| (key.clone(), value.clone())).collect();
    for (key, value) in taken {
        table.insert(key, value);
    }
    // Its name is that of the house, wherever its figures come from.
    let name = name_of(kept).unwrap_or_default().to_owned();
    let place = if changed { asked.clone() } else { place_of_name(kept, asked) };
    if !table.contains_key("name") || changed && word(table, "name") == Some(name.as_str()) {
        put_at(table, "name", text(name), &place);
    }
}

/// What a preparation is made of, where the brief does not list it: it comes in, but is not used.
fn parts<'s>(document: &mut DeTable<'s>, shelf: &Shelf<'s>) {
    let Some(items) = list_mut(document, "candidate") else { return };
    let mut known: Vec<String> = items.iter().filter_map(name_in).map(str::to_owned).collect();
    let mut at = 0;
    while let Some(item) = items.get(at) {
        let lacking: Vec<usize> = part_names(item)
            .into_iter()
            .filter(|name| !known.contains(name))
            .filter_map(|name| shelf.find(&name))
            .collect();
        for of_house in lacking {
            let Some(mut part) = whole(shelf, of_house) else { continue };
            let name = name_in(&part).unwrap_or_default().to_owned();
            if known.contains(&name) {
                continue;
            }
            let place = part.span();
            if let Some(table) = table_mut(&mut part) {
                put_at(table, "out", DeValue::Boolean(true), &place);
            }
            known.push(name);
            items.push(part);
        }
        at += 1;
    }
}

fn part_names(item: &Item<'_>) -> Vec<String> {
    let parts =
        || item.get_ref().as_table()?.get("made")?.get_ref().as_table()?.get("parts")?.get_ref().as_table();
    parts().into_iter().flat_map(|parts| parts.keys()).map(|key| key.get_ref().to_string()).collect()
}

/// What ingredients of the house carry counts where the brief declares it, in the same unit.
fn declared<'s>(document: &mut DeTable<'s>, shelf: &Shelf<'s>, findings: &mut Findings) {
    let declared: Vec<(String, Option<String>, Range<usize>)> = document
        .get("properties")
        .and_then(|value| value.get_ref().as_table())
        .into_iter()
        .flatten()
        .map(|(name, value)| {
            let unit = value.get_ref().as_table().and_then(|table| word(table, "unit"));
            (name.get_ref().to_string(), unit.map(str::to_owned), name.span())
        })
        .collect();
    for (name, unit, place) in &declared {
        let ours = shelf.properties.iter().find(|(known, _)| known == name);
        if let (Some((_, ours)), Some(unit)) = (ours, unit)
            && ours != unit
        {
            let what =
                format!("{} is in {} here, and in {} in the house", quoted(name), quoted(unit), quoted(ours));
            findings.error(codes::PROPERTY_UNIT, place.clone(), what, "give it the same unit in both");
        }
    }
    let Some(items) = list_mut(document, "candidate") else { return };
    for table in items.iter_mut().filter_map(table_mut) {
        let Some(carries) = table.get_mut("carries").and_then(table_mut) else {
            continue;
        };
        let unasked: Vec<String> = carries
            .keys()
            .map(|key| key.get_ref().to_string())
            .filter(|name| !declared.iter().any(|(known, ..)| known == name))
            .filter(|name| shelf.properties.iter().any(|(known, _)| known == name))
            .collect();
        for name in unasked {
            carries.remove(name.as_str());
        }
    }
}

/// The brief's prices are in the house's currency, unless it has its own, which then has to be the same.
fn currency<'s>(document: &mut DeTable<'s>, shelf: &Shelf<'s>, findings: &mut Findings) {
    let Some(ours) = &shelf.currency else { return };
    match document.get("currency") {
        None => {
            put(document, "currency", ours.clone(), &ours.span());
        }
        Some(own)
            if own.get_ref().as_str().is_some() && own.get_ref().as_str() != ours.get_ref().as_str() =>
        {
            let word = |value: &Item<'_>| value.get_ref().as_str().unwrap_or_default().to_owned();
            let what =
                format!("the brief counts in {}, the house in {}", quoted(&word(own)), quoted(&word(ours)));
            let help = "leave the currency out of the brief: it takes that of the house";
            findings.error(codes::OTHER_CURRENCY, own.span(), what, help);
        }
        Some(_) => {}
    }
}

/// The bar as the house knows it: how its ice melts into what is made like this, and how far its pours are off.
/// What the brief says itself stands.
pub fn bar<'s>(document: &mut DeTable<'s>, shelf: &Shelf<'s>) {
    let melts = shelf.melt.as_ref().and_then(|melts| melts.get_ref().as_table());
    if let (Some(melts), Some(serve)) = (melts, document.get_mut("serve").and_then(table_mut))
        && let Some(melt) = word(serve, "method").and_then(|method| melts.get(method)).cloned()
    {
        under(serve, "melt", melt);
    }
    let Some(error) = shelf.pour_error.clone() else { return };
    let place = error.span();
    if !document.contains_key("variation") {
        put_at(document, "variation", DeValue::Table(DeTable::new()), &place);
    }
    if let Some(variation) = document.get_mut("variation").and_then(table_mut) {
        under(variation, "pour_error", error);
    }
}

/// Puts a value under a key, where there is none yet.
fn under<'s>(table: &mut DeTable<'s>, key: &'static str, value: Item<'s>) {
    if !table.contains_key(key) {
        let place = value.span();
        put(table, key, value, &place);
    }
}

/// What was weighed in the house, as if it stood in the brief.
pub fn weighed<'s>(document: &mut DeTable<'s>, shelf: &Shelf<'s>) {
    let place = shelf.weighed.first().map(Spanned::span).unwrap_or_default();
    let items = DeValue::Array(shelf.weighed.iter().cloned().collect());
    put_at(document, "weighed", items, &place);
}
