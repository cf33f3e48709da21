//! Objectives as linear figures, and soft limits as rows.

use super::notes;
use super::row::{Row, RowOrigin, limit_row};
use super::{Envelope, Gauge, LARGEST_SERVE, Model, Objective, Sense, Together};
use crate::brief::{Measure, Side};
use crate::liquid::Drink;

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

impl Segment {
    /// How much of an amount of its column, in units, lies in it.
    pub fn part_of(&self, units: f64) -> f64 {
        (units - self.start).clamp(0.0, self.length)
    }
}

/// What is made least, a figure a segment: `value`, or `value` over `over`.
#[derive(Debug, Clone, PartialEq)]
pub struct Lines {
    /// The score, or its numerator.
    pub value: Vec<f64>,
    /// The score's denominator, where it has one.
    pub over: Option<Vec<f64>>,
    /// What is added to the score.
    pub constant: f64,
    /// Cost, which orders equal scores.
    pub cost: Vec<f64>,
}

impl Lines {
    /// The same over more variables, which count nothing.
    pub(super) fn widen(&mut self, width: usize) {
        self.value.resize(width, 0.0);
        self.cost.resize(width, 0.0);
        self.over.iter_mut().for_each(|over| over.resize(width, 0.0));
    }
}

/// Greatest values of the variables that an objective adds: a miss a soft limit, or one for all.
pub(super) fn extras(objective: &Objective) -> Vec<f64> {
    match objective {
        Objective::Elastic { softs, together: Together::Sum, most } => vec![*most; softs.len()],
        Objective::Elastic { together: Together::Largest, most, .. } => vec![*most],
        _ => vec![1.0; notes::variables(objective)],
    }
}

/// The figures of an objective, a figure a variable: the segments, then those that it adds itself.
pub(super) fn objective_lines(
    model: &Model,
    objective: &Objective,
    envelope: &Envelope,
    segments: &[Segment],
) -> Lines {
    let extras = extras(objective).len();
    let spread = |figures: &[f64], extra: f64| -> Vec<f64> {
        let mut wide: Vec<f64> = segments.iter().map(|s| figures[s.column]).collect();
        wide.resize(segments.len() + extras, extra);
        wide
    };
    let cost = spread(&model.per_unit(|c| c.cost_per_unit.unwrap_or(0.0)), 0.0);
    let lines = |value: Vec<f64>, over, constant| Lines { value, over, constant, cost };
    match objective {
        Objective::Change { from, lost } => {
            let value = segments.iter().map(|s| {
                let unit = model.columns[s.column].unit;
                // What lies below the reference's amount counts less the more is poured of it.
                if s.start < from[s.column] { -unit } else { unit }
            });
            let below: f64 = from.iter().zip(&model.columns).map(|(r, c)| r * c.unit).sum();
            lines(value.collect(), None, below + lost)
        }
        Objective::Ratio { of, to, sense } => {
            let amount = |candidate: usize| -> Vec<f64> {
                model.columns.iter().map(|c| if c.candidate == candidate { c.unit } else { 0.0 }).collect()
            };
            let gauge = Gauge::PerSum(amount(*of), amount(*to));
            let (value, over) = goal_lines(&gauge, *sense, envelope);
            lines(spread(&value, 0.0), over.map(|o| spread(&o, 0.0)), 0.0)
        }
        Objective::Elastic { .. } => lines(spread(&vec![0.0; model.columns.len()], 1.0), None, 0.0),
        Objective::Notes(_) => lines(spread(&vec![0.0; model.columns.len()], -1.0), None, 0.0),
        Objective::Goal { gauge, sense, .. } => {
            let (value, over) = goal_lines(gauge, *sense, envelope);
            lines(spread(&value, 0.0), over.map(|o| spread(&o, 0.0)), 0.0)
        }
    }
}

/// The lines below a goal's score: its numerator, and the denominator where it has one.
fn goal_lines(gauge: &Gauge, sense: Sense, envelope: &Envelope) -> (Vec<f64>, Option<Vec<f64>>) {
    let pick = |low: &[f64], high: &[f64]| match sense {
        Sense::Low => low.to_vec(),
        Sense::High => high.iter().map(|f| 0.0 - f).collect(),
    };
    // A score N/V stays at or under σ only where N - σV ≤ 0. For σ ≥ 0 (low) the greater volume
    // loosens that, for σ ≤ 0 (high, sign turned) the smaller.
    let volume = match sense {
        Sense::Low => &envelope.volume_high,
        Sense::High => &envelope.volume_low,
    };
    match gauge {
        Gauge::Sum(sum) => (pick(sum, sum), None),
        Gauge::Volume => (pick(&envelope.volume_low, &envelope.volume_high), None),
        Gauge::Melt => (pick(&envelope.melt_low, &envelope.melt_high), None),
        Gauge::Level => (pick(&envelope.level_low, &envelope.level_high), None),
        Gauge::PerVolume(sum) => (pick(sum, sum), Some(volume.clone())),
        Gauge::PerSum(sum, over) => (pick(sum, sum), Some(over.clone())),
    }
}

/// A soft limit's row: the limit's own, with its miss let in. On a ratio, a miss of s counts
/// `size · s · V`: the volume at the point of an expansion, else the greatest, which loosens the most.
pub(super) fn soft_rows(
    model: &Model,
    objective: &Objective,
    (envelope, loose, point): (&Envelope, f64, Option<&Drink>),
    (first, spread): (usize, impl Fn(&[f64]) -> Vec<f64>),
) -> Vec<Row> {
    let Objective::Elastic { softs, together, most } = objective else { return vec![] };
    let volume = match point {
        Some(drink) => drink.volume,
        None => volume_most(model, objective, *most, envelope),
    };
    let mut rows = vec![];
    for (at, soft) in softs.iter().enumerate() {
        let gauge = Gauge::of(model, soft.limit.measure);
        let times = match &gauge {
            Gauge::PerVolume(_) => volume,
            Gauge::PerSum(_, over) if point.is_none() => {
                over.iter().zip(&model.columns).map(|(o, c)| o * c.most).sum()
            }
            Gauge::PerSum(..) => point.map_or(1.0, |drink| drink.masses.acid),
            _ => 1.0,
        };
        let mut row = limit_row(&gauge, &soft.limit, envelope, loose, RowOrigin::Soft(at));
        row.coefficients = spread(&row.coefficients);
        let extra = first + if *together == Together::Sum { at } else { 0 };
        row.coefficients[extra] = soft.size * times * if soft.limit.side == Side::Min { 1.0 } else { -1.0 };
        rows.push(row);
    }
    rows
}

/// No drink that matters has a larger volume.
fn volume_most(model: &Model, objective: &Objective, most: f64, envelope: &Envelope) -> f64 {
    let hard = model.limits.iter().map(|limit| (limit, limit.value));
    let softs = match objective {
        Objective::Elastic { softs, .. } => &softs[..],
        _ => &[],
    };
    let soft = softs.iter().map(|soft| (&soft.limit, soft.limit.value + most * soft.size));
    let everything: f64 =
        envelope.volume_high.iter().zip(&model.columns).map(|(v, c)| v * c.most.max(0.0)).sum();
    hard.chain(soft)
        .filter(|(limit, _)| limit.measure == Measure::Volume && limit.side == Side::Max)
        .map(|(_, value)| value)
        .fold(everything.min(4.0 * LARGEST_SERVE), f64::min)
        * (1.0 + 1e-6)
}
