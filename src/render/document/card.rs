//! The spec as one writes it on a card: amounts, ingredients, method.

use super::Kind::{Figure, Words};
use super::{Block, Cell, Row, Table, Tone, columns};
use crate::answer::{Frame, Poured, SpecLine};
use crate::quantity::{UnitSystem, number};
use crate::render::words;

/// The pours, and what to do with them.
pub fn blocks(frame: &Frame, spec: &SpecLine, units: UnitSystem) -> Vec<Block> {
    let table = Block::Table(pours(frame, spec, units));
    let mut blocks = vec![table, Block::plain(words::method_sentences(frame, spec, units))];
    blocks.extend(words::notes_sentence(spec).map(Block::plain));
    blocks
}

/// What is poured.
pub fn pours(frame: &Frame, spec: &SpecLine, units: UnitSystem) -> Table {
    let priced = spec.pours.iter().any(|p| p.cost.is_some());
    let row = |pour: &Poured| {
        let (amount, unit) = words::amount_digits(pour.amount(), units);
        let cost = match pour.cost {
            Some(cost) => Cell::amount(number::fixed(cost, 2), &frame.currency, Tone::Aside),
            None if priced => Cell::toned("no price", Tone::Aside),
            None => Cell::Nothing,
        };
        Row::plain(vec![Cell::amount(amount, unit, Tone::Strong), Cell::words(&pour.ingredient), cost])
    };
    let cost = if priced { "cost" } else { "" };
    let columns = columns([(Figure, "amount"), (Words, "ingredient"), (Figure, cost)]);
    Table::spoken(columns, spec.pours.iter().map(row))
}
