//! A house that has been opened: its ingredients by name.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use serde_json::Value;
use toml::Spanned;
use toml::de::DeTable;

use super::items::unknown_entry;
use super::{House, of_house, quoted};
use crate::finding::Finding;
use crate::larder;
use crate::read::findings::Findings;
use crate::read::tables::{Item, name_of, shifted, taken_list, word, words_in};
use crate::read::text::Kind;
use crate::read::{codes, dates, figures, file, schema_of, shape, text};

/// What stands in a house, each with its place in the house's text moved behind the brief's.
#[derive(Debug)]
pub struct Shelf<'s> {
    /// The ingredients in the order of the file.
    pub items: Vec<Item<'s>>,
    /// Names, and where in the list.
    names: BTreeMap<String, usize>,
    /// Whose house it is.
    pub title: Option<String>,
    /// Its currency.
    pub currency: Option<Item<'s>>,
    /// The units of the properties that its ingredients carry.
    pub properties: Vec<(String, String)>,
    /// How its ice melts, by method.
    pub melt: Option<Item<'s>>,
    /// How far its pours are off.
    pub pour_error: Option<Item<'s>>,
    /// What was weighed in it.
    pub weighed: Vec<Item<'s>>,
}

impl<'s> Shelf<'s> {
    /// The ingredient of a name: letter for letter, else but for the letter case.
    pub fn find(&self, name: &str) -> Option<usize> {
        let name = name.trim();
        let folded = || self.names.iter().find(|(n, _)| n.eq_ignore_ascii_case(name)).map(|(_, at)| at);
        self.names.get(name).or_else(folded).copied()
    }

    /// All names.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.names.keys().map(String::as_str)
    }

    /// The keys of an ingredient.
    pub fn table(&self, at: usize) -> Option<&DeTable<'s>> {
        self.items.get(at)?.get_ref().as_table()
    }
}

/// Opens a house: what stands in it, with the places moved by `base`.
///
/// # Errors
/// Everything that is wrong with it, with the places in its own text.
pub fn open(house: &House, base: usize) -> Result<Shelf<'_>, Vec<Finding>> {
    let text = text::decode(&house.bytes, Kind::House).map_err(|f| of_house(vec![f]))?;
    let mut document = text::parse(text).map_err(of_house)?;
    dates::as_text(&mut document);
    let mut findings = Findings::default();
    // Figures with units are read once they stand in a brief; what is wrong with them is told with the rest.
    figures::find(&document, &mut findings);
    let mut document = shape::keep(document, schema(), Kind::House, &mut findings);
    let items = taken_list(&mut document, "candidate");
    let names = names(&items, &mut findings);
    let weighed = taken_list(&mut document, "weighed");
    made_somehow(&weighed, &mut findings);
    let properties = words_in(&document, "properties", "unit");
    carried(&items, &properties, &mut findings);
    if findings.stops() {
        return Err(of_house(findings.into_list(text)));
    }
    let items = items.into_iter().map(|item| shifted(item, base)).collect();
    let weighed = weighed.into_iter().map(|item| shifted(item, base)).collect();
    let mut taken = |key: &str| document.remove(key).map(|value| shifted(value, base));
    let (currency, melt, pour_error) = (taken("currency"), taken("melt"), taken("pour_error"));
    let title = word(&document, "title").map(str::to_owned);
    Ok(Shelf { items, names, title, currency, properties, melt, pour_error, weighed })
}

/// The schema of a house.
pub fn schema() -> &'static Value {
    static SCHEMA: OnceLock<Value> = OnceLock::new();
    SCHEMA.get_or_init(schema_of::<file::House>)
}

/// The names of all ingredients; each has one, and none stands twice.
fn names(items: &[Item<'_>], findings: &mut Findings) -> BTreeMap<String, usize> {
    let mut names: BTreeMap<String, usize> = BTreeMap::new();
    for (at, item) in items.iter().enumerate() {
        let Some(table) = item.get_ref().as_table() else { continue };
        only_of_briefs(table, findings);
        let Some(name) = name_of(table).filter(|name| !name.trim().is_empty()) else {
            let help = "give it a name = \"…\", or larder = \"…\" to take a built-in one";
            findings.error(codes::NO_NAME, item.span(), "this ingredient has no name", help);
            continue;
        };
        if let Some(entry) = word(table, "larder").filter(|name| larder::find(name.trim()).is_none()) {
            let place = table.get("larder").map(Spanned::span).unwrap_or_default();
            unknown_entry(entry, place, "; or state its figures under name = …", findings);
        }
        if let Some(first) = names.get(name).and_then(|first| items.get(*first)) {
            let what = format!("there is a second ingredient named {}", quoted(name));
            findings.repeated(codes::DUPLICATE_NAME, item.span(), what, first.span().start);
        } else {
            names.insert(name.to_owned(), at);
        }
    }
    names
}

/// A house makes many drinks: whoever weighed what came off the ice says how it was made.
fn made_somehow(weighed: &[Item<'_>], findings: &mut Findings) {
    for item in weighed {
        let Some(table) = item.get_ref().as_table() else { continue };
        if let (Some(out), None) = (table.get("grams_out"), table.get("method")) {
            let what = "nothing says how this was made, so its melt tells nothing";
            findings.error(
                codes::NO_METHOD,
                out.span(),
                what,
                "add method = \"shake\", \"stir\" or \"build\"",
            );
        }
    }
}

/// What only a brief can say of an ingredient.
fn only_of_briefs(table: &DeTable<'_>, findings: &mut Findings) {
    for (key, why) in [("house", "this is the house"), ("must", "what has to be used is the drink's to say")]
    {
        if let Some(value) = table.get(key) {
            let what = format!("`{key}` has no place in a house: {why}");
            findings.error(codes::UNKNOWN_KEY, value.span(), what, "leave it to the briefs");
        }
    }
}

/// What an ingredient carries is declared: a figure without a unit means nothing.
fn carried(items: &[Item<'_>], properties: &[(String, String)], findings: &mut Findings) {
    let tables = items.iter().filter_map(|item| item.get_ref().as_table());
    let carries = tables.filter_map(|table| table.get("carries")?.get_ref().as_table());
    for key in carries.flat_map(|table| table.keys()) {
        let name = key.get_ref().as_ref();
        if !properties.iter().any(|(known, _)| known == name) {
            let what = format!("no property is named `{name}`");
            let help = "declare it under [properties] of the house: caffeine = { unit = \"mg\" }";
            findings.error(codes::UNKNOWN_NAME, key.span(), what, help);
        }
    }
}
