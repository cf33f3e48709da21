//! `--set KEY=VALUE`: changes to the tables before they are read.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::shape::shown;
use super::tables::{Item, name_in, put_at, shifted, table_mut, table_of, text, word};
use super::{Setting, codes, tables};
use crate::quantity::{Currency, Price};
use crate::read::findings::{Findings, closest, guess};

/// No key of a brief has more parts than this.
const DEEPEST: usize = 8;

/// Applies those settings that are meant, in their order, each at its place.
pub fn apply<'s>(
    document: &mut DeTable<'s>,
    settings: &'s [Setting],
    places: &[Range<usize>],
    which: impl Fn(&Setting) -> bool,
    findings: &mut Findings,
) {
    let placed = settings.iter().zip(places.iter().cloned());
    for (setting, place) in placed.filter(|(setting, _)| which(setting)) {
        let result = path(&setting.key).and_then(|path| {
            let value = shifted(priced(document, &path, value(&setting.value)), place.start);
            let (path, value) = whole_aim(path, value);
            make_room(document, &path);
            put(document, &path, value, &place)
        });
        if let Err((what, help)) = result {
            findings.error(codes::BAD_SETTING, place, what, help);
        }
    }
}

/// What is wrong, and what to do.
type Fault = (String, String);

/// The parts of a dotted key; quotes hold a part together.
fn path(key: &str) -> Result<Vec<String>, Fault> {
    let parts = quoted_path(key).unwrap_or_else(|| key.split('.').map(|p| p.trim().to_owned()).collect());
    if parts.len() > DEEPEST || parts.iter().any(String::is_empty) {
        let help = "write it like targets.strength.max=10 or candidate.\"lime juice\".acid=60";
        return Err((format!("`{}` is no dotted key", shown(key)), help.to_owned()));
    }
    Ok(parts)
}

/// The parts of a key; none where it is no dotted key.
pub(super) fn parts(key: &str) -> Vec<String> {
    path(key).unwrap_or_default()
}

/// The parts of a key that is written as TOML has it.
fn quoted_path(key: &str) -> Option<Vec<String>> {
    let text = format!("{key} = 0");
    let mut table = DeTable::parse(&text).ok()?.into_inner();
    let mut parts = Vec::new();
    loop {
        if table.len() != 1 {
            return None;
        }
        let (key, value) = table.into_iter().next()?;
        parts.push(key.into_inner().into_owned());
        match value.into_inner() {
            DeValue::Table(inner) => table = inner,
            _ => return Some(parts),
        }
    }
}

/// Keys of which a table has only one: another that is set takes the place of the first.
const ONE_OF: [(&str, &[&str]); 2] =
    [("aim", &["lowest", "highest", "nearest"]), ("candidate", &["sugar", "brix"])];

/// Takes out what a setting replaces under another key: a brief has one aim.
fn make_room(document: &mut DeTable, path: &[String]) {
    let (Some(list), Some(key)) = (path.first(), path.last()) else { return };
    let group = ONE_OF.iter().find(|(of, keys)| of == list && keys.contains(&key.as_str()));
    let Some((_, keys)) = group else { return };
    let table = match (document.get_mut(list.as_str()).map(Spanned::get_mut), path) {
        (Some(DeValue::Table(table)), [_, _]) => Some(table),
        (Some(DeValue::Array(items)), [_, which, _]) => {
            item(items, which).and_then(|at| items.get_mut(at)).and_then(table_mut)
        }
        _ => None,
    };
    let Some(table) = table else { return };
    for other in keys.iter().filter(|other| *other != key) {
        table.remove(*other);
    }
}

/// Notes alone are the whole of what is to be the highest.
fn whole_aim(mut path: Vec<String>, value: Item<'_>) -> (Vec<String>, Item<'_>) {
    if path != ["aim", "highest", "notes"] {
        return (path, value);
    }
    let place = value.span();
    path.pop();
    (path, Spanned::new(place.clone(), table_of("notes", value.into_inner(), &place)))
}

/// Money alone, set as the price of an ingredient that has one, is for the same pack.
fn priced<'s>(document: &DeTable, path: &[String], value: Item<'s>) -> Item<'s> {
    let [list, _, key] = path else { return value };
    if list != "candidate" || key != "price" {
        return value;
    }
    let Some(stated) = stated_price(document, path) else { return value };
    let money = match value.get_ref() {
        DeValue::Integer(number) if number.radix() == 10 => number.as_str().to_owned(),
        DeValue::Float(number) => number.as_str().to_owned(),
        DeValue::String(text) if !text.contains(" per ") => text.trim().to_owned(),
        _ => return value,
    };
    Spanned::new(value.span(), text(format!("{money} per {}", stated.pack_text)))
}

/// The price that stands at a path, if it is one.
pub(super) fn stated_price(document: &DeTable, path: &[String]) -> Option<Price> {
    let currency = word(document, "currency").and_then(|code| Currency::parse(code).ok());
    Price::parse_in(value_at(document, path)?.as_str()?, currency.as_ref()).ok()
}

/// The value at a path, found as settings find it.
pub(super) fn value_at<'d, 's>(table: &'d DeTable<'s>, path: &[String]) -> Option<&'d DeValue<'s>> {
    let (first, rest) = path.split_first()?;
    let value = table.get(first.as_str())?.get_ref();
    match (value, rest) {
        (value, []) => Some(value),
        (DeValue::Table(inner), rest) => value_at(inner, rest),
        (DeValue::Array(items), [which, rest @ ..]) => {
            let item = items.get(item(items, which)?).map(Spanned::get_ref)?;
            value_at(item.as_table()?, rest)
        }
        _ => None,
    }
}

/// A value as TOML, or else as text.
fn value(written: &str) -> Item<'_> {
    let trimmed = written.trim();
    DeValue::parse(trimmed).unwrap_or_else(|_| Spanned::new(0..trimmed.len(), text(trimmed)))
}

/// Puts a value at a path, making the tables on the way.
fn put<'s>(
    table: &mut DeTable<'s>,
    path: &[String],
    value: Item<'s>,
    place: &Range<usize>,
) -> Result<(), Fault> {
    let Some((first, rest)) = path.split_first() else { return Ok(()) };
    if rest.is_empty() {
        tables::put(table, first.clone(), value, place);
        return Ok(());
    }
    if !table.contains_key(first.as_str()) {
        put_at(table, first.clone(), DeValue::Table(DeTable::new()), place);
    }
    let Some(next) = table.get_mut(first.as_str()) else { return Ok(()) };
    match next.get_mut() {
        DeValue::Table(inner) => put(inner, rest, value, place),
        DeValue::Array(items) => put_into_item(items, first, rest, value, place),
        _ => Err((
            format!("`{}` holds a value, not a table, so it has no `{}`", shown(first), shown(&rest[0])),
            format!("set {} itself", shown(first)),
        )),
    }
}

/// Which of several tables is meant, by its name, its larder name, the role that it is about or its number
/// (from 0).
pub(super) fn item(items: &[Item<'_>], which: &str) -> Option<usize> {
    let by_key = |key: &str| items.iter().position(|item| word_in(item, key) == Some(which));
    let number = which.parse::<usize>().ok().filter(|at| *at < items.len());
    // A candidate has a role, too, but then it has a name.
    let by_role = || by_key("role").filter(|at| items.get(*at).and_then(name_in).is_none());
    by_key("name").or_else(|| by_key("larder")).or_else(by_role).or(number)
}

fn word_in<'a>(item: &'a Item<'_>, key: &str) -> Option<&'a str> {
    word(item.get_ref().as_table()?, key)
}

/// Puts a value into one of several tables, as [`item`] finds it.
fn put_into_item<'s>(
    items: &mut [Item<'s>],
    list: &str,
    path: &[String],
    value: Item<'s>,
    place: &Range<usize>,
) -> Result<(), Fault> {
    let Some((which, rest)) = path.split_first() else { return Ok(()) };
    let Some(at) = item(items, which) else {
        let what = format!("there is no {} `{}`", shown(list), shown(which));
        let names = items.iter().filter_map(|item| name_in(item).or_else(|| word_in(item, "role")));
        let numbers = || format!("name one of them, or give its number: 0 to {}", items.len().max(1) - 1);
        return Err((what, guess(closest(which, names), numbers)));
    };
    match items.get_mut(at).and_then(table_mut) {
        Some(table) if !rest.is_empty() => put(table, rest, value, place),
        _ => Err((
            format!("`{}` is one whole {}", shown(which), shown(list)),
            "set one of its keys".to_owned(),
        )),
    }
}
