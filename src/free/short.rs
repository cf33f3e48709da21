//! Free pours where plain repetition swings to and fro: the same linear program, its steps held short.
//!
//! The volume bends a little, and where the optimum lies on a bend and not in a corner, the corners of
//! successive linear programs jump around it. A step is then kept within a radius, limits may be
//! missed at a price, and a step counts only if it gets better by a fair share of what was promised;
//! else the radius shrinks (a trust region on the exact penalty function; Fletcher, *Practical Methods
//! of Optimization*, 1987, section 14.5).

use super::{Free, Point, expanded};
use crate::brief::Side;
use crate::lp::linear::Linear;
use crate::model::{Model, Objective};

/// How many steps at most.
const STEPS: usize = 150;
/// The price of missing every limit by its whole self, in scores.
const PENALTY: f64 = 1e3;
/// Below this share of a variable's range, a step is none.
const SMALLEST: f64 = 1e-9;

/// The best point that meets the brief, walking from `start`.
pub fn steps(model: &Model, objective: &Objective, bounds: &[(f64, f64)], start: &[f64]) -> Option<Free> {
    let start = start.iter().zip(bounds).map(|(x, (low, high))| x.clamp(*low, *high)).collect();
    let mut at = Point::new(model, objective, start);
    let mut best = at.meets.then(|| at.clone());
    let mut radius = 0.25;
    let price = PENALTY * (at.free.score.abs().min(1e9) + 1.0);
    for _ in 0..STEPS {
        let Some((next, promised)) = step(model, objective, bounds, &at, radius, price) else { break };
        let now = merit(model, &next, price);
        let gained = merit(model, &at, price) - now;
        // By merit: what the margins of limits add to a score is not worth having.
        if next.meets && best.as_ref().is_none_or(|best| now < merit(model, best, price)) {
            best = Some(next.clone());
        }
        if gained >= 0.1 * promised && gained > 0.0 {
            at = next;
            radius = (radius * 1.6).min(1.0);
        } else {
            radius *= 0.4;
        }
        if radius < SMALLEST {
            break;
        }
    }
    best.map(|best| best.free)
}

/// The score, and the price of the limit that is missed the most.
fn merit(model: &Model, point: &Point, price: f64) -> f64 {
    point.free.score + price * missed(model, point)
}

/// By how much of itself the most missed limit is missed.
fn missed(model: &Model, point: &Point) -> f64 {
    let (pours, _) = super::measure(model, &point.free.units);
    let missed = model.limits.iter().map(|limit| {
        let value = model.judged_value(&pours, &point.free.served, limit);
        let by = match limit.side {
            Side::Min => limit.value - value,
            Side::Max => value - limit.value,
        };
        by / own_size(limit.value)
    });
    missed.fold(0.0, f64::max)
}

fn own_size(limit: f64) -> f64 {
    if limit == 0.0 { 1.0 } else { limit.abs() }
}

/// One step within the radius, and the merit that its linear program promises to gain.
fn step(
    model: &Model,
    objective: &Objective,
    bounds: &[(f64, f64)],
    at: &Point,
    radius: f64,
    price: f64,
) -> Option<(Point, f64)> {
    let near: Vec<(f64, f64)> = bounds
        .iter()
        .zip(&at.free.units)
        .map(|((low, high), x)| {
            let reach = radius * (high - low).max(1e-6);
            ((x - reach).max(*low), (x + reach).min(*high))
        })
        .collect();
    let (program, linear) = expanded(model, objective, &near, &at.free);
    let linear = elastic(model, linear, at, price);
    let value = |x: &[f64]| linear.cost.iter().zip(x).map(|(c, x)| c * x).sum::<f64>();
    let found = linear.quickly()?;
    // At the point itself a ratio's numerator less its score times its denominator is nothing.
    let here = if program.lines.over.is_some() { 0.0 } else { at.free.score - program.lines.constant };
    let promised = here + price * missed(model, at) - value(&found);
    let next = Point::new(model, objective, program.amounts(|variable| found[variable]));
    Some((next, promised))
}

/// The same program where every limit may be missed by a share of itself, at a price.
fn elastic(model: &Model, mut linear: Linear, at: &Point, price: f64) -> Linear {
    let volume = at.free.served.drink.volume;
    for (row, limit) in linear.rows.iter_mut().zip(&model.limits) {
        // A limit on a ratio stands in its row times the volume (or the acid).
        let size =
            if row.1 == 0.0 || row.2 == 0.0 { own_size(limit.value) * volume } else { own_size(limit.value) };
        row.0.push(match limit.side {
            Side::Min => size,
            Side::Max => -size,
        });
    }
    for row in &mut linear.rows[model.limits.len()..] {
        row.0.push(0.0);
    }
    linear.cost.push(price);
    linear.bounds.push((0.0, 10.0));
    linear
}
