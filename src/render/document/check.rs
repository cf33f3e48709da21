//! A given spec beside the brief.

use super::{Block, Document, Part, Section, Told, Tone, brings, card, figures, screen, service, whole};
use crate::answer::{CheckAnswer, Miss, With};
use crate::quantity::UnitSystem;
use crate::render::words;

impl Told for CheckAnswer {
    fn full(&self, units: UnitSystem) -> Document {
        let (frame, spec) = (&self.frame, &self.spec);
        let sections = vec![
            first(self, units),
            Section::new(Part::Glass, "In the glass", figures::blocks(frame, spec, units)),
            brings::section(frame, spec, units),
            Section::bare(Part::Proof, verdict(self, units)),
            service::section(frame, &self.service, vec![]),
        ];
        whole(&self.title, sections, &self.cautions, self.asked.as_ref())
    }

    /// The card, the verdict and how often it holds, the figures, what to mind.
    fn screen(&self, units: UnitSystem) -> Document {
        let mut first = first(self, units);
        first.blocks.extend(verdict(self, units));
        first.blocks.extend(screen::asked(self.asked.as_ref()).map(Block::plain));
        first.blocks.push(Block::said(words::service_sentence(&self.frame, &self.service), Tone::Strong));
        let table = Block::Table(figures::table(&self.frame, &self.spec, units));
        let mut sections = vec![first, Section::bare(Part::Glass, vec![table])];
        sections.extend(screen::mind(&self.care));
        screen::with_more(sections, &self.full(units))
    }
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
