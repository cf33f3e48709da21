//! Free pours: a linear program at a point, repeated until the point stays.
//!
//! At a fixed point the expansion is exact, so every limit holds exactly there, not nearly.

use super::judge::Judge;
use super::linear::{Linear, LinearRow};
use super::pieces::pieces;
use super::short;
use crate::brief::{Pour, Served, Side, serve};
use crate::model::{Gauge, Model, Objective, Sense, Tangent};
use crate::tolerance::{FIXED_POINT, UNUSED};

/// How many rounds the point gets to stay before steps are held short.
const ROUNDS: usize = 12;

/// A free-pour optimum.
#[derive(Debug, Clone)]
pub struct Free {
    /// Units of every column.
    pub units: Vec<f64>,
    /// Its score (lower is better).
    pub score: f64,
    /// What it measures.
    pub served: Served,
}

/// The optimum with free pours: no steps, no smallest pours, no counts; what must be used is used.
/// `None` where even free pours cannot meet the brief, or the rounds do not settle.
pub fn optimum(model: &Model, objective: &Objective) -> Option<Free> {
    let freed = model.freed();
    let bounds: Vec<(f64, f64)> =
        freed.columns.iter().map(|c| (if c.must { c.least } else { 0.0 }, c.most.max(0.0))).collect();
    let mut best: Option<Free> = None;
    for piece in pieces(&freed, objective) {
        if best.as_ref().is_some_and(|b| piece.bound >= b.score) {
            break;
        }
        let mut start = vec![0.0; freed.columns.len()];
        for (at, segment) in piece.program.segments.iter().enumerate() {
            start[segment.column] += piece.simplex.value(at);
        }
        if let Some(free) = fixed_point(&freed, objective, &bounds, start)
            && best.as_ref().is_none_or(|b| free.score < b.score)
        {
            best = Some(free);
        }
    }
    best
}

/// Repeats the linear program from `start` within `bounds` until volume and score stay.
pub fn fixed_point(
    model: &Model,
    objective: &Objective,
    bounds: &[(f64, f64)],
    start: Vec<f64>,
) -> Option<Free> {
    let mut units = start.clone();
    let mut last = (f64::NAN, f64::NAN);
    for _ in 0..ROUNDS {
        let at = Point::new(model, objective, units);
        let now = (at.free.served.drink.volume, at.free.score);
        let stays = |a: f64, b: f64| (a - b).abs() <= FIXED_POINT * a.abs().max(1.0);
        if stays(now.0, last.0) && stays(now.1, last.1) && at.meets {
            return Some(at.free);
        }
        last = now;
        let Some(next) = expanded(model, objective, bounds, &at.free.served, at.free.score).minimize() else {
            break;
        };
        units = next;
        units.truncate(model.columns.len());
    }
    short::steps(model, objective, bounds, start)
}

/// A point and what it measures.
#[derive(Debug, Clone)]
pub(super) struct Point {
    /// Amounts, score and measures.
    pub free: Free,
    /// Whether every limit and proportion holds there.
    pub meets: bool,
}

impl Point {
    /// Measures a point.
    pub fn new(model: &Model, objective: &Objective, units: Vec<f64>) -> Self {
        let (pours, served) = measure(model, &units);
        let score = objective.score(model, &pours, &served);
        // Free pours meet limits through the same gate as whole ones.
        let meets = model.meets_limits(&served) && model.keeps_proportions(&pours) && score.is_finite();
        Self { free: Free { units, score, served }, meets }
    }
}

/// Pours and measures of free amounts.
pub fn measure(model: &Model, units: &[f64]) -> (Vec<Pour>, Served) {
    let pours: Vec<Pour> =
        (0..units.len()).map(|c| model.pour(c, units[c])).filter(|p| p.amount > UNUSED).collect();
    let served = serve(model.brief, &pours);
    (pours, served)
}

/// The linear program at a measured point.
pub(super) fn expanded(
    model: &Model,
    objective: &Objective,
    bounds: &[(f64, f64)],
    at: &Served,
    score: f64,
) -> Linear {
    let tangent = Tangent::at(model, &at.drink);
    let rows = rows(model, &tangent);
    let (cost, rows, bounds) = match objective {
        Objective::Goal { gauge, sense, .. } => {
            (goal_cost(gauge, *sense, &tangent, score), rows, bounds.to_vec())
        }
        Objective::Change { from, .. } => bent(model, from, rows, bounds),
    };
    Linear { cost, bounds, rows }
}

/// A linear cost whose least point improves on `score`: a ratio is taken by its numerator less the
/// score times its denominator (Dinkelbach).
fn goal_cost(gauge: &Gauge, sense: Sense, tangent: &Tangent, score: f64) -> Vec<f64> {
    let sign = match sense {
        Sense::Low => 1.0,
        Sense::High => -1.0,
    };
    let ratio = |sum: &[f64], over: &[f64]| {
        let score = if score.is_finite() { score } else { 0.0 };
        sum.iter().zip(over).map(|(s, o)| sign * s - score * o).collect()
    };
    let plain = |sum: &[f64]| sum.iter().map(|s| sign * s).collect();
    match gauge {
        Gauge::Sum(sum) => plain(sum),
        Gauge::Volume => plain(&tangent.volume),
        Gauge::Melt => plain(&tangent.melt),
        Gauge::PerVolume(sum) => ratio(sum, &tangent.volume),
        Gauge::PerSum(sum, over) => ratio(sum, over),
    }
}

/// Every limit and proportion, exact at the point of the expansion.
pub fn rows(model: &Model, tangent: &Tangent) -> Vec<LinearRow> {
    let mut rows: Vec<LinearRow> = model
        .limits
        .iter()
        .map(|limit| {
            let less = |sum: &[f64], over: &[f64]| -> Vec<f64> {
                sum.iter().zip(over).map(|(s, o)| s - limit.value * o).collect()
            };
            let (figures, at) = match Gauge::of(model, limit.measure) {
                Gauge::Sum(sum) => (sum, limit.value),
                Gauge::Volume => (tangent.volume.clone(), limit.value),
                Gauge::Melt => (tangent.melt.clone(), limit.value),
                Gauge::PerVolume(sum) => (less(&sum, &tangent.volume), 0.0),
                Gauge::PerSum(sum, over) => (less(&sum, &over), 0.0),
            };
            sided(figures, limit.side, at)
        })
        .collect();
    rows.extend(model.something().map(|figures| sided(figures, Side::Min, 1.0)));
    for rule in &model.brief.proportions {
        let ratio = |factor: f64| -> Vec<f64> {
            model
                .columns
                .iter()
                .map(|c| match c.candidate {
                    at if at == rule.of => c.unit,
                    at if at == rule.to => -factor * c.unit,
                    _ => 0.0,
                })
                .collect()
        };
        rows.extend(rule.min.map(|min| sided(ratio(min), Side::Min, 0.0)));
        rows.extend(rule.max.map(|max| sided(ratio(max), Side::Max, 0.0)));
    }
    rows
}

fn sided(figures: Vec<f64>, side: Side, at: f64) -> LinearRow {
    match side {
        Side::Min => (figures, at, f64::INFINITY),
        Side::Max => (figures, f64::NEG_INFINITY, at),
    }
}

/// `|x - from|` as further variables t with `t ≥ x - from` and `t ≥ from - x`.
fn bent(
    model: &Model,
    from: &[f64],
    rows: Vec<LinearRow>,
    bounds: &[(f64, f64)],
) -> (Vec<f64>, Vec<LinearRow>, Vec<(f64, f64)>) {
    let n = from.len();
    let wide = |mut figures: Vec<f64>| {
        figures.resize(2 * n, 0.0);
        figures
    };
    let mut rows: Vec<LinearRow> = rows.into_iter().map(|(f, lo, hi)| (wide(f), lo, hi)).collect();
    let mut bounds = bounds.to_vec();
    let mut cost = vec![0.0; n];
    for (c, target) in from.iter().enumerate() {
        for sign in [1.0, -1.0] {
            let mut figures = vec![0.0; 2 * n];
            figures[c] = sign;
            figures[n + c] = -1.0;
            rows.push((figures, f64::NEG_INFINITY, sign * target));
        }
        bounds.push((0.0, bounds[c].1.max(*target)));
        cost.push(model.columns[c].unit);
    }
    (cost, rows, bounds)
}

/// The best free amounts of a decided set: whole amounts stay, free ones are re-solved.
pub fn polished(judge: &Judge, set: &[usize], units: &[f64]) -> Option<Free> {
    let model = judge.model;
    let mut bounds = vec![(0.0, 0.0); model.columns.len()];
    let mut start = vec![0.0; model.columns.len()];
    for (&c, &u) in set.iter().zip(units) {
        let column = &model.columns[c];
        bounds[c] = if column.whole { (u, u) } else { (column.least, column.most) };
        start[c] = u;
    }
    fixed_point(model, judge.objective, &bounds, start)
}
