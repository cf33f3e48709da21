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

pub use batch::into_vessel;
pub use block::{
    Block, Cell, Column, Document, Heads, Kind, Place, Plot, Point, Range, Row, Section, Table, Tone,
};
pub use card::pours;
pub use part::{Extent, Part};

use crate::answer::Asked;
use crate::quantity::UnitSystem;

/// An answer that people read.
pub trait Told {
    /// All of it.
    fn full(&self, units: UnitSystem) -> Document;

    /// What of it fits on a screen: all, where that is little.
    fn screen(&self, units: UnitSystem) -> Document {
        self.full(units)
    }
}

/// As much of an answer as is asked for.
pub fn of(answer: &impl Told, extent: Extent, units: UnitSystem) -> Document {
    match extent {
        Extent::Screen => answer.screen(units),
        Extent::Full => answer.full(units),
        Extent::Only(part) => only(answer.full(units), part),
    }
}

/// Of a whole document one part.
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

/// A whole document: its sections, what asks for care, one by one, and what was asked, so that the answer can be had
/// again.
fn whole(title: &str, mut sections: Vec<Section>, cautions: &[String], asked: Option<&Asked>) -> Document {
    sections.extend(mind(cautions));
    let text = asked.map(super::words::asked);
    sections.extend(text.map(|text| Section::bare(Part::Asked, vec![Block::said(text, Tone::Aside)])));
    Document { title: title.to_owned(), sections, more: None }
}

fn mind(cautions: &[String]) -> Option<Section> {
    let blocks: Vec<Block> = cautions.iter().cloned().map(Block::Caution).collect();
    (!blocks.is_empty()).then(|| Section::new(Part::Mind, "Mind", blocks))
}

/// The columns of a table: how each is set, and what stands over it.
pub fn columns<const N: usize>(all: [(Kind, &str); N]) -> Vec<Column> {
    all.map(|(kind, head)| Column::of(kind, head)).to_vec()
}
