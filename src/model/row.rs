//! Rows over linear bounds of the physics.

use super::{Envelope, Gauge, Something};
use crate::brief::{Limit, Side};

/// Which limit a row speaks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RowOrigin {
    /// The model's limit of this index.
    Limit(usize),
    /// Something is poured at all, or something acid or sweet.
    Something(Something),
    /// One side of the brief's proportion of this index.
    Proportion(usize, Side),
    /// The model's cap of this index.
    ObjectiveBound(usize),
    /// The objective's soft limit of this index.
    Soft(usize),
    /// At least so many of the group of this index.
    AtLeast(usize),
    /// At most so many of the group of this index.
    AtMost(usize),
    /// The end of the range of strengths before the ice.
    Range(Side),
    /// The note of this index, of the objective or of a cap.
    Note(usize),
}

/// One row: `low ≤ Σ coefficient · segment ≤ high`.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// A figure a segment.
    pub coefficients: Vec<f64>,
    /// Lower bound; may be minus infinity.
    pub low: f64,
    /// Upper bound; may be infinity.
    pub high: f64,
    /// Whose it is.
    pub origin: RowOrigin,
}

impl Row {
    /// A row bounded from one side.
    pub(super) fn sided(coefficients: Vec<f64>, side: Side, at: f64, origin: RowOrigin) -> Self {
        let (low, high) = match side {
            Side::Min => (at, f64::INFINITY),
            Side::Max => (f64::NEG_INFINITY, at),
        };
        Self { coefficients, low, high, origin }
    }

    /// The same with so much room kept free at either bound.
    pub(super) fn narrowed(self, room: f64) -> Self {
        Self { low: self.low + room, high: self.high - room, ..self }
    }
}

/// `a - factor·b`, term by term.
pub(super) fn less(a: &[f64], factor: f64, b: &[f64]) -> Vec<f64> {
    a.iter().zip(b).map(|(a, b)| a - factor * b).collect()
}

/// One limit as a row that no spec within the ranges breaks if it meets the limit: wherever the
/// physics is between two lines, the line that loosens is taken.
pub(super) fn limit_row(
    gauge: &Gauge,
    limit: &Limit,
    envelope: &Envelope,
    loose: f64,
    origin: RowOrigin,
) -> Row {
    let side = limit.side;
    let at = match side {
        Side::Min => limit.value - loose * limit.value.abs(),
        Side::Max => limit.value + loose * limit.value.abs(),
    };
    let plain = |low: &[f64], high: &[f64]| {
        let line = if side == Side::Min { high } else { low };
        Row::sided(line.to_vec(), side, at, origin)
    };
    let ratio = |sum: &[f64], low: &[f64], high: &[f64]| {
        let over = if side == Side::Min { low } else { high };
        Row::sided(less(sum, at, over), side, 0.0, origin)
    };
    match gauge {
        Gauge::Sum(sum) => plain(sum, sum),
        Gauge::Volume => plain(&envelope.volume_low, &envelope.volume_high),
        Gauge::Melt => plain(&envelope.melt_low, &envelope.melt_high),
        Gauge::Level => plain(&envelope.level_low, &envelope.level_high),
        Gauge::PerVolume(sum) => ratio(sum, &envelope.volume_low, &envelope.volume_high),
        Gauge::PerSum(sum, over) => ratio(sum, over, over),
    }
}
