//! Rows that keep a program to the ranges of compositions on which its linear bounds rest.

use super::row::{Row, RowOrigin, less};
use super::{Column, Envelope, Model, Ranges};
use crate::brief::Side;
use crate::liquid::{Dilution, Portion, ethanol};
use crate::tolerance::LOOSE;

/// The two ends of the range of strengths before the ice, on which the melt's lines rest, and whether the
/// ice in the glass melts.
pub(super) fn range_rows(model: &Model, envelope: &Envelope, ranges: &Ranges) -> Vec<Row> {
    let mut rows: Vec<Row> = envelope
        .sign_row(ranges.heat)
        .map(|(figures, side)| Row::sided(figures, side, 0.0, RowOrigin::Range(side)))
        .into_iter()
        .collect();
    rows.extend(spirit_rows(model, envelope, ranges));
    if matches!(model.brief.serve.dilution, Dilution::Share(_)) {
        return rows;
    }
    let ethanol = model.per_unit(|c| c.portion.strength * c.portion.worked);
    let worked = model.per_unit(|c| c.portion.worked);
    let (low, high) = ranges.before;
    let row = |end: f64, side| Row::sided(less(&ethanol, end, &worked), side, 0.0, RowOrigin::Range(side));
    rows.extend([row(low * (1.0 - LOOSE), Side::Min), row(high * (1.0 + LOOSE), Side::Max)]);
    rows
}

/// The two ends of the range of spirit in the glass, on which the lines of the melt of its ice rest. The water
/// that loosens is taken: the least under the lower end, the most under the upper.
fn spirit_rows(model: &Model, envelope: &Envelope, ranges: &Ranges) -> Vec<Row> {
    if model.brief.serve.melting().glass.is_none() {
        return vec![];
    }
    let row = |end: f64, melt: &[f64], side| {
        let of = |((portion, column), melt): ((&Portion, &Column), &f64)| {
            let m = &portion.masses;
            let water = m.water * column.unit + melt * ethanol::WATER;
            m.ethanol * column.unit * (1.0 - end) - end * water
        };
        let figures = model.typical.iter().zip(&model.columns).zip(melt).map(of).collect();
        Row::sided(figures, side, 0.0, RowOrigin::Range(side))
    };
    let (low, high) = ranges.spirit;
    vec![
        row(low * (1.0 - LOOSE), &envelope.melt_low, Side::Min),
        row(high * (1.0 + LOOSE), &envelope.melt_high, Side::Max),
    ]
}
