//! Every block of a document stands in every format for people: nothing is said in one and missing in another.

use super::{answer, check, fixture};
use crate::render::document::{self, Block, Cell, Column, Document, Extent, Part, Row, Section, Table};
use crate::render::{Format, Look, markdown, small, text};

/// The text of a cell as a reader finds it.
fn read(cell: &Cell) -> Vec<String> {
    match cell {
        Cell::Nothing => vec![],
        Cell::Words(text, _) => vec![text.clone()],
        Cell::Figure { number, unit, .. } => vec![number.clone(), unit.clone()],
        Cell::Range(range) => [&range.min, &range.max].into_iter().flatten().cloned().collect(),
    }
}

/// Everything that a block says.
fn said(block: &Block) -> Vec<String> {
    match block {
        Block::Sentence(said) => vec![said.text.clone()],
        Block::Caution(text) => vec![text.clone()],
        Block::Items(items) => items.clone(),
        Block::Table(table) => table.rows.iter().flat_map(|row| &row.cells).flat_map(read).collect(),
        Block::Plot(plot) => plot.ends.iter().chain(&plot.heights).chain(&plot.legend).cloned().collect(),
    }
}

/// A text in which only the words count, not how they are set.
fn bare(text: &str) -> String {
    let plain = text.replace('\\', "");
    plain
        .split(|c: char| c.is_whitespace() || c == '|')
        .filter(|w| !w.is_empty())
        .collect::<Vec<_>>()
        .join(" ")
}

/// How many blocks of each kind were looked for.
fn looked_for(document: &Document, formats: &[(&str, String)]) -> [usize; 5] {
    let mut counts = [0; 5];
    for section in &document.sections {
        for block in &section.blocks {
            counts[match block {
                Block::Sentence(_) => 0,
                Block::Items(_) => 1,
                Block::Table(_) => 2,
                Block::Plot(_) => 3,
                Block::Caution(_) => 4,
            }] += 1;
            for (format, written) in formats {
                // A cell of a table may be broken over lines, with its neighbours between them.
                let whole = !matches!(block, Block::Table(_));
                for text in said(block) {
                    let words: Vec<String> = if whole { vec![bare(&text)] } else { words(&text) };
                    for word in words {
                        assert!(written.contains(&word), "{format} lacks {word:?} of {block:?}\n{written}");
                    }
                }
            }
        }
        if let Some(heading) = &section.heading {
            formats
                .iter()
                .for_each(|(format, text)| assert!(text.contains(&bare(heading)), "{format}: {heading}"));
        }
    }
    counts
}

fn words(text: &str) -> Vec<String> {
    text.split_whitespace().map(bare).collect()
}

#[test]
fn what_a_document_says_stands_in_every_format() {
    let (spec, check) = (answer(), check());
    let batch = super::batch::answer(&fixture::brief(), &super::batch::order());
    let units = crate::quantity::UnitSystem::Metric;
    let mut counts = [0; 5];
    for extent in [Extent::Screen, Extent::Full] {
        for document in [
            document::of(&spec, extent, units),
            document::of(&check, extent, units),
            document::of(&batch, extent, units),
        ] {
            let wide = Look { width: 120, ..Look::default() };
            let formats = [
                ("text", bare(&text::write(&document, Look::default()))),
                ("wide text", bare(&text::write(&document, wide))),
                ("markdown", bare(&markdown::write(&document))),
            ];
            let found = looked_for(&document, &formats);
            counts.iter_mut().zip(found).for_each(|(sum, more)| *sum += more);
        }
    }
    let [sentences, items, tables, _, cautions] = counts;
    assert!(sentences > 20 && items > 2 && tables > 12 && cautions > 5, "{counts:?}");
}

/// A small answer keeps to the width of text, escapes what Markdown would read, and hands a spreadsheet nothing to run.
#[test]
fn every_format_of_a_small_answer_is_safe() {
    let row = Row::plain(vec![Cell::words("a|b"), Cell::words("=1")]);
    let table = Table::headed(vec![Column::figures("", ""), Column::figures("ml", "")], [row]);
    let blocks = vec![Block::Table(table), Block::plain("word ".repeat(40).trim())];
    let sections = vec![Section::new(Part::Glass, "H", blocks)];
    let document = Document { title: "T".to_owned(), sections, more: None };
    let of = |format| small(&document, &serde_json::json!({ "a": 1 }), format, Look::default());
    assert!(of(Format::Text).lines().all(|line| text::width(line) <= 80));
    assert!(of(Format::Markdown).contains("a\\|b"));
    assert!(of(Format::Csv).contains("H,a|b,ml,'=1"));
    assert_eq!(of(Format::Json), "{\n  \"a\": 1\n}\n");
}
