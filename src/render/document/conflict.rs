//! Why there is no spec: what clashes, the smallest change of all with its drink, and every other way out.

use super::{Block, Part, Section, Tone, card, figures};
use crate::answer::{ConflictLine, SpecAnswer};
use crate::quantity::{UnitSystem, number};
use crate::render::words;

/// So many conflicts are listed; JSON has them all.
const CORES: usize = 6;

/// What clashes, in a sentence each.
pub fn clash(answer: &SpecAnswer, conflict: &ConflictLine, units: UnitSystem) -> Vec<Block> {
    let frame = &answer.frame;
    let said = words::clash_sentences(frame, conflict, units);
    let said = said.into_iter().map(|text| Block::said(text, Tone::Strong));
    said.chain(words::steps_sentence(conflict, units).map(Block::plain)).collect()
}

/// The smallest change in all, and the drink that it gives, whole.
pub fn way_out(answer: &SpecAnswer, conflict: &ConflictLine, units: UnitSystem) -> Vec<Section> {
    let Some(spec) = &conflict.spec else { return vec![] };
    let drink = card::blocks(&answer.frame, spec, units);
    let mut sections = vec![
        smallest(answer, conflict, units),
        Section::new(Part::Card, THEN, drink),
        Section::bare(Part::Glass, vec![Block::Table(figures::table(&answer.frame, spec, units))]),
    ];
    sections.extend(others(others_said(answer, conflict, units)));
    sections
}

/// The smallest change in all with what it pours, and what else there is, on a screen: a line each.
pub fn ways_out(answer: &SpecAnswer, conflict: &ConflictLine, units: UnitSystem) -> Vec<Section> {
    let alone = words::alone(answer, conflict, units);
    let Some(spec) = &conflict.spec else {
        let alone = alone.map(|text| Section::bare(Part::Conflict, vec![Block::plain(text)]));
        return alone.into_iter().collect();
    };
    let pours = Block::Table(card::pours(&answer.frame, spec, units));
    let mut sections = vec![smallest(answer, conflict, units), Section::new(Part::Card, THEN, vec![pours])];
    let mut said = others_said(answer, conflict, units);
    said.extend(alone);
    sections.extend(others(said));
    sections
}

/// What stands over the drink of the smallest change.
const THEN: &str = "The best spec then";

fn smallest(answer: &SpecAnswer, conflict: &ConflictLine, units: UnitSystem) -> Section {
    let heading = format!("The smallest change in all ({})", number::percent(conflict.total, 0));
    Section::new(
        Part::Conflict,
        heading,
        vec![Block::Items(words::needs(&answer.frame, &conflict.relax, units))],
    )
}

fn others_said(answer: &SpecAnswer, conflict: &ConflictLine, units: UnitSystem) -> Vec<String> {
    conflict.routes.iter().skip(1).map(|route| words::route(&answer.frame, route, units)).collect()
}

fn others(said: Vec<String>) -> Option<Section> {
    Section::items(Part::Conflict, "Other ways out", said)
}

/// Every set that does not go together, and every single change that would be enough.
pub fn rest(answer: &SpecAnswer, conflict: &ConflictLine, units: UnitSystem) -> Vec<Section> {
    let mut enough = vec![];
    if conflict.enough.is_empty() {
        enough.push(Block::plain("None: no single change was found to be enough."));
    } else {
        enough.push(Block::Items(words::needs(&answer.frame, &conflict.enough, units)));
    }
    if !conflict.proved {
        enough.push(Block::said("Not everything was searched: smaller changes may do.", Tone::Aside));
    }
    let heading = "Any one of these changes alone would be enough";
    cores(answer, conflict, units)
        .into_iter()
        .chain([Section::new(Part::Conflict, heading, enough)])
        .collect()
}

fn cores(answer: &SpecAnswer, conflict: &ConflictLine, units: UnitSystem) -> Option<Section> {
    if conflict.cores.is_empty() {
        return None;
    }
    let shown = conflict.cores.iter().take(CORES);
    let items = shown.map(|core| words::core_words(&answer.frame, core, units)).collect();
    let more = conflict.cores.len().saturating_sub(CORES);
    let rest = match (more, conflict.complete) {
        (0, true) => None,
        (0, false) => Some("There may be more.".to_owned()),
        (more, _) => Some(format!("And {}.", words::counted(more, "more set"))),
    };
    let mut blocks = vec![Block::Items(items)];
    blocks.extend(rest.map(|text| Block::said(text, Tone::Aside)));
    Some(Section::new(Part::Conflict, "What does not go together", blocks))
}
