//! Free pours: a linear program at a point, repeated until the point stays.
//!
//! At a fixed point the expansion is exact, so every limit holds exactly there, not nearly.

mod bends;
mod closed;
pub mod everywhere;
pub mod parted;
mod short;
pub mod standing;

use crate::brief::{Pour, Served, serve};
use crate::lp::bound::Bound;
use crate::lp::linear::Linear;
use crate::model::{Basis, Model, Objective, Program, Ranges, Tangent, View};
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
/// `known` are units of every column that are known to meet the brief: whatever is found is no worse.
/// `None` where even free pours cannot meet the brief, or the rounds do not settle.
pub fn optimum(model: &Model, objective: &Objective, known: Option<&[f64]>) -> Option<Free> {
    optimum_within(model, objective, known, None)
}

/// The same where it is known which compositions the brief allows ([`everywhere::allowed`]).
pub fn optimum_within(
    model: &Model,
    objective: &Objective,
    known: Option<&[f64]>,
    within: Option<Ranges>,
) -> Option<Free> {
    let freed = model.freed();
    let within = within.or_else(|| everywhere::allowed(&freed, objective))?;
    let known = known.map(|units| Point::new(&freed, objective, units.to_vec())).filter(|p| p.meets);
    everywhere::look(&freed, objective, within, known.map(|point| point.free)).best
}

/// Between what every column of a freed model may be poured, in units.
pub(super) fn bounds(freed: &Model) -> Vec<(f64, f64)> {
    freed.columns.iter().map(|c| (if c.must { c.least } else { 0.0 }, c.most.max(0.0))).collect()
}

/// Repeats the linear program from `start` within `bounds` until volume and score stay.
pub fn fixed_point(
    model: &Model,
    objective: &Objective,
    bounds: &[(f64, f64)],
    start: &[f64],
) -> Option<Free> {
    fixed_rounds(model, objective, bounds, start).or_else(|| short::steps(model, objective, bounds, start))
}

/// The same, without short steps where repetition does not settle.
fn fixed_rounds(model: &Model, objective: &Objective, bounds: &[(f64, f64)], start: &[f64]) -> Option<Free> {
    rounds(model, objective, bounds, start, &[])
}

/// The point at which given bounds of the program are reached, from a point nearby where they are, though
/// something better may lie elsewhere. `None` where none of the kind meets the brief.
pub fn along(model: &Model, objective: &Objective, start: &[f64], held: &[Bound]) -> Option<Free> {
    let freed = model.freed();
    rounds(&freed, objective, &bounds(&freed), start, held)
}

/// Repeats the linear program, held at some of its bounds, until its point stays.
fn rounds(
    model: &Model,
    objective: &Objective,
    bounds: &[(f64, f64)],
    start: &[f64],
    held: &[Bound],
) -> Option<Free> {
    let mut units = start.to_vec();
    let mut bounds = bounds.to_vec();
    let mut last = (f64::NAN, f64::NAN);
    for _ in 0..ROUNDS {
        let at = Point::new(model, objective, units);
        let now = (at.free.served.drink.volume, at.free.score);
        let near = |a: f64, b: f64| (a - b).abs() <= FIXED_POINT * a.abs().max(1.0);
        let stays = near(now.0, last.0) && near(now.1, last.1);
        if stays && at.meets {
            return Some(at.free);
        }
        if stays {
            without_traces(model, &at.free.units, &mut bounds);
        }
        last = now;
        let (program, mut linear) = expanded(model, objective, &bounds, &at.free);
        held.iter().for_each(|bound| linear.hold(*bound));
        let next = linear.quickly()?;
        units = program.amounts(|variable| next[variable]);
    }
    None
}

/// Takes out what is poured in traces: it counts as unused, and what leans on it misses its limits.
fn without_traces(model: &Model, units: &[f64], bounds: &mut [(f64, f64)]) {
    for ((column, units), bound) in model.columns.iter().zip(units).zip(bounds) {
        if *units > 0.0 && units * column.unit <= UNUSED && bound.0 == 0.0 {
            bound.1 = 0.0;
        }
    }
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
        // Free pours meet limits through the same door as whole ones.
        let meets =
            model.meets_limits(&pours, &served) && model.keeps_proportions(&pours) && score.is_finite();
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

/// The linear program at a measured point. A ratio is made low by its numerator less the score
/// times its denominator (Dinkelbach).
pub(super) fn expanded(
    model: &Model,
    objective: &Objective,
    bounds: &[(f64, f64)],
    at: &Free,
) -> (Program, Linear) {
    let envelope = Tangent::at(model, &model.typical, &at.served.drink).envelope();
    let program = Program::over(
        model,
        objective,
        envelope,
        Basis { views: &worst_views(model, &at.units), loose: 0.0, at: Some(&at.served.drink) },
    );
    let lines = &program.lines;
    let score = if at.score.is_finite() { at.score } else { 0.0 };
    let cost = match &lines.over {
        Some(over) => {
            // Over the denominator at the point, so that the cost is in scores.
            let parts = program.segments.iter().zip(over);
            let here: f64 = parts.map(|(s, o)| o * s.part_of(at.units[s.column])).sum();
            let here = if here > 0.0 { here } else { 1.0 };
            lines.value.iter().zip(over).map(|(v, o)| (v - score * o) / here).collect()
        }
        None => lines.value.clone(),
    };
    let (bounds, rows) = (program.bounds(|c| bounds[c]), program.linear_rows());
    (program, Linear { cost, bounds, rows })
}

/// The worst corners of every limit at a point, with the expansion at the drink that they make.
fn worst_views(model: &Model, units: &[f64]) -> Vec<View> {
    let (pours, _) = measure(model, units);
    model.limits.iter().filter_map(|limit| View::worst(model, &pours, limit)).collect()
}

/// The best free amounts of a decided set: whole amounts stay, free ones are re-solved.
pub fn polished(model: &Model, objective: &Objective, set: &[usize], units: &[f64]) -> Option<Free> {
    let mut bounds = vec![(0.0, 0.0); model.columns.len()];
    let mut start = vec![0.0; model.columns.len()];
    for (&c, &u) in set.iter().zip(units) {
        let column = &model.columns[c];
        bounds[c] = if column.whole { (u, u) } else { (column.least, column.most) };
        start[c] = u;
    }
    fixed_point(model, objective, &bounds, &start)
}
