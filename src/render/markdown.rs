//! Documents as Markdown: a card and tables that print.

use super::document::{Block, Cell, Column, Document, Kind, Section, Table, Tone};
use super::text;
use super::{Colour, Look};

/// A document as Markdown.
pub fn write(document: &Document) -> String {
    let sections = document.sections.iter().filter(|s| !s.blocks.is_empty()).map(section);
    let parts = std::iter::once(format!("# {}\n", escaped(&document.title))).chain(sections);
    parts.collect::<Vec<_>>().join("\n")
}

fn section(section: &Section) -> String {
    let heading = section.heading.iter().map(|heading| format!("## {}\n", escaped(heading)));
    let mut parts: Vec<String> = heading.collect();
    let mut cautions = String::new();
    for block in &section.blocks {
        match block {
            Block::Caution(text) => cautions += &item(text),
            Block::Sentence(said) if matches!(said.tone, Tone::Strong | Tone::Alarm) => {
                parts.push(format!("**{}**\n", escaped(&said.text)));
            }
            Block::Sentence(said) => parts.push(format!("{}\n", escaped(&said.text))),
            Block::Items(items) => parts.push(items.iter().map(|text| item(text)).collect()),
            Block::Table(table) => parts.push(self::table(table)),
            Block::Plot(plot) => parts.push(format!(
                "```text\n{}```\n",
                text::plot(plot, Look { colour: Colour::Plain, ..Look::default() })
            )),
        }
    }
    if !cautions.is_empty() {
        parts.push(cautions);
    }
    parts.join("\n")
}

fn item(text: &str) -> String {
    format!("- {}\n", escaped(text))
}

/// A table; columns in which nothing stands are left out.
fn table(table: &Table) -> String {
    let filled = |at: &usize| {
        let cells = table.rows.iter().filter_map(|row| row.cells.get(*at));
        cells.into_iter().any(|cell| *cell != Cell::Nothing)
    };
    let shown: Vec<usize> = (0..table.columns.len()).filter(filled).collect();
    let line = |cells: Vec<String>| format!("| {} |\n", cells.join(" | "));
    let head = line(shown.iter().map(|at| head(&table.columns[*at])).collect());
    let rule = shown.iter().map(|at| match table.columns[*at].kind {
        Kind::Figure => "--:".to_owned(),
        Kind::Short | Kind::Words | Kind::Range => ":--".to_owned(),
    });
    let rule = line(rule.collect());
    let rows = table.rows.iter().map(|row| {
        line(
            shown
                .iter()
                .map(|at| row.cells.get(*at).map_or_else(String::new, |cell| escaped(&cell.text())))
                .collect(),
        )
    });
    [head, rule].into_iter().chain(rows).collect()
}

fn head(column: &Column) -> String {
    escaped(format!("{} {}", column.head, column.unit).trim())
}

/// Text in which nothing is markup: what comes from a brief is shown as it is written.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::new();
    for letter in text.chars() {
        match letter {
            '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '|' | '#' | '~' | '!' | '&' => {
                out.extend(['\\', letter]);
            }
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_no_markup() {
        assert_eq!(escaped("<b>*x*|[y](z)\n# q"), "\\<b\\>\\*x\\*\\|\\[y\\](z) \\# q");
    }
}
