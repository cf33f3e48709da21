//! A given spec beside the brief.

use super::{
    Block, Document, Extent, Part, Section, Tone, asked, brings, card, figures, mind, only, screen, service,
};
use crate::answer::{CheckAnswer, Miss, With};
use crate::quantity::UnitSystem;
use crate::render::words;

/// A given spec, measured, as much of it as is asked for.
pub fn check(answer: &CheckAnswer, extent: Extent, units: UnitSystem) -> Document {
    match extent {
        Extent::Screen => screen(answer, units),
        Extent::Full => full(answer, units),
        Extent::Only(part) => only(full(answer, units), part),
    }
}

/// The card, the verdict and how often it holds, the figures, what to mind.
fn screen(answer: &CheckAnswer, units: UnitSystem) -> Document {
    let mut first = first(answer, units);
    first.blocks.extend(verdict(answer, units));
    first.blocks.extend(screen::asked(answer.asked.as_ref()).map(Block::plain));
    first.blocks.push(Block::said(words::service_sentence(&answer.frame, &answer.service), Tone::Strong));
    let table = Block::Table(figures::table(&answer.frame, &answer.spec, units));
    let mut sections = vec![first, Section::bare(Part::Glass, vec![table])];
    sections.extend(screen::mind(&answer.care));
    let more = screen::more(&full(answer, units));
    Document { title: answer.title.clone(), sections, more: Some(more) }
}

/// Everything.
fn full(answer: &CheckAnswer, units: UnitSystem) -> Document {
    let (frame, spec) = (&answer.frame, &answer.spec);
    let mut sections = vec![
        first(answer, units),
        Section::new(Part::Glass, "In the glass", figures::blocks(frame, spec, units)),
        brings::section(frame, spec, units),
        Section::bare(Part::Proof, verdict(answer, units)),
        service::section(frame, &answer.service, vec![]),
    ];
    sections.extend(mind(&answer.cautions));
    sections.extend(asked(answer.asked.as_ref()));
    Document { title: answer.title.clone(), sections, more: None }
}

fn first(answer: &CheckAnswer, units: UnitSystem) -> Section {
    let mut blocks = card::blocks(&answer.frame, &answer.spec, units);
    if !answer.spec.change.is_empty() {
        blocks.push(Block::plain(words::against(&answer.spec, units)));
    }
    Section::bare(Part::Card, blocks)
}

/// Whether it meets the brief, and what it does not meet.
fn verdict(answer: &CheckAnswer, units: UnitSystem) -> Vec<Block> {
    let tone = if answer.meets { Tone::Good } else { Tone::Alarm };
    let verdict = Block::said(words::verdict(answer), tone);
    let untold = |miss: &&Miss| match miss {
        Miss::Rule { .. } | Miss::Target { with: With::Worst, .. } => true,
        // What the typical composition misses stands in the table above.
        Miss::Target { with: With::Typical, .. } => false,
    };
    let misses = answer.misses.iter().filter(untold);
    let items: Vec<String> = misses.map(|miss| words::miss(&answer.frame, miss, units)).collect();
    let items = (!items.is_empty()).then_some(Block::Items(items));
    let nearest = (!answer.meets).then(|| Block::plain(words::mended(answer, units)));
    std::iter::once(verdict).chain(items).chain(nearest).collect()
}
