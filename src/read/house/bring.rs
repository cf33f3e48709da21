//! `[[bring]]`: all that fit come in as candidates.

use std::collections::BTreeMap;
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};

use super::Shelf;
use super::items::{no_house, unknown, unknown_entry, whole};
use crate::brief::same_note;
use crate::larder::{self, Entry};
use crate::read::codes;
use crate::read::findings::Findings;
use crate::read::tables::{Item, fresh, is_true, list_mut, name_in, name_of, put_at, word};

/// An ingredient that a `[[bring]]` brought in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Brought {
    /// Its name.
    pub name: String,
    /// Where the `[[bring]]` stands.
    pub place: Range<usize>,
}

/// One wish, as far as it can be read; what cannot is reported by its shape.
struct Wish {
    place: Range<usize>,
    from: String,
    role: Option<String>,
    note: Option<String>,
    names: Option<Vec<(String, Range<usize>)>>,
    most: usize,
}

impl Wish {
    fn of(item: &Item<'_>) -> Option<Self> {
        let table = item.get_ref().as_table()?;
        let names = table.get("names").and_then(|value| value.get_ref().as_array());
        let name = |item: &Item<'_>| Some((item.get_ref().as_str()?.to_owned(), item.span()));
        let most = table.get("most").and_then(|value| value.get_ref().as_integer());
        Some(Self {
            place: item.span(),
            from: word(table, "from")?.to_owned(),
            role: word(table, "role").map(str::to_owned),
            note: word(table, "note").map(str::to_owned),
            names: names.map(|names| names.iter().filter_map(name).collect()),
            most: most.and_then(|most| most.as_str().parse().ok()).unwrap_or(usize::MAX),
        })
    }

    fn asks(&self, name: &str) -> bool {
        self.names.as_ref().is_none_or(|names| names.iter().any(|(n, _)| same_note(n, name)))
    }

    fn fits(&self, role: &str, notes: &[&str]) -> bool {
        self.role.as_deref().is_none_or(|wanted| wanted == role)
            && self.note.as_deref().is_none_or(|wanted| notes.iter().any(|note| same_note(note, wanted)))
    }
}

/// Fulfils every `[[bring]]`, after the candidates that the brief lists itself.
pub fn bring<'s>(
    document: &mut DeTable<'s>,
    shelf: Option<&Shelf<'s>>,
    findings: &mut Findings,
) -> Vec<Brought> {
    let wishes: Vec<Wish> = match document.get("bring").map(Spanned::get_ref) {
        Some(DeValue::Array(items)) => items.iter().filter_map(Wish::of).collect(),
        _ => return Vec::new(),
    };
    if !document.contains_key("candidate") {
        let place = wishes.first().map(|wish| wish.place.clone()).unwrap_or_default();
        put_at(document, "candidate", DeValue::Array(DeArray::new()), &place);
    }
    let Some(items) = list_mut(document, "candidate") else { return Vec::new() };
    let mut brought = Vec::new();
    for wish in &wishes {
        let offered = match wish.from.as_str() {
            "house" => {
                if let Some(shelf) = shelf {
                    from_house(wish, shelf, findings)
                } else {
                    no_house(wish.place.clone(), findings);
                    continue;
                }
            }
            "larder" => from_larder(wish, findings),
            _ => continue,
        };
        add(wish, offered, items, &mut brought, findings);
    }
    brought
}

/// An ingredient that fits, with its role.
type Offered<'s> = (String, Item<'s>);

fn add<'s>(
    wish: &Wish,
    offered: Vec<Offered<'s>>,
    items: &mut DeArray<'s>,
    brought: &mut Vec<Brought>,
    findings: &mut Findings,
) {
    if offered.is_empty() {
        let what = format!("nothing in the {} fits this", wish.from);
        findings.warning(codes::NOTHING_BROUGHT, wish.place.clone(), what, "ask for less, or leave it out");
    }
    let mut of_role: BTreeMap<String, usize> = BTreeMap::new();
    for (role, item) in offered {
        let Some(name) = name_in(&item).map(str::to_owned) else { continue };
        let count = of_role.entry(role).or_default();
        if *count >= wish.most || items.iter().any(|there| goes_by(there, &name)) {
            continue;
        }
        *count += 1;
        brought.push(Brought { name, place: wish.place.clone() });
        items.push(item);
    }
}

/// Whether a candidate has a name, or is the larder's of that name.
fn goes_by(item: &Item<'_>, name: &str) -> bool {
    let larder = item.get_ref().as_table().and_then(|table| word(table, "larder"));
    name_in(item) == Some(name) || larder == Some(name)
}

fn from_house<'s>(wish: &Wish, shelf: &Shelf<'s>, findings: &mut Findings) -> Vec<Offered<'s>> {
    for (name, place) in wish.names.iter().flatten() {
        if shelf.find(name).is_none() {
            unknown(name, place.clone(), shelf, findings);
        }
    }
    let fits = |at: &usize| {
        let Some(table) = shelf.table(*at) else { return false };
        let out = is_true(table, "out");
        let named = name_of(table).is_some_and(|name| wish.asks(name));
        let called = wish.names.is_some() && named;
        named && (called || !out) && wish.fits(&role_of(table), &notes_of(table))
    };
    let one = |at: usize| Some((role_of(shelf.table(at)?), whole(shelf, at)?));
    (0..shelf.items.len()).filter(fits).filter_map(one).collect()
}

fn from_larder<'s>(wish: &Wish, findings: &mut Findings) -> Vec<Offered<'s>> {
    for (name, place) in wish.names.iter().flatten() {
        if larder::find(name).is_none() {
            unknown_entry(name, place.clone(), "", findings);
        }
    }
    let entries: Vec<&Entry> = match &wish.names {
        Some(names) => names.iter().filter_map(|(name, _)| larder::find(name)).collect(),
        None => larder::all().iter().collect(),
    };
    let fits = |entry: &&&Entry| wish.fits(entry.role.keyword(), &larder_notes(entry));
    let one = |entry: &&Entry| (entry.role.keyword().to_owned(), fresh(&entry.name, &wish.place));
    entries.iter().filter(fits).map(one).collect()
}

fn larder_notes(entry: &Entry) -> Vec<&str> {
    entry.notes.iter().map(String::as_str).collect()
}

/// The role that an ingredient of the house states, or that its larder entry has, or that its form has.
pub(super) fn role_of(table: &DeTable<'_>) -> String {
    let larder = || word(table, "larder").and_then(larder::find).map(|entry| entry.role.keyword());
    let common = if word(table, "form") == Some("powder") { "seasoning" } else { "modifier" };
    word(table, "role").or_else(larder).unwrap_or(common).to_owned()
}

/// The notes that an ingredient of the house states, or that its larder entry has.
fn notes_of<'a>(table: &'a DeTable<'_>) -> Vec<&'a str> {
    let stated = table.get("notes").and_then(|value| value.get_ref().as_array());
    match stated {
        Some(notes) => notes.iter().filter_map(|note| note.get_ref().as_str()).collect(),
        None => word(table, "larder").and_then(larder::find).map(larder_notes).unwrap_or_default(),
    }
}
