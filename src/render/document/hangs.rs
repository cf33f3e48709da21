//! What the answer hangs on: limits, what is behind them, prices, and who is in play.

use super::{Block, Cell, Column, Heads, Kind, Part, Row, Section, Table, Tone};
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
    let rows: Vec<Row> = words::limit_rows(answer, found, units)
        .into_iter()
        .map(|r| {
            Row::plain(vec![
                Cell::words(r.name),
                Cell::figure(r.tighter),
                Cell::figure(r.looser),
                Cell::words(r.unit),
                Cell::words(r.within),
            ])
        })
        .collect();
    if blocks.is_empty() {
        return None;
    }
    if !rows.is_empty() {
        let columns = vec![
            Column::of(Kind::Words, ""),
            Column::of(Kind::Figure, "tighter"),
            Column::of(Kind::Figure, "looser"),
            Column::of(Kind::Short, ""),
            Column::of(Kind::Short, "holds"),
        ];
        blocks.push(Block::Table(Table { columns, rows, heads: Heads::Shown }));
        blocks.push(Block::said(words::LIMITS_NOTE, Tone::Aside));
    }
    Some(Section::new(Part::Limits, "What it hangs on", blocks))
}

fn looser(answer: &SpecAnswer, best: &SpecLine, units: UnitSystem) -> Option<Section> {
    let shown = answer.next.iter().filter(|n| words::shows(answer, best.score, n, units));
    let items: Vec<String> = shown.map(|n| words::next(answer, best.score, n, units)).collect();
    let heading = "What the nearest looser limit would bring, in pours";
    (!items.is_empty()).then(|| Section::new(Part::Looser, heading, vec![Block::Items(items)]))
}

/// What prices would change.
fn prices(found: &Sensitivity) -> Option<Section> {
    let rows: Vec<Row> = words::price_rows(found)
        .into_iter()
        .map(|r| Row::plain([r.name, r.now, r.poured, r.free].map(Cell::words).to_vec()))
        .collect();
    if rows.is_empty() {
        return None;
    }
    let columns = vec![
        Column::of(Kind::Words, ""),
        Column::of(Kind::Short, "now"),
        Column::of(Kind::Short, "the spec above"),
        Column::of(Kind::Short, "any amounts"),
    ];
    let mut blocks = vec![Block::Table(Table { columns, rows, heads: Heads::Shown })];
    blocks.push(Block::said(words::PRICES_NOTE, Tone::Aside));
    blocks.extend(words::never_sentence(found).map(Block::plain));
    Some(Section::new(Part::Prices, "What prices would change", blocks))
}

fn in_play(answer: &SpecAnswer) -> Option<Section> {
    let sentences = words::in_play_sentences(answer, answer.in_play.as_ref()?);
    Some(Section::new(Part::Play, "Ingredients in play", sentences.into_iter().map(Block::plain).collect()))
}
