//! What the answer hangs on: limits, what is behind them, prices, and who is in play.

use super::Kind::{Figure, Short, Words};
use super::{Block, Cell, Part, Row, Section, Table, Tone, columns};
use crate::answer::{SpecAnswer, SpecLine};
use crate::explain::sensitivity::Sensitivity;
use crate::quantity::UnitSystem;
use crate::render::words;

/// All of it, a section each; nothing of what is not known.
pub fn sections(answer: &SpecAnswer, best: &SpecLine, units: UnitSystem) -> Vec<Section> {
    let found = answer.sensitivity.as_ref();
    [
        found.and_then(|found| limits(answer, found, units)),
        looser(answer, best, units),
        found.and_then(prices),
        in_play(answer),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// What costs the most, what costs nothing, which price comes first; and every limit that costs something.
fn limits(answer: &SpecAnswer, found: &Sensitivity, units: UnitSystem) -> Option<Section> {
    let mut blocks: Vec<Block> =
        words::hangs_sentences(answer, found, units).into_iter().map(Block::plain).collect();
    if blocks.is_empty() {
        return None;
    }
    let row = |[name, tighter, looser, unit, within]: [String; 5]| {
        let figures = [tighter, looser].map(Cell::figure);
        let told = [unit, within].map(Cell::words);
        Row::plain(std::iter::once(Cell::words(name)).chain(figures).chain(told).collect())
    };
    let heads = [(Words, ""), (Figure, "tighter"), (Figure, "looser"), (Short, ""), (Short, "holds")];
    let rows = words::limit_rows(answer, found, units).into_iter().map(row);
    if let Some(table) = Table::headed(columns(heads), rows).block() {
        blocks.extend([table, Block::said(words::LIMITS_NOTE, Tone::Aside)]);
    }
    Some(Section::new(Part::Limits, "What it hangs on", blocks))
}

fn looser(answer: &SpecAnswer, best: &SpecLine, units: UnitSystem) -> Option<Section> {
    let shown = answer.next.iter().filter(|n| words::shows(answer, best.score, n, units));
    let items = shown.map(|n| words::next(answer, best.score, n, units)).collect();
    Section::items(Part::Looser, "What the nearest looser limit would bring, in pours", items)
}

/// What prices would change.
fn prices(found: &Sensitivity) -> Option<Section> {
    let heads = [(Words, ""), (Short, "now"), (Short, "the spec above"), (Short, "any amounts")];
    let rows = words::price_rows(found).into_iter().map(|row| Row::plain(row.map(Cell::words).to_vec()));
    let table = Table::headed(columns(heads), rows).block()?;
    let mut blocks = vec![table, Block::said(words::PRICES_NOTE, Tone::Aside)];
    blocks.extend(words::never_sentence(found).map(Block::plain));
    Some(Section::new(Part::Prices, "What prices would change", blocks))
}

fn in_play(answer: &SpecAnswer) -> Option<Section> {
    let sentences = words::in_play_sentences(answer, answer.in_play.as_ref()?);
    Some(Section::new(Part::Play, "Ingredients in play", sentences.into_iter().map(Block::plain).collect()))
}
