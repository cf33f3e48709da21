//! An answer as a document: the same blocks, in the same order, for every format that people read.
//!
//! A builder a section makes blocks of a typed answer; the sentences stand in [`super::words`]. The formats
//! draw blocks and say nothing of their own.

mod batch;
mod block;
mod brings;
mod calibration;
mod card;
mod check;
mod conflict;
mod figures;
mod flight;
mod hangs;
mod larder;
mod lessons;
mod menu;
mod others;
mod part;
mod screen;
mod service;
mod spec;
mod steadier;
mod substitutes;
mod sweep;

pub use batch::batch;
pub use block::{
    Block, Cell, Column, Document, Heads, Kind, Place, Plot, Point, Range, Row, Section, Table, Tone,
};
pub use calibration::calibration;
pub use check::check;
pub use flight::flight;
pub use larder::larder;
pub use lessons::lessons;
pub use menu::menu;
pub use part::{Extent, Part};
pub use spec::spec;
pub use substitutes::substitutes;
pub use sweep::sweep;

/// Keeps what was asked for: of the whole document one part, where only that is wanted.
fn only(mut document: Document, part: Part) -> Document {
    let has = |document: &Document| document.sections.iter().any(|s| s.part == part && !s.blocks.is_empty());
    if has(&document) {
        document.sections.retain(|section| section.part == part);
    } else {
        let mut there: Vec<&str> = document.sections.iter().map(|s| s.part.word()).collect();
        there.dedup();
        let text =
            format!("Nothing to say of {} here; there is {}.", part.word(), super::words::listed(&there));
        document.sections = vec![Section::bare(part, vec![Block::plain(text)])];
    }
    document.more = None;
    document
}

/// What was asked: so that the answer can be had again.
fn asked(asked: Option<&crate::answer::Asked>) -> Option<Section> {
    let text = super::words::asked(asked?);
    Some(Section::bare(Part::Asked, vec![Block::said(text, Tone::Aside)]))
}

/// What asks for care, one by one.
fn mind(cautions: &[String]) -> Option<Section> {
    let blocks: Vec<Block> = cautions.iter().cloned().map(Block::Caution).collect();
    (!blocks.is_empty()).then(|| Section::new(Part::Mind, "Mind", blocks))
}
