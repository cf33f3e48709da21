//! The measures that are limited on both sides, as sums between two figures, and what a half keeps to alone.

use crate::brief::{Limit, Measure, Side};
use crate::model::{Gauge, Model, Program, RowOrigin};
use crate::tolerance::LOOSE;

/// A pad for rounding, as a share of what is added up.
const PAD: f64 = 1e-9;

/// Every measure that is limited.
pub(super) fn measures(model: &Model) -> impl Iterator<Item = Measure> {
    let mut measures: Vec<Measure> = vec![];
    for limit in &model.limits {
        if !measures.contains(&limit.measure) {
            measures.push(limit.measure);
        }
    }
    measures.into_iter()
}

/// A measure between two limits as one sum between two figures.
pub(super) struct Range {
    pub figures: Vec<f64>,
    pub low: f64,
    pub high: f64,
    /// How large its terms are.
    size: f64,
}

/// Draws ranges in to what the program as a whole allows: a score that is near its bound leaves less of them than their
/// own limits do.
pub(super) fn draw_in(model: &Model, program: &Program, ranges: &mut [Range]) {
    let wide = |range: &Range| {
        let mut figures = range.figures.clone();
        figures.resize(program.width(), 0.0);
        figures
    };
    let parts: Vec<Vec<f64>> = ranges.iter().map(wide).collect();
    let mut simplex = program.tableau(model, &parts);
    for (part, range) in ranges.iter_mut().enumerate() {
        let pad = PAD * range.size;
        if let Some(low) = simplex.end_of(part, 1.0) {
            range.low = range.low.max(low - pad);
        }
        if let Some(high) = simplex.end_of(part, -1.0) {
            range.high = range.high.min(high + pad);
        }
    }
}

impl Range {
    /// How large its terms are beside its width.
    pub fn narrow(&self) -> f64 {
        self.size / (self.high - self.low).max(f64::MIN_POSITIVE)
    }

    /// The rows of the lower and of the upper limit differ a little: the mean of both stands for them, and what each
    /// spec can lack of it is let in. Nothing where the measure is not limited on both sides.
    pub fn of(model: &Model, program: &Program, measure: Measure) -> Option<Self> {
        let (below, at_least) = tightest(model, program, measure, Side::Min)?;
        let (above, at_most) = tightest(model, program, measure, Side::Max)?;
        let count = model.columns.len();
        let figures: Vec<f64> =
            below.iter().zip(above).take(count).map(|(a, b)| f64::midpoint(*a, *b)).collect();
        let apart = below.iter().zip(above).map(|(a, b)| 0.5 * (a - b).abs());
        let per_volume = apart
            .zip(&program.envelope.volume_low)
            .map(|(apart, v)| if apart == 0.0 { 0.0 } else { apart / v.max(0.0) })
            .fold(0.0, f64::max);
        let lacks = if per_volume == 0.0 { 0.0 } else { per_volume * volume_most(model)? };
        let size = figures.iter().zip(&model.columns).map(|(f, c)| (f * c.most).abs()).fold(0.0, f64::max);
        let pad = PAD * size + lacks;
        let (low, high) = (at_least - pad, at_most + pad);
        (lacks.is_finite() && size > 0.0).then_some(Self { figures, low, high, size })
    }
}

/// The tightest limit of a measure on one side, as the program's row: its figures and its bound.
fn tightest<'p>(
    model: &Model,
    program: &'p Program,
    measure: Measure,
    side: Side,
) -> Option<(&'p [f64], f64)> {
    let own = model.limits.iter().enumerate().filter(|(_, l)| l.measure == measure && l.side == side);
    let tighter = |a: &f64, b: &f64| if side == Side::Min { b.total_cmp(a) } else { a.total_cmp(b) };
    let (at, _) = own.min_by(|a, b| tighter(&a.1.value, &b.1.value))?;
    let row = program.rows.iter().find(|row| row.origin == RowOrigin::Limit(at))?;
    let bound = if side == Side::Min { row.low } else { row.high };
    Some((&row.coefficients, bound))
}

/// The greatest volume of any spec.
fn volume_most(model: &Model) -> Option<f64> {
    let own = model.limits.iter().filter(|l| l.measure == Measure::Volume && l.side == Side::Max);
    own.map(|limit| limit.value * (1.0 + LOOSE)).min_by(f64::total_cmp)
}

/// A greatest value that a half keeps to alone, as nothing takes away from what it has.
pub(super) fn cap(model: &Model, program: &Program, limit: &Limit) -> Option<(Vec<f64>, f64)> {
    if limit.side == Side::Min {
        return None;
    }
    let (figures, most) = match Gauge::of(model, limit.measure) {
        Gauge::Volume => (program.envelope.volume_low.clone(), limit.value),
        Gauge::Sum(sum) => (sum, limit.value),
        Gauge::PerVolume(sum) => (sum, limit.value * volume_most(model)?),
        Gauge::PerSum(..) | Gauge::Melt | Gauge::Level => return None,
    };
    let sound = figures.iter().all(|figure| *figure >= 0.0) && most >= 0.0;
    sound.then_some((figures, most * (1.0 + LOOSE) + PAD))
}
