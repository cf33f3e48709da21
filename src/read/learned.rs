//! Limits written into a brief, and nothing else in it touched.

use toml_edit::{InlineTable, Item, Table, TableLike, Value};

use super::codes;
use super::edited::{as_before, document_of, number, set};
use crate::finding::Finding;

/// What happens to one side of a target.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NewSide {
    /// It stays as it is written.
    Same,
    /// It becomes this figure, in the measure's unit.
    At(f64),
    /// It goes.
    Gone,
}

/// A target as it is to be.
#[derive(Debug, Clone, PartialEq)]
pub struct NewLimits {
    /// Its key.
    pub key: String,
    /// The least.
    pub min: NewSide,
    /// The most.
    pub max: NewSide,
    /// Both sides as they will be: where the brief gives one figure, a range takes its place.
    pub whole: (Option<f64>, Option<f64>),
}

/// The text of a brief with other limits in it; comments and everything else stay as they are.
///
/// # Errors
/// When the text cannot be added to.
pub fn limits_in(text: &str, limits: &[NewLimits]) -> Result<String, Finding> {
    let mut document = document_of(text, "brief")?;
    let targets = document.entry("targets").or_insert_with(|| Item::Table(Table::new()));
    let Some(table) = targets.as_table_like_mut() else {
        let help = "write it as a table [targets]";
        return Err(Finding::placeless(codes::WRONG_TYPE, "`targets` is no table", help));
    };
    limits.iter().for_each(|one| put(table, one));
    if let Some(inline) = targets.as_inline_table_mut() {
        inline.fmt();
    }
    Ok(as_before(text, document.to_string()))
}

fn put(targets: &mut dyn TableLike, limits: &NewLimits) {
    match targets.get_mut(&limits.key) {
        Some(Item::Value(Value::InlineTable(range))) => {
            // Setting a figure keeps the spaces round it; a side that comes or goes needs them set anew.
            let grows = side(range, "min", limits.min) | side(range, "max", limits.max);
            if grows {
                let decor = range.decor().clone();
                range.fmt();
                *range.decor_mut() = decor;
            }
        }
        Some(Item::Table(range)) => {
            side(range, "min", limits.min);
            side(range, "max", limits.max);
        }
        // One figure, or a text: the range that it meant takes its place, a comment behind it stays.
        Some(Item::Value(value)) => {
            let decor = value.decor().clone();
            *value = Value::InlineTable(range(limits));
            *value.decor_mut() = decor;
        }
        _ => {
            targets.insert(&limits.key, Item::Value(Value::InlineTable(range(limits))));
        }
    }
}

fn range(limits: &NewLimits) -> InlineTable {
    let mut range = InlineTable::new();
    let (min, max) = limits.whole;
    for (key, figure) in [("min", min), ("max", max)] {
        if let Some(figure) = figure {
            range.insert(key, number(figure));
        }
    }
    range
}

/// Sets a side; tells whether a key came or went.
fn side(range: &mut dyn TableLike, key: &str, new: NewSide) -> bool {
    match new {
        NewSide::Same => false,
        NewSide::Gone => range.remove(key).is_some(),
        NewSide::At(figure) => {
            let comes = !matches!(range.get(key), Some(Item::Value(_)));
            set(range, key, number(figure));
            comes
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "# mine\n[targets]   # in the glass\nsugar = { min = 55, max = \"70 g/L\" }   # sweet\nstrength \
                        = 12 # strong\n\n[targets.acid]\nmin = 6   # brisk\n# the end\n";

    fn new(key: &str, min: NewSide, max: NewSide, whole: (Option<f64>, Option<f64>)) -> NewLimits {
        NewLimits { key: key.to_owned(), min, max, whole }
    }

    #[test]
    fn only_the_figures_change() {
        let limits = [
            new("sugar", NewSide::At(57.5), NewSide::Same, (Some(57.5), Some(70.0))),
            new("strength", NewSide::At(11.8), NewSide::Same, (Some(11.8), Some(12.5))),
            new("acid", NewSide::At(6.25), NewSide::At(8.0), (Some(6.25), Some(8.0))),
            new("volume", NewSide::At(90.0), NewSide::Same, (Some(90.0), None)),
        ];
        let text = limits_in(TEXT, &limits).expect("written");
        for line in [
            "# mine\n",
            "[targets]   # in the glass\n",
            "sugar = { min = 57.5, max = \"70 g/L\" }   # sweet\n",
            "strength = { min = 11.8, max = 12.5 } # strong\n",
            "volume = { min = 90 }\n",
            "min = 6.25   # brisk\n",
            "max = 8\n",
            "# the end\n",
        ] {
            assert!(text.contains(line), "{line}: {text}");
        }
    }

    #[test]
    fn a_side_goes_and_a_table_comes() {
        let gone = [new("sugar", NewSide::At(80.0), NewSide::Gone, (Some(80.0), None))];
        assert!(limits_in(TEXT, &gone).expect("written").contains("sugar = { min = 80 }   # sweet\n"));
        let come = [new("sugar", NewSide::Same, NewSide::At(80.0), (None, Some(80.0)))];
        let text = limits_in("title = \"Sour\" # hers\n", &come).expect("written");
        assert_eq!(text, "title = \"Sour\" # hers\n\n[targets]\nsugar = { max = 80 }\n");
        let inline = limits_in("targets = { acid = { min = 6 } }\n", &come).expect("written");
        assert_eq!(inline, "targets = { acid = { min = 6 }, sugar = { max = 80 } }\n");
        let windows = limits_in("[targets]\r\nacid = { min = 6 } # a\r\n", &come).expect("written");
        assert_eq!(windows, "[targets]\r\nacid = { min = 6 } # a\r\nsugar = { max = 80 }\r\n");
        assert!(limits_in("targets = 3\n", &come).is_err());
    }
}
