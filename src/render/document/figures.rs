//! What is in the glass, each limited figure beside its range.

use super::{Block, Cell, Column, Kind, Place, Range, Row, Table, Tone, columns};
use crate::answer::{Frame, Gauge, SpecLine};
use crate::quantity::UnitSystem;
use crate::render::words::{self, Standing};

/// A column a gauge.
pub fn heads(gauges: &[&Gauge], units: UnitSystem) -> impl Iterator<Item = Column> {
    gauges.iter().map(move |gauge| Column::figures(&gauge.label, words::unit(gauge, units)))
}

/// What a spec measures of each gauge.
pub fn cells(gauges: &[&Gauge], spec: &SpecLine, units: UnitSystem) -> impl Iterator<Item = Cell> {
    gauges.iter().map(move |g| Cell::figure(words::figure(g, spec.served.get(&g.key), units)))
}

/// Every limited figure beside its range.
pub fn table(frame: &Frame, spec: &SpecLine, units: UnitSystem) -> Table {
    let limited = frame.gauges.iter().filter(|g| g.limited());
    let heads = [
        (Kind::Words, "in the glass"),
        (Kind::Figure, "value"),
        (Kind::Range, "asked for"),
        (Kind::Words, "margin"),
    ];
    Table::spoken(columns(heads), limited.map(|gauge| row(gauge, spec, units)))
}

fn row(gauge: &Gauge, spec: &SpecLine, units: UnitSystem) -> Row {
    let value = spec.served.get(&gauge.key);
    let nearest = words::nearest_margin(gauge, &spec.margins);
    let tone = nearest.map_or(Tone::Good, |margin| match words::standing(gauge, margin) {
        Standing::Missed | Standing::Unknown => Tone::Alarm,
        Standing::Edge => Tone::Edge,
        Standing::Inside => Tone::Good,
    });
    let margin = nearest.map_or_else(String::new, |m| words::margin_words(gauge, m, units));
    Row::plain(vec![
        Cell::words(&gauge.label),
        Cell::amount(words::figure(gauge, value, units), words::unit(gauge, units), Tone::Strong),
        Cell::Range(range(gauge, value, tone, units)),
        Cell::toned(margin, tone),
    ])
}

fn range(gauge: &Gauge, value: f64, tone: Tone, units: UnitSystem) -> Range {
    let limit = |side: Option<f64>| side.map(|limit| words::limit(gauge, limit, units));
    Range {
        min: limit(gauge.min),
        max: limit(gauge.max),
        words: words::range_words(gauge, units),
        place: place(gauge, value),
        tone,
    }
}

/// Where the value stands. An open side has no end to measure to: over a lower limit the mark is half
/// way along at twice the limit; under an upper limit the bar starts at nothing.
fn place(gauge: &Gauge, value: f64) -> Place {
    use crate::tolerance::{meets_max, meets_min};
    if value.is_nan() {
        return Place::Unknown;
    }
    if gauge.min.is_some_and(|min| !meets_min(value, min)) {
        return Place::Under;
    }
    if gauge.max.is_some_and(|max| !meets_max(value, max)) {
        return Place::Over;
    }
    let share = match (gauge.min, gauge.max) {
        (Some(min), Some(max)) if max > min => (value - min) / (max - min),
        (None, Some(max)) if max > 0.0 => value / max,
        (None, Some(_)) => 1.0,
        (Some(min), None) if min > 0.0 => 1.0 - min / value,
        _ => 0.5,
    };
    Place::Inside(share.clamp(0.0, 1.0))
}

/// The figures that nothing limits, in one sentence.
pub fn others(frame: &Frame, spec: &SpecLine, units: UnitSystem) -> Option<Block> {
    words::unlimited_sentence(frame, spec, units).map(|text| Block::said(text, Tone::Aside))
}

/// The limited figures and the others.
pub fn blocks(frame: &Frame, spec: &SpecLine, units: UnitSystem) -> Vec<Block> {
    std::iter::once(Block::Table(table(frame, spec, units))).chain(others(frame, spec, units)).collect()
}

/// What was asked for, where there is nothing in the glass.
pub fn asked(frame: &Frame, units: UnitSystem) -> Block {
    let row = |gauge: &Gauge| {
        let range = format!("{} {}", words::range_words(gauge, units), words::unit(gauge, units));
        Row::plain(vec![Cell::words(&gauge.label), Cell::words(range)])
    };
    let columns = columns([(Kind::Words, "figure"), (Kind::Words, "asked for")]);
    Block::Table(Table::spoken(columns, frame.gauges.iter().filter(|g| g.limited()).map(row)))
}
