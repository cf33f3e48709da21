//! Small answers as tables: a title, tables with headings, and words below, drawn as blocks like all others.

use serde::Serialize;
use unicode_width::UnicodeWidthStr;

use super::document::{self, Block, Cell, Column, Heads, Kind, Row, Section, Tone};
use super::words::clean;
use super::{Document, Format, Look, Part, csv, json, markdown, text};

/// A table.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Table {
    /// What stands over it.
    pub heading: String,
    /// What its columns are; the first holds words, the others figures.
    pub columns: Vec<String>,
    /// Its rows.
    pub rows: Vec<Vec<String>>,
}

impl Table {
    /// How wide it is as text, in columns.
    pub fn width(&self) -> usize {
        let rows = || std::iter::once(&self.columns).chain(&self.rows);
        let count = rows().map(Vec::len).max().unwrap_or(0);
        let widest = |at: usize| rows().filter_map(|row| row.get(at)).map(|cell| clean(cell).width()).max();
        (0..count).map(|at| 2 + widest(at).unwrap_or(0)).sum()
    }
}

/// A small answer.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sheet {
    /// What it is about.
    pub title: String,
    /// Its tables.
    pub tables: Vec<Table>,
    /// What is to be said below them.
    pub lines: Vec<String>,
}

/// How wide text may be, in columns.
pub const WIDEST: usize = 78;

/// Writes a sheet; JSON has the answer that it was made from.
pub fn write(sheet: &Sheet, answer: &impl Serialize, format: Format, look: Look) -> String {
    match format {
        Format::Text => text::write(&in_blocks(sheet), look),
        Format::Json => json::object(answer),
        Format::Markdown => markdown::write(&in_blocks(sheet)),
        Format::Csv => in_csv(sheet),
    }
}

/// The sheet as blocks: a section a table, the words below the last.
fn in_blocks(sheet: &Sheet) -> Document {
    let section = |table: &Table| Section {
        part: Part::Measured,
        heading: Some(table.heading.clone()).filter(|heading| !heading.is_empty()),
        blocks: vec![Block::Table(block(table))],
    };
    let below = Section::bare(Part::Measured, sheet.lines.iter().map(Block::plain).collect());
    let sections = sheet.tables.iter().map(section).chain([below]).collect();
    Document { title: sheet.title.clone(), sections, more: None }
}

/// Columns of numbers with their units are set as figures, all others as words.
fn block(table: &Table) -> document::Table {
    let rows = || std::iter::once(&table.columns).chain(&table.rows);
    let count = rows().map(Vec::len).max().unwrap_or(0);
    let text = |row: &[String], at: usize| row.get(at).cloned().unwrap_or_default();
    let number = |cell: &String| {
        let mut words = cell.split(' ');
        words.next().is_some_and(|word| word.is_empty() || word.parse::<f64>().is_ok()) && words.count() < 3
    };
    let counted = |at: usize| at > 0 && table.rows.iter().filter_map(|row| row.get(at)).all(number);
    let kind = |at: usize| match at {
        0 => Kind::Words,
        _ if counted(at) => Kind::Figure,
        _ => Kind::Short,
    };
    let column = |at: usize| Column::of(kind(at), text(&table.columns, at));
    let cell = |row: &[String], at: usize| match text(row, at) {
        text if counted(at) => Cell::measured(&text, Tone::Plain),
        text => Cell::words(text),
    };
    let heads = if table.columns.is_empty() { Heads::Spoken } else { Heads::Shown };
    let row = |row: &Vec<String>| Row::plain((0..count).map(|at| cell(row, at)).collect());
    document::Table {
        columns: (0..count).map(column).collect(),
        rows: table.rows.iter().map(row).collect(),
        heads,
    }
}

/// One row a cell: table, row, column, value.
fn in_csv(sheet: &Sheet) -> String {
    let mut out = "table,row,column,value\n".to_owned();
    for table in &sheet.tables {
        for row in &table.rows {
            let first = row.first().map_or("", String::as_str);
            for (at, value) in row.iter().enumerate().skip(1) {
                let column = table.columns.get(at).map_or("", String::as_str);
                let cells = [&table.heading, first, column, value].map(csv::quoted);
                out.push_str(&format!("{}\n", cells.join(",")));
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet() -> Sheet {
        let row = |cells: [&str; 2]| cells.map(str::to_owned).to_vec();
        let table =
            Table { heading: "H".to_owned(), columns: row(["", "ml"]), rows: vec![row(["a|b", "=1"])] };
        Sheet { title: "T".to_owned(), tables: vec![table], lines: vec!["word ".repeat(40)] }
    }

    #[test]
    fn every_format_says_it_and_is_safe() {
        let of = |format| write(&sheet(), &serde_json::json!({ "a": 1 }), format, Look::default());
        assert!(of(Format::Text).lines().all(|line| line.width() <= 80));
        assert!(of(Format::Markdown).contains("a\\|b"));
        assert!(of(Format::Csv).contains("H,a|b,ml,'=1"));
        assert_eq!(of(Format::Json), "{\n  \"a\": 1\n}\n");
    }
}
