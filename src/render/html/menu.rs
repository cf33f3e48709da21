//! A menu as a page: the same blocks that text has, as headings, tables and lists.

use maud::{Markup, html};

use super::fill::Palette;
use super::lists;
use super::page::{Heading, Page, Part, Tone};
use super::table::table;
use crate::answer::MenuAnswer;
use crate::quantity::UnitSystem;
use crate::render::document::{self, Block, Cell, Column, Extent, Section};
use crate::render::words;
use crate::solve::Ending;

/// Ids of the parts, in their order.
const SLUGS: [&str; 12] = [
    "part-1", "part-2", "part-3", "part-4", "part-5", "part-6", "part-7", "part-8", "part-9", "part-10",
    "part-11", "part-12",
];

/// The menu as a page.
pub fn page(answer: &MenuAnswer, units: UnitSystem) -> Page<'_> {
    let document = document::menu(answer, Extent::Full, units);
    let mut parts: Vec<Part> = Vec::new();
    let mut first = html! {};
    let mut slugs = SLUGS.into_iter();
    let mut said = words::menu::drinks_sentences(answer);
    said.extend(
        answer.shelf.iter().flat_map(|shelf| words::menu::shelf_sentences(shelf).into_iter().take(1)),
    );
    for section in &document.sections {
        let markup = blocks(section, &said);
        match &section.heading {
            None => first = html! { (first) (markup) },
            Some(heading) => parts.push(Part::new(slugs.next().unwrap_or("more"), heading, markup)),
        }
    }
    let all = answer.drinks.iter().all(|drink| drink.outcome == Some(Ending::Found));
    Page {
        heading: Heading {
            kind: format!("Menu of {}", words::counted(answer.drinks.len(), "drink")),
            title: &answer.title,
            said,
            tone: if all { Tone::Answered } else { Tone::Warned },
        },
        palette: Palette::of(std::iter::empty()),
        first,
        parts,
        script: None,
    }
}

/// The blocks of a section, without what the head of the page has said.
fn blocks(section: &Section, said: &[String]) -> Markup {
    let caption = section.heading.as_deref().unwrap_or("The drinks");
    html! {
        @for block in &section.blocks {
            @match block {
                Block::Sentence(sentence) if said.contains(&sentence.text) => {},
                Block::Sentence(sentence) => (lists::sentences(std::slice::from_ref(&sentence.text))),
                Block::Items(items) => (lists::sentences(items)),
                Block::Caution(text) => (lists::sentences(std::slice::from_ref(text))),
                Block::Table(found) => {
                    @let heads: Vec<String> = found.columns.iter().map(head).collect();
                    @let rows: Vec<Vec<String>> = found.rows.iter().map(|row| row.cells.iter().map(cell).collect()).collect();
                    (table(caption, &heads.iter().map(String::as_str).collect::<Vec<_>>(), &rows))
                },
                Block::Plot(_) => {},
            }
        }
    }
}

fn head(column: &Column) -> String {
    format!("{} {}", column.head, column.unit).trim().to_owned()
}

fn cell(cell: &Cell) -> String {
    match cell {
        Cell::Nothing => String::new(),
        Cell::Words(text, _) => text.clone(),
        Cell::Figure { number, unit, .. } => format!("{number} {unit}").trim_end().to_owned(),
        Cell::Range(range) => range.words.clone(),
    }
}
