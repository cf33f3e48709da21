//! What each ingredient brings, and what moved against the reference: tables over the same figures.

use super::Kind::Words;
use super::figures::{cells, heads};
use super::{Block, Cell, Column, Row, Section, Table, Tone};
use crate::answer::{Frame, Gauge, SpecLine};
use crate::explain::contribution::Contribution;
use crate::quantity::UnitSystem;
use crate::render::words;

/// What each pour and the ice bring, their sum, and how sweet the sugar is.
pub fn section(frame: &Frame, spec: &SpecLine, units: UnitSystem) -> Section {
    let gauges = words::brought(frame, spec);
    let mut rows: Vec<Row> = spec
        .contributions
        .iter()
        .map(|line| shares(&line.ingredient, line, Some(spec), &gauges, units, Tone::Plain))
        .collect();
    rows.push(served("in the glass", spec, &gauges, units, Tone::Strong));
    let mut blocks = vec![Block::Table(table(&gauges, rows, units))];
    blocks.extend(words::sweetness_sentence(spec).map(Block::plain));
    Section::new(super::Part::Brings, "What each ingredient brings", blocks)
}

/// The reference, this spec, by how much every figure moved, and what came and went brings.
pub fn against(frame: &Frame, reference: &SpecLine, spec: &SpecLine, units: UnitSystem) -> Section {
    let gauges = words::brought(frame, spec);
    let moved = gauges.iter().map(|gauge| {
        let (before, after) = (reference.served.get(&gauge.key), spec.served.get(&gauge.key));
        Cell::figure(words::moved(gauge, before, after, units))
    });
    let mut rows = vec![
        served("the reference", reference, &gauges, units, Tone::Plain),
        served("this spec", spec, &gauges, units, Tone::Strong),
        Row::plain(std::iter::once(Cell::words("moved")).chain(moved).collect()),
    ];
    let turned = words::came_and_went(reference, spec, units);
    rows.extend(turned.iter().map(|(name, line)| shares(name, line, None, &gauges, units, Tone::Aside)));
    let table = Block::Table(table(&gauges, rows, units));
    Section::new(super::Part::Reference, "Beside the reference", vec![table])
}

/// A row of shares, shaded by how much of `whole` each is.
fn shares(
    name: &str,
    line: &Contribution,
    whole: Option<&SpecLine>,
    gauges: &[&Gauge],
    units: UnitSystem,
    tone: Tone,
) -> Row {
    let cells = gauges.iter().map(|g| {
        let (share, of) = (line.share.get(&g.key), whole.map_or(f64::NAN, |spec| spec.served.get(&g.key)));
        Cell::figure(words::share(g, share, units)).of_whole(share / of)
    });
    Row { tone, cells: std::iter::once(Cell::words(name)).chain(cells).collect() }
}

fn served(name: &str, spec: &SpecLine, gauges: &[&Gauge], units: UnitSystem, tone: Tone) -> Row {
    Row { tone, cells: std::iter::once(Cell::words(name)).chain(cells(gauges, spec, units)).collect() }
}

fn table(gauges: &[&Gauge], rows: Vec<Row>, units: UnitSystem) -> Table {
    Table::headed(std::iter::once(Column::of(Words, "")).chain(heads(gauges, units)).collect(), rows)
}
