//! Changes that stay: a text edited key by key, as `--set` changes it for one run. What is not meant stays to the byte.

use toml::de::{DeTable, DeValue};
use toml_edit::{DocumentMut, Table, TableLike, Value};

use super::edited::{as_before, document_of, ingredients, inner, list, named, number, set};
use super::shape::shown;
use super::tables::word;
use super::{codes, text};
use crate::finding::Finding;

/// One change of a text.
#[derive(Debug, Clone, PartialEq)]
pub enum Edit {
    /// A value at the parts of a key; an ingredient goes by its name: `candidate`, `lime juice`, `price`.
    Set(Vec<String>, Worth),
    /// A key goes.
    Clear(Vec<String>),
    /// An ingredient comes in behind the others: a `[[candidate]]` with its name under `house` or `larder`.
    Add(&'static str, String),
}

/// What a key is given.
#[derive(Debug, Clone, PartialEq)]
pub enum Worth {
    /// Text.
    Text(String),
    /// A figure.
    Figure(f64),
    /// Yes or no.
    Flag(bool),
}

impl From<Worth> for Value {
    fn from(worth: Worth) -> Self {
        match worth {
            Worth::Text(text) => Self::from(text),
            Worth::Figure(figure) => number(figure),
            Worth::Flag(flag) => Self::from(flag),
        }
    }
}

/// The text with all of these done in their order; comments and everything else stay as they are.
///
/// # Errors
/// When the text is no TOML, or what a key speaks of is not in it.
pub fn edited(text: &str, edits: &[Edit]) -> Result<String, Finding> {
    let mut document = document_of(text, "brief")?;
    for edit in edits {
        match edit {
            Edit::Set(path, worth) => put(&mut document, path, Some(worth.clone().into()))?,
            Edit::Clear(path) => put(&mut document, path, None)?,
            Edit::Add(from, name) => add(&mut document, from, name)?,
        }
    }
    Ok(as_before(text, document.to_string()))
}

/// Whether the text itself lists an ingredient, and does not only bring it in with others.
pub fn lists(text: &str, name: &str) -> bool {
    let document = text.parse::<DocumentMut>().ok();
    let tables = document.as_ref().and_then(|document| document.get("candidate")?.as_array_of_tables());
    tables.is_some_and(|tables| named(tables, name).is_some())
}

/// Gives a key a value, or takes it away.
fn put(document: &mut DocumentMut, path: &[String], value: Option<Value>) -> Result<(), Finding> {
    let Some((last, before)) = path.split_last() else { return Ok(()) };
    let table: &mut dyn TableLike = match before {
        [list, name, rest @ ..] if list == "candidate" => inner(candidate(document, name)?, rest)?,
        _ => inner(document.as_table_mut(), before)?,
    };
    match value {
        Some(value) => set(table, last, value),
        None => drop(table.remove(last)),
    }
    Ok(())
}

fn candidate<'d>(document: &'d mut DocumentMut, name: &str) -> Result<&'d mut Table, Finding> {
    let tables = ingredients(document)?;
    named(tables, name).and_then(|at| tables.get_mut(at)).ok_or_else(|| {
        let what = format!("the brief lists no \"{}\"", shown(name));
        Finding::placeless(codes::UNKNOWN_NAME, what, "add it as a [[candidate]] first")
    })
}

fn add(document: &mut DocumentMut, from: &str, name: &str) -> Result<(), Finding> {
    let tables = ingredients(document)?;
    if named(tables, name).is_some() {
        let what = format!("the brief lists \"{}\" already", shown(name));
        return Err(Finding::placeless(codes::DUPLICATE_NAME, what, "an ingredient is listed once"));
    }
    list(tables, from, name);
    Ok(())
}

/// The keys that stand at a place of a text, the innermost first, each with its parts joined by full stops and an
/// ingredient by its name: `candidate.lime juice.price`, `candidate.lime juice`.
pub fn fields_at(text: &str, place: usize) -> Vec<String> {
    let Ok(document) = text::parse(text) else { return Vec::new() };
    let mut fields = Vec::new();
    within(&document, "", place, &mut fields);
    fields.reverse();
    fields
}

/// Whether something of a table stands there; then the keys that lead to it.
fn within(table: &DeTable<'_>, before: &str, place: usize, fields: &mut Vec<String>) -> bool {
    table.iter().any(|(key, value)| {
        let name = format!("{before}{}", key.get_ref());
        let here = (key.span().start..=value.span().end).contains(&place);
        let mut inside = |name: &str, table: &DeTable<'_>, here: bool| {
            fields.push(name.to_owned());
            let found = within(table, &format!("{name}."), place, fields) || here;
            if !found {
                fields.pop();
            }
            found
        };
        match value.get_ref() {
            DeValue::Table(table) => inside(&name, table, here),
            DeValue::Array(items) if items.iter().any(|item| item.get_ref().as_table().is_some()) => {
                items.iter().any(|item| {
                    let Some(table) = item.get_ref().as_table() else { return false };
                    let own = ["name", "house", "larder"].into_iter().find_map(|key| word(table, key));
                    let name = format!("{name}.{}", own.unwrap_or_default());
                    inside(&name, table, item.span().contains(&place))
                })
            }
            _ if here => {
                fields.push(name);
                true
            }
            _ => false,
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "# mine\ntitle = \"Sour\" # hers\n\n[targets]\nacid = { min = 6, max = 8 } # brisk\n\n[aim]\n\
                        lowest = \"cost\"\n\n# rum first\n[[candidate]]\nlarder = \"aged rum\" # ours\nprice  = \"17.50 per 700 \
                        ml\"   # net\n\n[[candidate]]\nname = \"bay.syrup\"\nsugar = 600\n\n# the end\n[answer]\nalternatives = 2\n";

    fn path(parts: &[&str]) -> Vec<String> {
        parts.iter().map(|part| (*part).to_owned()).collect()
    }

    #[test]
    fn one_line_changes_and_the_rest_stays() {
        let price = Edit::Set(path(&["candidate", "Aged rum", "price"]), Worth::Text("19 per 700 ml".into()));
        let text = edited(TEXT, &[price]).expect("edited");
        assert_eq!(text, TEXT.replace("17.50 per", "19 per"));
        let limit = Edit::Set(path(&["targets", "acid", "max"]), Worth::Figure(7.5));
        assert_eq!(edited(TEXT, &[limit]).expect("edited"), TEXT.replace("max = 8", "max = 7.5"));
        assert_eq!(edited(TEXT, &[]).expect("edited"), TEXT);
    }

    #[test]
    fn keys_come_and_go() {
        let must = path(&["candidate", "bay.syrup", "must"]);
        let with = edited(TEXT, &[Edit::Set(must.clone(), Worth::Flag(true))]).expect("edited");
        assert_eq!(with, TEXT.replace("sugar = 600\n", "sugar = 600\nmust = true\n"));
        assert_eq!(edited(&with, &[Edit::Clear(must)]).expect("edited"), TEXT);
        let glass = Edit::Set(path(&["serve", "glass"]), Worth::Text("160 ml".into()));
        assert!(edited(TEXT, &[glass]).expect("edited").contains("[serve]\nglass = \"160 ml\"\n"));
    }

    #[test]
    fn an_ingredient_comes_in_behind_the_others_and_only_once() {
        let add = Edit::Add("larder", "verjus".to_owned());
        let text = edited(TEXT, std::slice::from_ref(&add)).expect("edited");
        assert_eq!(
            text,
            TEXT.replace("sugar = 600\n", "sugar = 600\n\n[[candidate]]\nlarder = \"verjus\"\n")
        );
        assert_eq!(edited(&text, &[add]).expect_err("twice").code, codes::DUPLICATE_NAME);
        assert!(lists(&text, "Verjus") && !lists(TEXT, "verjus"));
        let unknown = Edit::Clear(path(&["candidate", "rye", "must"]));
        assert!(edited(TEXT, &[unknown]).is_err());
        let windows = edited("a = 1\r\n", &[Edit::Add("larder", "gin".to_owned())]).expect("edited");
        assert_eq!(windows, "a = 1\r\n\r\n[[candidate]]\r\nlarder = \"gin\"\r\n");
    }

    #[test]
    fn a_place_has_the_keys_that_stand_there() {
        let at = |piece: &str| fields_at(TEXT, TEXT.find(piece).expect("there") + 1);
        assert_eq!(at("17.50"), ["candidate.aged rum.price", "candidate.aged rum"]);
        assert_eq!(at("max = 8"), ["targets.acid.max", "targets.acid", "targets"]);
        assert_eq!(at("Sour"), ["title"]);
        assert_eq!(at("600")[0], "candidate.bay.syrup.sugar");
    }
}
