//! Small answers as tables: a title, tables with headings, and words below; one writer a format.

use serde::Serialize;
use unicode_width::UnicodeWidthStr;

use super::words::clean;
use super::{Format, csv, json, markdown};

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
pub fn write(sheet: &Sheet, answer: &impl Serialize, format: Format) -> String {
    match format {
        Format::Text => text(sheet),
        Format::Json => json::object(answer),
        Format::Markdown => in_markdown(sheet),
        Format::Csv => in_csv(sheet),
    }
}

fn text(sheet: &Sheet) -> String {
    let mut out = format!("{}\n", clean(&sheet.title));
    for table in &sheet.tables {
        out.push('\n');
        if !table.heading.is_empty() {
            out.push_str(&format!("{}\n", clean(&table.heading)));
        }
        let rows = || std::iter::once(&table.columns).chain(&table.rows).filter(|row| !row.is_empty());
        let count = rows().map(Vec::len).max().unwrap_or(0);
        let cell = |row: &Vec<String>, at: usize| clean(row.get(at).map_or("", String::as_str));
        let widths: Vec<usize> =
            (0..count).map(|at| rows().map(|row| cell(row, at).width()).max().unwrap_or(0)).collect();
        for row in rows() {
            let cells = (0..count).map(|at| {
                let (text, gap) = (cell(row, at), widths[at].saturating_sub(cell(row, at).width()));
                if at == 0 {
                    format!("{text}{}", " ".repeat(gap))
                } else {
                    format!("{}{text}", " ".repeat(gap))
                }
            });
            out.push_str(format!("  {}", cells.collect::<Vec<_>>().join("  ")).trim_end());
            out.push('\n');
        }
    }
    for line in &sheet.lines {
        out.push('\n');
        wrapped(&clean(line), &mut out);
    }
    out
}

fn wrapped(line: &str, out: &mut String) {
    let mut width = 0;
    for word in line.split_whitespace() {
        if width > 0 && width + 1 + word.width() > WIDEST {
            out.push('\n');
            width = 0;
        } else if width > 0 {
            out.push(' ');
            width += 1;
        }
        out.push_str(word);
        width += word.width();
    }
    out.push('\n');
}

fn in_markdown(sheet: &Sheet) -> String {
    let escaped = |text: &str| markdown::escaped(&clean(text));
    let mut out = format!("# {}\n", escaped(&sheet.title));
    for table in &sheet.tables {
        out.push('\n');
        if !table.heading.is_empty() {
            out.push_str(&format!("## {}\n\n", escaped(&table.heading)));
        }
        let count = table.rows.iter().map(Vec::len).max().unwrap_or(0).max(table.columns.len());
        let row = |cells: &[String]| {
            let cells = (0..count).map(|at| cells.get(at).map_or_else(String::new, |text| escaped(text)));
            format!("| {} |\n", cells.collect::<Vec<_>>().join(" | "))
        };
        out.push_str(&row(&table.columns));
        let rules = (0..count).map(|at| if at == 0 { "---" } else { "---:" });
        out.push_str(&format!("| {} |\n", rules.collect::<Vec<_>>().join(" | ")));
        table.rows.iter().for_each(|cells| out.push_str(&row(cells)));
    }
    for line in &sheet.lines {
        out.push_str(&format!("\n{}\n", escaped(line)));
    }
    out
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
        let of = |format| write(&sheet(), &serde_json::json!({ "a": 1 }), format);
        assert!(of(Format::Text).lines().all(|line| line.width() <= 80));
        assert!(of(Format::Markdown).contains("a\\|b"));
        assert!(of(Format::Csv).contains("H,a|b,ml,'=1"));
        assert_eq!(of(Format::Json), "{\n  \"a\": 1\n}\n");
    }
}
