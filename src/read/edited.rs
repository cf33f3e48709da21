//! Texts that are edited in place: what is not touched stays as it is, to the byte.

use toml_edit::{ArrayOfTables, DocumentMut, Item, Table, TableLike, Value};

use super::codes;
use super::shape::shown;
use crate::finding::Finding;

/// A text as a document that can be edited. `what` it is stands in the finding.
pub(super) fn document_of(text: &str, what: &str) -> Result<DocumentMut, Finding> {
    let unreadable =
        |_| Finding::placeless(codes::NOT_TOML, format!("the {what} is not TOML"), "mend it first");
    text.parse().map_err(unreadable)
}

/// The lines end as they did: the editor writes every end of a line as one character.
pub(super) fn as_before(text: &str, written: String) -> String {
    if text.contains("\r\n") { written.replace("\r\n", "\n").replace('\n', "\r\n") } else { written }
}

/// Sets a value; spaces and comments round the one that was there stay.
pub(super) fn set(table: &mut (impl TableLike + ?Sized), key: &str, mut new: Value) {
    match table.get_mut(key) {
        Some(Item::Value(old)) => {
            *new.decor_mut() = old.decor().clone();
            *old = new;
        }
        _ => {
            table.insert(key, Item::Value(new));
        }
    }
}

/// A figure as one would write it: `60`, not `60.0`.
pub(super) fn number(figure: f64) -> Value {
    if figure.fract() == 0.0 && figure.abs() < 1e15 {
        Value::from(figure as i64)
    } else {
        Value::from(figure)
    }
}

/// The table under some keys, made where there is none.
pub(super) fn inner<'t, S: AsRef<str>>(
    table: &'t mut dyn TableLike,
    path: &[S],
) -> Result<&'t mut dyn TableLike, Finding> {
    let Some((first, rest)) = path.split_first() else { return Ok(table) };
    let first = first.as_ref();
    let item = table.entry(first).or_insert_with(|| Item::Table(Table::new()));
    let help = "write it as a table";
    let wrong = || Finding::placeless(codes::WRONG_TYPE, format!("`{}` is no table", shown(first)), help);
    inner(item.as_table_like_mut().ok_or_else(wrong)?, rest)
}

/// The ingredients; a brief that lists none yet gets room for them.
pub(super) fn ingredients(document: &mut DocumentMut) -> Result<&mut ArrayOfTables, Finding> {
    let item = document.entry("candidate").or_insert(Item::ArrayOfTables(ArrayOfTables::new()));
    item.as_array_of_tables_mut().ok_or_else(|| {
        let help = "write each ingredient as a table [[candidate]] of its own";
        Finding::placeless(codes::WRONG_TYPE, "`candidate` is no list of tables", help)
    })
}

/// Which of the ingredients goes by a name: letter for letter, else but for the letter case.
pub(super) fn named(tables: &ArrayOfTables, name: &str) -> Option<usize> {
    let name = name.trim();
    let own = |table: &Table| {
        ["name", "house", "larder"]
            .into_iter()
            .find_map(|key| Some(table.get(key)?.as_str()?.trim().to_owned()))
    };
    let exact = tables.iter().position(|table| own(table).is_some_and(|own| own == name));
    let folded = |table: &Table| own(table).is_some_and(|own| own.to_lowercase() == name.to_lowercase());
    exact.or_else(|| tables.iter().position(folded))
}

/// Lists an ingredient behind the others, by its name under `house` or `larder`.
pub(super) fn list(tables: &mut ArrayOfTables, from: &str, name: &str) {
    let mut table = Table::new();
    table.insert(from, Item::Value(Value::from(name)));
    table.decor_mut().set_prefix("\n");
    tables.push(table);
}
