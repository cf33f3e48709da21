//! Documents as text for people: as wide as the terminal, plain characters, the same with and without colour.

mod bar;
mod page;
mod plot;
mod table;

use super::Look;
use super::document::{Block, Document, Section, Tone};
use page::Page;

#[cfg(test)]
pub use page::{uncoloured, width};

/// How far the blocks of a section stand in.
const INDENT: usize = 2;

/// A document as text.
pub fn write(document: &Document, look: Look) -> String {
    let mut page = Page::new(look);
    page.heading(&document.title);
    for section in &document.sections {
        self::section(&mut page, section);
    }
    if let Some(more) = &document.more {
        page.gap();
        page.paragraph(INDENT, Tone::Aside, more);
    }
    page.finish()
}

fn section(page: &mut Page, section: &Section) {
    if section.blocks.is_empty() {
        return;
    }
    page.gap();
    if let Some(heading) = &section.heading {
        page.paragraph(0, Tone::Strong, heading);
    }
    for (at, block) in section.blocks.iter().enumerate() {
        if at.checked_sub(1).is_some_and(|before| apart(&section.blocks[before], block)) {
            page.gap();
        }
        self::block(page, block);
    }
}

/// Whether there is an empty line between two blocks: around tables and curves, and after what stops everything.
fn apart(before: &Block, block: &Block) -> bool {
    let drawn = |block: &Block| matches!(block, Block::Table(_) | Block::Plot(_));
    drawn(before) || drawn(block) || matches!(before, Block::Sentence(said) if said.tone == Tone::Alarm)
}

fn block(page: &mut Page, block: &Block) {
    match block {
        // What stops everything stands at the edge.
        Block::Sentence(said) if said.tone == Tone::Alarm => page.paragraph(0, Tone::Alarm, &said.text),
        Block::Sentence(said) => page.paragraph(INDENT, said.tone, &said.text),
        Block::Items(items) => items.iter().for_each(|item| page.item(item)),
        Block::Caution(text) => page.item(text),
        Block::Table(table) => table::write(page, table, INDENT),
        Block::Plot(plot) => plot::write(page, plot),
    }
}

/// A curve alone.
pub fn plot(plot: &super::document::Plot, look: Look) -> String {
    let mut page = Page::new(look);
    plot::write(&mut page, plot);
    page.finish()
}
