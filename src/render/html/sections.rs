//! Sections of a document as parts of a page.

use maud::{Markup, html};

use super::fill::Palette;
use super::lists;
use super::page::Part;
use super::table::table;
use crate::render::document::{self, Block, Document};

/// What stands over a section that has no heading.
const BARE: &str = "How sure it is";

/// The sections as parts, each under its heading: without those that a page draws as pictures, and without what its head
/// has said.
pub fn parts(
    document: &Document,
    pictured: &[document::Part],
    said: &[String],
    palette: &Palette,
) -> Vec<Part> {
    let shown = document.sections.iter().filter(|section| !pictured.contains(&section.part));
    let told = shown.filter_map(|section| Some((section, body(&section.blocks, said, palette)?)));
    let part = |(number, (section, body)): (usize, (&document::Section, Markup))| {
        Part::new(format!("part-{}", number + 1), section.heading.as_deref().unwrap_or(BARE), body)
    };
    told.enumerate().map(part).collect()
}

/// Tables, and between them sentences one under the other; nothing where all of it was said.
pub fn body(blocks: &[Block], said: &[String], palette: &Palette) -> Option<Markup> {
    let told = |block: &&Block| match block {
        Block::Sentence(sentence) => said.iter().any(|text| text.contains(&sentence.text)),
        Block::Items(items) => items.is_empty(),
        Block::Plot(_) => true,
        Block::Table(_) | Block::Caution(_) => false,
    };
    let left: Vec<&Block> = blocks.iter().filter(|block| !told(block)).collect();
    let runs = left.chunk_by(|a, b| ![a, b].iter().any(|block| matches!(block, Block::Table(_))));
    (!left.is_empty()).then(|| {
        html! {
            @for run in runs {
                @if let [Block::Table(found)] = run { (table(found, palette)) }
                @else { (lists::sentences(&run.iter().flat_map(|block| sentences(block)).collect::<Vec<_>>())) }
            }
        }
    })
}

fn sentences(block: &Block) -> Vec<String> {
    match block {
        Block::Sentence(sentence) => vec![sentence.text.clone()],
        Block::Caution(text) => vec![text.clone()],
        Block::Items(items) => items.clone(),
        Block::Table(_) | Block::Plot(_) => vec![],
    }
}
