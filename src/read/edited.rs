//! Texts that are edited in place: what is not touched stays as it is, to the byte.

use toml_edit::{DocumentMut, Item, TableLike, Value};

use super::codes;
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
