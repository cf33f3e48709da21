//! The answer to a brief.

use super::{
    Block, Document, Part, Section, Told, Tone, brings, card, conflict, figures, hangs, others, screen,
    service, steadier, whole,
};
use crate::answer::{SpecAnswer, SpecLine};
use crate::quantity::UnitSystem;
use crate::render::words;
use crate::solve::Ending;

impl Told for SpecAnswer {
    fn full(&self, units: UnitSystem) -> Document {
        let sections = match &self.best {
            Some(best) if self.outcome != Ending::Conflict => found(self, best, units),
            _ => without(self, units),
        };
        whole(&self.title, sections, &self.cautions, self.asked.as_ref())
    }

    /// What there is little to say of is shown whole.
    fn screen(&self, units: UnitSystem) -> Document {
        let full = self.full(units);
        let sections = match (&self.best, &self.conflict) {
            (Some(best), _) if self.outcome != Ending::Conflict => screen::found(self, best, units),
            (_, Some(found)) => screen::unmet(self, found, units),
            _ => return full,
        };
        screen::with_more(sections, &full)
    }
}

/// The card, what is in the glass, how sure, the alternatives, what is proved, and what it hangs on.
fn found(answer: &SpecAnswer, best: &SpecLine, units: UnitSystem) -> Vec<Section> {
    let frame = &answer.frame;
    let mut sections = vec![first(answer, best, units)];
    sections.extend(swap(answer, units));
    sections.push(Section::new(Part::Glass, "In the glass", figures::blocks(frame, best, units)));
    sections.push(brings::section(frame, best, units));
    if let Some(reference) = answer.reference.as_ref().filter(|_| !best.change.is_empty()) {
        sections.push(brings::against(frame, reference, best, units));
    }
    sections.extend(answer.service.as_ref().map(|found| {
        let certainty = answer.certainty.as_ref();
        let certainty = certainty.map_or_else(Vec::new, |c| words::certainty_sentences(answer, c, units));
        service::section(frame, found, certainty)
    }));
    sections.extend(steadier::section(answer, units));
    sections.extend(others::section(answer, best, units));
    sections.extend(proof(answer, units));
    sections.extend(hangs::sections(answer, best, units));
    sections
}

/// What it pours, what that reaches, and what moved against the reference.
fn first(answer: &SpecAnswer, best: &SpecLine, units: UnitSystem) -> Section {
    let mut blocks = screen::card(answer, best, units);
    blocks.extend(words::as_good_sentence(answer).map(Block::plain));
    if !best.change.is_empty() {
        blocks.push(Block::plain(words::against(best, units)));
    }
    Section::bare(Part::Card, blocks)
}

/// What was swapped, where anything was.
fn swap(answer: &SpecAnswer, units: UnitSystem) -> Option<Section> {
    let sentences = words::swap_sentences(&answer.frame, answer.swap.as_ref()?, units);
    Some(Section::new(Part::Swap, "The swap", sentences.into_iter().map(Block::plain).collect()))
}

/// What is proved, and what steps and counts cost.
fn proof(answer: &SpecAnswer, units: UnitSystem) -> Option<Section> {
    let proved = (answer.outcome != Ending::Stopped).then(|| words::outcome_sentences(answer, units));
    let blocks: Vec<Block> =
        proved.into_iter().chain(words::without_steps(answer, units)).map(Block::plain).collect();
    (!blocks.is_empty()).then(|| Section::bare(Part::Proof, blocks))
}

/// Why there is no spec, and what free amounts would give.
fn without(answer: &SpecAnswer, units: UnitSystem) -> Vec<Section> {
    let alarm = Block::said(words::outcome_sentences(answer, units), Tone::Alarm);
    let mut sections = vec![Section::bare(Part::Conflict, vec![alarm])];
    sections.extend(swap(answer, units));
    let certainty = answer.certainty.iter().flat_map(|c| words::certainty_sentences(answer, c, units));
    let mut said: Vec<Block> = certainty.map(Block::plain).collect();
    if let Some(found) = &answer.conflict {
        said.extend(conflict::clash(answer, found, units));
    }
    sections.push(Section::bare(Part::Conflict, said));
    match (&answer.conflict, &answer.unrounded) {
        (Some(found), _) => {
            sections.extend(conflict::way_out(answer, found, units));
            sections.extend(conflict::rest(answer, found, units));
        }
        (None, Some(free)) => {
            let blocks = card::blocks(&answer.frame, free, units);
            sections.push(Section::new(Part::Card, "With free amounts", blocks));
            sections.push(Section::bare(Part::Glass, figures::blocks(&answer.frame, free, units)));
        }
        (None, None) => {
            let asked = vec![figures::asked(&answer.frame, units)];
            sections.push(Section::new(Part::Glass, "What was asked for", asked));
        }
    }
    sections
}
