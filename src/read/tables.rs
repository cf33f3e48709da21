//! The tables of a text before they are read as anything: looked into, and changed value by value, each with its place.

use std::borrow::Cow;
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};

/// A value and where it stands.
pub type Item<'s> = Spanned<DeValue<'s>>;

/// The text at a key of a table.
pub fn word<'a>(table: &'a DeTable<'_>, key: &str) -> Option<&'a str> {
    table.get(key)?.get_ref().as_str()
}

/// What an ingredient is called: by its own name, or that of the larder.
pub fn name_of<'a>(table: &'a DeTable<'_>) -> Option<&'a str> {
    word(table, "name").or_else(|| word(table, "larder"))
}

/// What a table in a list is called.
pub fn name_in<'a>(item: &'a Item<'_>) -> Option<&'a str> {
    name_of(item.get_ref().as_table()?)
}

/// Whether yes stands at a key.
pub fn is_true(table: &DeTable<'_>, key: &str) -> bool {
    table.get(key).is_some_and(|value| value.get_ref().as_bool() == Some(true))
}

/// The table that a value is.
pub fn table_mut<'a, 's>(item: &'a mut Item<'s>) -> Option<&'a mut DeTable<'s>> {
    match item.get_mut() {
        DeValue::Table(table) => Some(table),
        _ => None,
    }
}

/// The list at a key; nothing where something else stands there, which the shape reports.
pub fn list_mut<'a, 's>(table: &'a mut DeTable<'s>, key: &str) -> Option<&'a mut DeArray<'s>> {
    match table.get_mut(key).map(Spanned::get_mut) {
        Some(DeValue::Array(items)) => Some(items),
        _ => None,
    }
}

/// Takes the list at a key out of a table.
pub fn taken_list<'s>(table: &mut DeTable<'s>, key: &str) -> Vec<Item<'s>> {
    match table.remove(key).map(Spanned::into_inner) {
        Some(DeValue::Array(items)) => items.into_iter().collect(),
        _ => Vec::new(),
    }
}

/// What a table of tables says under one key of each, by their names: `caffeine = { unit = "mg" }`.
pub fn words_in(table: &DeTable<'_>, of: &str, key: &str) -> Vec<(String, String)> {
    let tables = table.get(of).and_then(|value| value.get_ref().as_table());
    let one = |(name, value): (&Spanned<Cow<'_, str>>, &Item<'_>)| {
        Some((name.get_ref().to_string(), word(value.get_ref().as_table()?, key)?.to_owned()))
    };
    tables.into_iter().flatten().filter_map(one).collect()
}

/// Puts a value at a key, in the place of the one that stands there.
pub fn put<'s>(table: &mut DeTable<'s>, key: impl Into<Cow<'s, str>>, value: Item<'s>, place: &Range<usize>) {
    let key = key.into();
    table.remove(key.as_ref());
    table.insert(Spanned::new(place.clone(), key), value);
}

/// The same with a value that stands at the place of its key.
pub fn put_at<'s>(
    table: &mut DeTable<'s>,
    key: impl Into<Cow<'s, str>>,
    value: DeValue<'s>,
    place: &Range<usize>,
) {
    put(table, key, Spanned::new(place.clone(), value), place);
}

/// A text.
pub fn text<'s>(text: impl Into<Cow<'s, str>>) -> DeValue<'s> {
    DeValue::String(text.into())
}

/// A table of one key, all of it at one place.
pub fn table_of<'s>(key: &'static str, value: DeValue<'s>, place: &Range<usize>) -> DeValue<'s> {
    let mut table = DeTable::new();
    put_at(&mut table, key, value, place);
    DeValue::Table(table)
}

/// A candidate fresh from the larder.
pub fn fresh<'s>(name: &str, place: &Range<usize>) -> Item<'s> {
    Spanned::new(place.clone(), table_of("larder", text(name.to_owned()), place))
}

/// The value with all its places moved. TOML bounds how deep it nests.
pub fn moved<'s>(value: Item<'s>, to: &impl Fn(Range<usize>) -> Range<usize>) -> Item<'s> {
    let place = to(value.span());
    let inner = match value.into_inner() {
        DeValue::Array(array) => DeValue::Array(array.into_iter().map(|item| moved(item, to)).collect()),
        DeValue::Table(table) => {
            let one = |(key, item): (Spanned<_>, _)| {
                (Spanned::new(to(key.span()), key.into_inner()), moved(item, to))
            };
            DeValue::Table(table.into_iter().map(one).collect())
        }
        other => other,
    };
    Spanned::new(place, inner)
}

/// The value with all its places so much further back.
pub fn shifted(value: Item<'_>, by: usize) -> Item<'_> {
    moved(value, &|place| place.start + by..place.end + by)
}
