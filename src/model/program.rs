//! The rows of the pourable search over one range of compositions: a valid relaxation.

use super::{Envelope, Gauge, Limit, Model, Objective, Ranges, Sense};
use crate::brief::Side;
use crate::liquid::Dilution;
use crate::tolerance::LOOSE;

/// Which limit a row speaks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RowOrigin {
    /// The model's limit of this index.
    Limit(usize),
    /// One side of the brief's proportion of this index.
    Proportion(usize, Side),
    /// At least so many of the group of this index.
    AtLeast(usize),
    /// At most so many of the group of this index.
    AtMost(usize),
    /// Something is poured at all.
    Something,
    /// The end of the range of strengths before the ice.
    Range(Side),
}

/// One row: `lo ≤ Σ coefficient · column ≤ hi`.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// A figure a segment.
    pub coefficients: Vec<f64>,
    /// Lower bound; may be minus infinity.
    pub lo: f64,
    /// Upper bound; may be infinity.
    pub hi: f64,
    /// Whose it is.
    pub origin: RowOrigin,
}

/// A stretch of a column's amount, so that a bent objective is a sum of straight ones.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Segment {
    /// Whose amount it is part of.
    pub column: usize,
    /// Where it starts, in units of that column.
    pub start: f64,
    /// How long it is, in units.
    pub length: f64,
}

/// What is made least, a figure a segment: `value`, or `value` over `over`.
#[derive(Debug, Clone, PartialEq)]
pub struct Lines {
    /// The score, or its numerator.
    pub value: Vec<f64>,
    /// The score's denominator, where it has one.
    pub over: Option<Vec<f64>>,
    /// What is added to the score, or to its numerator.
    pub constant: f64,
    /// Cost, which orders equal scores.
    pub cost: Vec<f64>,
}

/// Segments, rows and objective over one range of compositions.
#[derive(Debug, Clone, PartialEq)]
pub struct Program {
    /// The variables.
    pub segments: Vec<Segment>,
    /// The rows.
    pub rows: Vec<Row>,
    /// The objective.
    pub lines: Lines,
    /// The linear bounds that rows and objective were built from, a figure a column.
    pub envelope: Envelope,
}

impl Program {
    /// Builds the relaxation that holds within `ranges`.
    pub fn new(model: &Model, objective: &Objective, ranges: &Ranges) -> Self {
        let envelope = Envelope::new(model, ranges);
        let mut rows = limit_rows(model, &envelope);
        rows.extend(proportion_rows(model));
        rows.extend(group_rows(model));
        rows.extend(range_rows(model, ranges));
        rows.extend(model.something().map(|coefficients| Row {
            coefficients,
            lo: 1.0 - LOOSE,
            hi: f64::INFINITY,
            origin: RowOrigin::Something,
        }));
        let lines = objective_lines(model, objective, &envelope);
        let program = Self { segments: whole_segments(model), rows, lines, envelope };
        match objective {
            Objective::Change { from, .. } => program.bent(from),
            Objective::Goal { .. } => program,
        }
    }

    /// Splits the columns that are to stay near a given amount into what is below it and what is above.
    fn bent(mut self, from: &[f64]) -> Self {
        let mut order: Vec<(usize, Segment, f64)> = vec![];
        for (column, segment) in self.segments.iter().enumerate() {
            let bend = from[column].min(segment.length);
            let unit = self.lines.value[column];
            if bend > 0.0 {
                order.push((column, Segment { length: bend, ..*segment }, -unit));
            }
            if segment.length > bend {
                let above = Segment { start: bend, length: segment.length - bend, ..*segment };
                order.push((column, above, unit));
            }
        }
        let spread = |figures: &[f64]| order.iter().map(|(column, ..)| figures[*column]).collect::<Vec<_>>();
        for row in &mut self.rows {
            row.coefficients = spread(&row.coefficients);
        }
        self.lines.cost = spread(&self.lines.cost);
        self.lines.value = order.iter().map(|(_, _, value)| *value).collect();
        self.segments = order.into_iter().map(|(_, segment, _)| segment).collect();
        self
    }
}

fn whole_segments(model: &Model) -> Vec<Segment> {
    model
        .columns
        .iter()
        .enumerate()
        .map(|(column, c)| Segment { column, start: 0.0, length: c.most.max(0.0) })
        .collect()
}

/// `a - factor·b`, term by term.
fn less(a: &[f64], factor: f64, b: &[f64]) -> Vec<f64> {
    a.iter().zip(b).map(|(a, b)| a - factor * b).collect()
}

fn limit_rows(model: &Model, envelope: &Envelope) -> Vec<Row> {
    let rows = model.limits.iter().enumerate();
    rows.map(|(at, limit)| limit_row(&Gauge::of(model, limit.measure), limit, envelope, at)).collect()
}

/// One limit as a row that no spec within the ranges breaks if it meets the limit: wherever the
/// physics is between two lines, the line that loosens is taken.
fn limit_row(gauge: &Gauge, limit: &Limit, envelope: &Envelope, at: usize) -> Row {
    let origin = RowOrigin::Limit(at);
    let loosened = match limit.side {
        Side::Min => limit.value - LOOSE * limit.value.abs(),
        Side::Max => limit.value + LOOSE * limit.value.abs(),
    };
    let plain = |low: &[f64], high: &[f64]| match limit.side {
        Side::Min => Row { coefficients: high.to_vec(), lo: loosened, hi: f64::INFINITY, origin },
        Side::Max => Row { coefficients: low.to_vec(), lo: f64::NEG_INFINITY, hi: loosened, origin },
    };
    let ratio = |sum: &[f64], low: &[f64], high: &[f64]| match limit.side {
        Side::Min => Row { coefficients: less(sum, loosened, low), lo: 0.0, hi: f64::INFINITY, origin },
        Side::Max => Row { coefficients: less(sum, loosened, high), lo: f64::NEG_INFINITY, hi: 0.0, origin },
    };
    match gauge {
        Gauge::Sum(sum) => plain(sum, sum),
        Gauge::Volume => plain(&envelope.volume_low, &envelope.volume_high),
        Gauge::Melt => plain(&envelope.melt_low, &envelope.melt_high),
        Gauge::PerVolume(sum) => ratio(sum, &envelope.volume_low, &envelope.volume_high),
        Gauge::PerSum(sum, over) => ratio(sum, over, over),
    }
}

fn proportion_rows(model: &Model) -> Vec<Row> {
    let mut rows = vec![];
    for (at, rule) in model.brief.proportions.iter().enumerate() {
        let units = |candidate: usize| -> Vec<f64> {
            model.columns.iter().map(|c| if c.candidate == candidate { c.unit } else { 0.0 }).collect()
        };
        let (of, to) = (units(rule.of), units(rule.to));
        if let Some(min) = rule.min {
            let origin = RowOrigin::Proportion(at, Side::Min);
            rows.push(Row {
                coefficients: less(&of, min * (1.0 - LOOSE), &to),
                lo: 0.0,
                hi: f64::INFINITY,
                origin,
            });
        }
        if let Some(max) = rule.max {
            let origin = RowOrigin::Proportion(at, Side::Max);
            let coefficients = less(&of, max * (1.0 + LOOSE), &to);
            rows.push(Row { coefficients, lo: f64::NEG_INFINITY, hi: 0.0, origin });
        }
    }
    rows
}

/// What a group's count says of the amounts: each member that is used counts at least its amount
/// over its most, and at most its amount over its least.
fn group_rows(model: &Model) -> Vec<Row> {
    let mut rows = vec![];
    for (at, group) in model.groups.iter().enumerate() {
        if group.members.len() == model.columns.len() {
            // The count over everything is kept by branching alone: as a row it would be slack.
            continue;
        }
        let share = |over: fn(&super::Column) -> f64| {
            let mut coefficients = vec![0.0; model.columns.len()];
            for &member in &group.members {
                coefficients[member] = 1.0 / over(&model.columns[member]);
            }
            coefficients
        };
        if group.min > 0 && group.members.iter().all(|&m| model.columns[m].least > 0.0) {
            let (lo, origin) = (group.min as f64 * (1.0 - LOOSE), RowOrigin::AtLeast(at));
            rows.push(Row { coefficients: share(|c| c.least), lo, hi: f64::INFINITY, origin });
        }
        if group.max < group.members.len() && group.members.iter().all(|&m| model.columns[m].most > 0.0) {
            let (hi, origin) = (group.max as f64 * (1.0 + LOOSE), RowOrigin::AtMost(at));
            rows.push(Row { coefficients: share(|c| c.most), lo: f64::NEG_INFINITY, hi, origin });
        }
    }
    rows
}

/// The two ends of the range of strengths before the ice, on which the melt's lines rest.
fn range_rows(model: &Model, ranges: &Ranges) -> Vec<Row> {
    if matches!(model.brief.serve.dilution, Dilution::Share(_)) {
        return vec![];
    }
    let ethanol = model.per_unit(|c| c.portion.strength * c.portion.poured);
    let poured = model.per_unit(|c| c.portion.poured);
    let (low, high) = ranges.before;
    let row = |end: f64, lo, hi, side| Row {
        coefficients: less(&ethanol, end, &poured),
        lo,
        hi,
        origin: RowOrigin::Range(side),
    };
    vec![
        row(low * (1.0 - LOOSE), 0.0, f64::INFINITY, Side::Min),
        row(high * (1.0 + LOOSE), f64::NEG_INFINITY, 0.0, Side::Max),
    ]
}

fn objective_lines(model: &Model, objective: &Objective, envelope: &Envelope) -> Lines {
    let cost = model.per_unit(|c| c.cost_per_unit.unwrap_or(0.0));
    let turned = |figures: &[f64]| figures.iter().map(|f| 0.0 - f).collect::<Vec<_>>();
    let (value, over, constant) = match objective {
        Objective::Change { from, lost } => {
            let below: f64 = from.iter().zip(&model.columns).map(|(r, c)| r * c.unit).sum();
            (model.columns.iter().map(|c| c.unit).collect(), None, below + lost)
        }
        Objective::Goal { gauge, sense, .. } => {
            let low = *sense == Sense::Low;
            let pick = |low_line: &[f64], high_line: &[f64]| {
                if low { low_line.to_vec() } else { turned(high_line) }
            };
            let volume = if low { &envelope.volume_high } else { &envelope.volume_low };
            match gauge {
                Gauge::Sum(sum) => (pick(sum, sum), None, 0.0),
                Gauge::Volume => (pick(&envelope.volume_low, &envelope.volume_high), None, 0.0),
                Gauge::Melt => (pick(&envelope.melt_low, &envelope.melt_high), None, 0.0),
                Gauge::PerVolume(sum) => (pick(sum, sum), Some(volume.clone()), 0.0),
                Gauge::PerSum(sum, over) => (pick(sum, sum), Some(over.clone()), 0.0),
            }
        }
    };
    Lines { value, over, constant, cost }
}
