//! Specs that a brief keeps: written into it without touching anything else, and read back.

use toml_edit::{ArrayOfTables, DocumentMut, Item, Table, Value};

use super::codes;
use super::edited::document_of;
use super::file::{At, File, Kept, entries, listed};
use super::findings::Findings;
use super::lower::quantity;
use super::shape::shown;
use crate::brief::{Brief, Pour};
use crate::finding::Finding;
use crate::quantity::number::trimmed;

/// A spec that a brief keeps.
#[derive(Debug, Clone, PartialEq)]
pub struct KeptSpec {
    /// What it was kept as.
    pub name: String,
    /// When, as the year, month and day.
    pub date: String,
    /// What is poured.
    pub pours: Vec<Pour>,
}

/// What is to be kept.
#[derive(Debug, Clone, PartialEq)]
pub struct Keep {
    /// The name to keep it as.
    pub name: String,
    /// Today, as the year, month and day.
    pub date: String,
    /// Which version of the program worked it out.
    pub version: String,
    /// What the command line had changed in the brief, each as it was written.
    pub set: Vec<String>,
    /// Its pours: ingredient, amount, unit.
    pub pours: Vec<(String, f64, &'static str)>,
    /// Its figures: key, value.
    pub served: Vec<(String, f64)>,
}

/// The text of a brief with a spec kept in it; comments and everything else stay as they are.
///
/// # Errors
/// When something is kept under that name already, or the text cannot be added to.
pub fn kept_in(text: &str, keep: &Keep) -> Result<String, Finding> {
    let document = document_of(text, "brief")?;
    let none = Item::ArrayOfTables(ArrayOfTables::new());
    let Some(tables) = document.get("kept").unwrap_or(&none).as_array_of_tables() else {
        let help = "write each as a table [[kept]] of its own";
        return Err(Finding::placeless(codes::WRONG_TYPE, "`kept` is no list of tables", help));
    };
    let same = |table: &Table| table.get("name").and_then(Item::as_str) == Some(keep.name.as_str());
    if tables.iter().any(same) {
        let what = format!("the brief keeps a spec \"{}\" already", shown(&keep.name));
        return Err(Finding::placeless(codes::DUPLICATE_NAME, what, "keep this one under another name"));
    }
    // Behind everything else, also behind a last comment: not a byte of what is there is written anew.
    let mut added = ArrayOfTables::new();
    added.push(table_of(keep));
    let mut behind = DocumentMut::new();
    behind.insert("kept", Item::ArrayOfTables(added));
    let end = if text.is_empty() || text.ends_with('\n') { "" } else { "\n" };
    Ok(format!("{text}{end}\n{behind}"))
}

fn table_of(keep: &Keep) -> Table {
    let mut table = Table::new();
    table.insert("name", value(keep.name.as_str()));
    table.insert("date", value(keep.date.as_str()));
    table.insert("version", value(keep.version.as_str()));
    if !keep.set.is_empty() {
        table.insert("set", Item::Value(Value::Array(keep.set.iter().map(String::as_str).collect())));
    }
    let mut pours = toml_edit::InlineTable::new();
    for (name, amount, unit) in &keep.pours {
        pours.insert(name, format!("{} {unit}", trimmed(*amount, 6)).into());
    }
    table.insert("pours", Item::Value(Value::InlineTable(pours)));
    let mut served = toml_edit::InlineTable::new();
    for (key, figure) in keep.served.iter().filter(|(_, figure)| figure.is_finite()) {
        // A note for people: six digits are more than any of these figures deserve.
        served.insert(key, ((figure * 1e4).round() / 1e4).into());
    }
    table.insert("served", Item::Value(Value::InlineTable(served)));
    table
}

fn value(text: &str) -> Item {
    Item::Value(Value::from(text))
}

/// What a brief keeps. What it no longer has the ingredients for is passed over, with a warning.
pub fn kept_of(file: &File, brief: &Brief, findings: &mut Findings) -> Vec<KeptSpec> {
    let written = listed(file.kept.as_ref());
    let mut kept: Vec<KeptSpec> = Vec::new();
    for one in written {
        let Some(name) = &one.name else { continue };
        if kept.iter().any(|there| there.name == name.value) {
            let what = format!("a second spec is kept as \"{}\"", shown(name));
            findings.error(codes::DUPLICATE_NAME, name.place(), what, "give it another name");
        }
        if let Some(pours) = pours(one, brief, findings) {
            let date = one.date.as_ref().map(|date| date.value.clone()).unwrap_or_default();
            kept.push(KeptSpec { name: name.value.clone(), date, pours });
        }
    }
    kept
}

fn pours(one: &At<Kept>, brief: &Brief, findings: &mut Findings) -> Option<Vec<Pour>> {
    quantity::pours(entries(one.pours.as_ref()), brief, findings, |name, findings| {
        let what =
            format!("no ingredient is named \"{}\" any more, so this kept spec is passed over", shown(name));
        let help = "add it as a [[candidate]] with out = true to compare it";
        findings.warning(codes::KEPT_WITHOUT, name.place(), what, help);
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn keep(name: &str) -> Keep {
        Keep {
            name: name.to_owned(),
            date: "2026-11-29".to_owned(),
            version: "0.1.0".to_owned(),
            set: vec!["targets.strength.max=8".to_owned()],
            pours: vec![("aged rum".to_owned(), 22.5, "ml")],
            served: vec![("strength".to_owned(), 8.126_49), ("cost".to_owned(), f64::NAN)],
        }
    }

    #[test]
    fn nothing_else_is_touched() {
        let text = "# mine\ntitle = \"Sour\"   # its name\n\n[serve]\nmethod = \"shake\" # hard\n# the end\n";
        let once = kept_in(text, &keep("lighter")).expect("kept");
        assert!(once.starts_with(text.trim_end()), "{once}");
        let twice = kept_in(&once, &keep("dearer")).expect("kept");
        assert!(twice.starts_with(once.trim_end()), "{twice}");
        assert_eq!(twice.matches("[[kept]]").count(), 2);
        assert!(
            twice.contains("\"aged rum\" = \"22.5 ml\"") && twice.contains("strength = 8.1265"),
            "{twice}"
        );
        assert!(!twice.contains("cost"));
        assert_eq!(kept_in(&once, &keep("lighter")).expect_err("twice").code, codes::DUPLICATE_NAME);
    }
}
