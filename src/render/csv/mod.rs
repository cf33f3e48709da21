//! CSV for a spreadsheet: one row a figure, numbers not rounded, no cell that would run as a formula.

/// A row: whatever can stand in a cell, `()` for nothing.
macro_rules! cells {
    ($($cell:expr),* $(,)?) => { [$($crate::render::csv::Cell::from($cell)),*] };
}

mod batch;
mod larder;
mod menu;
mod notebook;
mod service;
mod spec;
mod sweep;
mod why;

use std::borrow::Cow;

use super::document::{self, Block, Document};
use crate::answer::Asked;
use crate::batch::Money;
use crate::quantity::Currency;

/// An answer as rows.
pub trait Rows {
    /// Its rows under their heading.
    fn rows(&self) -> String;
}

/// The columns of `spec` and `check`, and of what consists of specs.
const HEAD: [&str; 8] = ["spec", "what", "name", "value", "unit", "cost", "min", "max"];

/// What stands in a cell.
#[derive(Debug, Clone)]
enum Cell<'a> {
    Text(Cow<'a, str>),
    Number(f64),
    Nothing,
}

impl From<()> for Cell<'_> {
    fn from((): ()) -> Self {
        Self::Nothing
    }
}

impl<'a> From<&'a str> for Cell<'a> {
    fn from(text: &'a str) -> Self {
        Self::Text(Cow::Borrowed(text))
    }
}

impl<'a> From<&'a String> for Cell<'a> {
    fn from(text: &'a String) -> Self {
        Self::from(text.as_str())
    }
}

impl From<String> for Cell<'_> {
    fn from(text: String) -> Self {
        Self::Text(Cow::Owned(text))
    }
}

impl From<bool> for Cell<'_> {
    fn from(holds: bool) -> Self {
        Self::from(if holds { "true" } else { "false" })
    }
}

/// Names, one after the other.
impl<S: AsRef<str>> From<&Vec<S>> for Cell<'_> {
    fn from(names: &Vec<S>) -> Self {
        Self::from(names.iter().map(AsRef::as_ref).collect::<Vec<_>>().join("; "))
    }
}

impl From<f64> for Cell<'_> {
    fn from(value: f64) -> Self {
        Self::Number(value)
    }
}

impl From<u64> for Cell<'_> {
    fn from(count: u64) -> Self {
        Self::Number(count as f64)
    }
}

impl From<usize> for Cell<'_> {
    fn from(count: usize) -> Self {
        Self::Number(count as f64)
    }
}

impl From<Money> for Cell<'_> {
    fn from(money: Money) -> Self {
        Self::Number(crate::batch::to_f64(money.0))
    }
}

impl<'a, T: Into<Cell<'a>>> From<Option<T>> for Cell<'a> {
    fn from(value: Option<T>) -> Self {
        value.map_or(Self::Nothing, Into::into)
    }
}

/// Rows that grow, all as long as their head.
struct Sheet {
    rows: csv::Writer<Vec<u8>>,
    columns: usize,
}

impl Sheet {
    fn with_head<S: AsRef<str>>(head: &[S]) -> Self {
        let rows = csv::WriterBuilder::new().terminator(csv::Terminator::Any(b'\n')).from_writer(vec![]);
        let mut sheet = Self { rows, columns: head.len() };
        sheet.row(&head.iter().map(|head| Cell::from(head.as_ref())).collect::<Vec<_>>());
        sheet
    }

    /// A row; where cells are left out at its end, nothing stands there.
    fn row(&mut self, cells: &[Cell]) {
        let cells = cells.iter().chain(std::iter::repeat(&Cell::Nothing)).take(self.columns);
        // Writing to memory cannot fail, and every row has as many cells as the head.
        let _ = self.rows.write_record(cells.map(written));
    }

    fn finish(self) -> String {
        let bytes = self.rows.into_inner().unwrap_or_default();
        String::from_utf8(bytes).unwrap_or_default()
    }

    fn fact<'a>(&mut self, name: &'a str, value: impl Into<Cell<'a>>) {
        self.row(&cells![(), "answer", name, value.into()]);
    }

    /// The title and, where any price is named, the currency.
    fn title(&mut self, title: &str, currency: &str) {
        self.fact("title", title);
        if currency != Currency::NONE {
            self.fact("currency", currency);
        }
    }

    /// What asks for care, and what was asked.
    fn close(mut self, cautions: &[String], asked: Option<&Asked>) -> String {
        cautions.iter().for_each(|caution| self.fact("caution", caution));
        asked_facts(asked).for_each(|(name, value)| self.fact(name, value));
        self.finish()
    }
}

/// What was asked, by name.
fn asked_facts(asked: Option<&Asked>) -> impl Iterator<Item = (&'static str, &str)> {
    asked.into_iter().flat_map(|asked| {
        let set = asked.set.iter().map(|set| ("set", set.as_str()));
        let swap = asked.swap.iter().map(|swap| ("swap", swap.as_str()));
        let version = ("version", asked.version);
        std::iter::once(("brief", asked.brief.as_str())).chain(set).chain(swap).chain([version])
    })
}

/// The tables of a small answer: a row a cell.
pub fn cells(document: &Document) -> String {
    let mut out = Sheet::with_head(&["table", "row", "column", "value"]);
    for section in &document.sections {
        for block in &section.blocks {
            let Block::Table(table) = block else { continue };
            for row in &table.rows {
                let mut texts = row.cells.iter().map(document::Cell::text);
                let name = texts.next().unwrap_or_default();
                for (value, column) in texts.zip(table.columns.iter().skip(1)) {
                    let heading = section.heading.as_deref();
                    out.row(&cells![heading, &name, &column.head, value]);
                }
            }
        }
    }
    out.finish()
}

/// A cell as it stands in the file. Text that a spreadsheet would run gets an apostrophe before it;
/// undefined numbers are empty.
fn written(cell: &Cell) -> String {
    match cell {
        // Adding 0 takes the sign from a negative zero.
        Cell::Number(value) if value.is_finite() => format!("{}", value + 0.0),
        Cell::Number(_) | Cell::Nothing => String::new(),
        Cell::Text(text) if text.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']) => format!("'{text}"),
        Cell::Text(text) => text.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_text_cell_runs_and_numbers_stay_numbers() {
        for evil in ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1"] {
            let cell = written(&evil.into());
            assert!(cell.starts_with('\''), "{cell:?}");
        }
        assert_eq!(written(&Cell::Number(-0.5)), "-0.5");
        assert_eq!(written(&Cell::Number(-0.0)), "0");
        assert_eq!(written(&Cell::Number(f64::NAN)), "");
        let mut sheet = Sheet::with_head(&["a", "b", "c"]);
        sheet.row(&cells!["sugar, \"white\"", 1.5]);
        assert_eq!(sheet.finish(), "a,b,c\n\"sugar, \"\"white\"\"\",1.5,\n");
    }
}
