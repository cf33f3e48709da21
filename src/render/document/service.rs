//! How sure: a simulated service, and what certainty costs.

use super::Kind::{Figure, Words};
use super::{Block, Cell, Part, Row, Section, Table, Tone, columns};
use crate::answer::Frame;
use crate::explain::variation::{Service, TargetService};
use crate::render::words;

/// The sentence, a line a target, and how the check was made.
pub fn section(frame: &Frame, service: &Service, certainty: Vec<String>) -> Section {
    let mut blocks = vec![Block::said(words::service_sentence(frame, service), Tone::Strong)];
    blocks.extend(targets(frame, service).block());
    blocks.extend(certainty.into_iter().map(Block::plain));
    blocks.extend(words::service_basis(service).into_iter().map(|text| Block::said(text, Tone::Aside)));
    Section::new(Part::Service, "In service", blocks)
}

fn targets(frame: &Frame, service: &Service) -> Table {
    let least = service.targets.iter().map(|t| t.within).fold(1.0, f64::min);
    // The share that stands out is the smallest.
    let missed = |target: &TargetService| target.within < 1.0 && target.within <= least;
    let row = |target: &TargetService| {
        let tone = if missed(target) { Tone::Edge } else { Tone::Plain };
        Row::plain(vec![
            Cell::words(words::label(frame, &target.target)),
            Cell::toned(words::share_words(target.within), tone),
            Cell::toned(words::varies_with(target), Tone::Aside),
        ])
    };
    let columns = columns([(Words, ""), (Figure, "within"), (Words, "varies most with")]);
    Table::headed(columns, service.targets.iter().map(row))
}
