//! What the optimum of a linear program hangs on: the prices of its bounds, true on both sides.
//!
//! A solver's dual values belong to the basis where it stopped. The set of *all* optimal prices does
//! not: by complementary slackness it is, with any optimum x, the set of y and r that are zero where
//! their bound is not tight at x and add up to the cost of every variable. Its ends are the two
//! one-sided derivatives of the optimal value (Jansen, de Jong, Roos, Terlaky, *Sensitivity analysis in
//! linear programming: just be careful!*, EJOR 101, 1997).

mod corners;
mod ranging;

pub use ranging::Ranging;

use self::corners::{Corners, Top};
use super::bound::{Bound, Way};
use super::linear::Linear;
use crate::tolerance::ZERO_PRICE;

/// A price that may differ from zero: of a bound that is tight.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Price {
    bound: Bound,
    /// What one unit of its variable in the scaled set is worth.
    scale: f64,
}

/// All optimal prices of a program.
#[derive(Debug, Clone)]
pub struct DualFace<'p> {
    program: &'p Linear,
    prices: Vec<Price>,
    set: Corners,
    /// For every variable: its equation's scale over that of the costs.
    scales: Vec<f64>,
}

/// How near to a bound a value is on it, relative to the figures involved. The backend's answers are
/// good to 1e-7; where that finds no prices at all, the next one is tried.
const NEAR: [f64; 3] = [1e-7, 1e-6, 1e-5];
/// The same where a point is known not to lie in a corner of more bounds than it needs: none is taken
/// that is only near.
const SHARP: [f64; 4] = [1e-10, 1e-9, 1e-8, 1e-7];

impl<'p> DualFace<'p> {
    /// The prices at an optimum `x` of the program; `None` where `x` is none.
    pub fn at(program: &'p Linear, x: &[f64]) -> Option<Self> {
        NEAR.iter().find_map(|near| Self::with(program, x, *near))
    }

    /// The same, with no more bounds than it takes.
    pub fn sharp(program: &'p Linear, x: &[f64]) -> Option<Self> {
        SHARP.iter().chain(&NEAR[1..]).find_map(|near| Self::with(program, x, *near))
    }

    fn with(program: &'p Linear, x: &[f64], near: f64) -> Option<Self> {
        let tight = tight(program, x, near);
        let largest = |figures: &mut dyn Iterator<Item = f64>| figures.fold(0.0_f64, |a, f| a.max(f.abs()));
        let one = |size: f64| if size > 0.0 { size } else { 1.0 };
        let money = one(largest(&mut program.cost.iter().copied()));
        let rows: Vec<f64> =
            program.rows.iter().map(|row| one(largest(&mut row.0.iter().copied()))).collect();
        let own: Vec<f64> = (0..program.cost.len())
            .map(|j| {
                let figures = program.rows.iter().zip(&rows).map(|(row, size)| row.0[j] / size);
                one(largest(&mut figures.chain([program.cost[j] / money])))
            })
            .collect();
        let mut columns = vec![];
        let mut prices = vec![];
        for bound in tight {
            let (column, scale) = match bound {
                Bound::RowMin(i) | Bound::RowMax(i) | Bound::RowBoth(i) => {
                    let figures = program.rows[i].0.iter().enumerate().filter(|(_, f)| **f != 0.0);
                    (figures.map(|(j, f)| (j, f / rows[i] / own[j])).collect(), money / rows[i])
                }
                Bound::Min(j) | Bound::Max(j) | Bound::Both(j) => (vec![(j, 1.0)], money * own[j]),
            };
            let turned = matches!(bound, Bound::RowMax(_) | Bound::Max(_));
            let sign = if turned { -1.0 } else { 1.0 };
            columns.push(column.into_iter().map(|(j, f): (usize, f64)| (j, sign * f)).collect::<Vec<_>>());
            prices.push(Price { bound, scale });
        }
        let right: Vec<f64> = program.cost.iter().zip(&own).map(|(c, own)| c / money / own).collect();
        let set = Corners::new(&columns, &right)?;
        let scales = own.iter().map(|own| own * money).collect();
        Some(Self { program, prices, set, scales })
    }

    /// The price of a bound as a sum over the set: what one more of its value adds to the optimum.
    fn weights(&self, bound: Bound, sign: f64) -> Vec<(usize, f64)> {
        let parts: &[(Bound, f64)] = match bound {
            Bound::RowMin(i) => &[(Bound::RowMin(i), 1.0)],
            Bound::RowMax(i) => &[(Bound::RowMax(i), -1.0)],
            Bound::RowBoth(i) => &[(Bound::RowMin(i), 1.0), (Bound::RowMax(i), -1.0)],
            Bound::Min(j) => &[(Bound::Min(j), 1.0)],
            Bound::Max(j) => &[(Bound::Max(j), -1.0)],
            Bound::Both(j) => &[(Bound::Min(j), 1.0), (Bound::Max(j), -1.0)],
        };
        let found = parts.iter().filter_map(|(part, weight)| {
            self.prices.iter().position(|price| price.bound == *part).map(|k| (k, sign * weight))
        });
        found.collect()
    }

    /// The rate at which the optimum changes when the bound's value starts to go `way`, per unit of it
    /// (positive: the optimum rises as the value rises). `None`: there is no room that way.
    pub fn rate(&mut self, bound: Bound, way: Way) -> Option<f64> {
        let weights = self.weights(bound, way.sign());
        let Some(&(first, _)) = weights.first() else { return Some(0.0) };
        let scale = self.prices[first].scale;
        match self.set.highest(&weights)? {
            Top::At(value) => Some(way.sign() * clean(value) * scale),
            Top::Endless => None,
        }
    }

    /// How the optimum answers to a variable's cost: the costs between which `x` stays an optimum.
    /// Infinite where it always does.
    pub fn cost_range(&self, variable: usize) -> (f64, f64) {
        let (cost, scale) = (self.program.cost[variable], self.scales[variable]);
        let way = |sign: f64| match self.set.furthest(variable, sign) {
            Some(Top::At(value)) => cost + sign * clean(value.max(0.0)) * scale,
            Some(Top::Endless) => sign * f64::INFINITY,
            None => cost,
        };
        (way(-1.0), way(1.0))
    }

    /// The most of a sum of prices (each without its sign) over the set; infinite where there is no end,
    /// and the set's corner is there then.
    pub fn most(&mut self, terms: &[(Bound, f64)]) -> Option<f64> {
        let place = |bound: &Bound| self.prices.iter().position(|price| price.bound == *bound);
        let weights: Vec<(usize, f64)> = terms
            .iter()
            .filter_map(|(bound, weight)| place(bound).map(|k| (k, weight * self.prices[k].scale)))
            .collect();
        // Weights of order 1, as the set is.
        let size = weights.iter().fold(0.0_f64, |a, (_, weight)| a.max(weight.abs()));
        if size == 0.0 {
            return Some(0.0);
        }
        let scaled: Vec<(usize, f64)> = weights.iter().map(|(k, weight)| (*k, weight / size)).collect();
        Some(match self.set.highest(&scaled)? {
            Top::At(value) => clean(value) * size,
            Top::Endless => f64::INFINITY,
        })
    }

    /// The price of a bound at the corner where the last question was answered, without its sign.
    pub fn price(&self, bound: Bound) -> f64 {
        let at = self.prices.iter().position(|price| price.bound == bound);
        at.map_or(0.0, |k| clean(self.set.value(k)) * self.prices[k].scale)
    }

    /// Every bound that has a price other than zero somewhere in the set, in order: together with the
    /// rest, which never have, the optimal partition. It does not depend on `x`.
    pub fn deciding(&mut self) -> Vec<Bound> {
        let mut seen = vec![false; self.prices.len()];
        self.mark(&mut seen);
        for k in 0..seen.len() {
            if !seen[k] {
                seen[k] = self.set.highest(&self.net(k)) == Some(Top::Endless);
                self.mark(&mut seen);
            }
        }
        let deciding = self.prices.iter().zip(seen).filter(|(_, seen)| *seen);
        let mut deciding: Vec<Bound> = deciding.map(|(price, _)| price.bound).collect();
        deciding.sort_unstable();
        deciding
    }

    /// A price less that of the other bound of the same row or variable: where there is no room between
    /// the two, they grow together without end, and only their difference says anything.
    fn net(&self, k: usize) -> Vec<(usize, f64)> {
        let other = match self.prices[k].bound {
            Bound::RowMin(i) => Bound::RowMax(i),
            Bound::RowMax(i) => Bound::RowMin(i),
            Bound::Min(j) => Bound::Max(j),
            Bound::Max(j) => Bound::Min(j),
            both => both,
        };
        let other = self.prices.iter().position(|price| price.bound == other);
        std::iter::once((k, 1.0)).chain(other.map(|other| (other, -1.0))).collect()
    }

    /// Marks every net price that is over zero at the set's corner.
    fn mark(&self, seen: &mut [bool]) {
        let point = self.set.point();
        for (k, seen) in seen.iter_mut().enumerate() {
            *seen |= self.net(k).iter().map(|(at, sign)| sign * point[*at]).sum::<f64>() > ZERO_PRICE;
        }
    }

    /// Every bound that is tight at `x`.
    pub fn tight(&self) -> impl Iterator<Item = Bound> + '_ {
        self.prices.iter().map(|price| price.bound)
    }
}

/// A price in the scaled set without the rounding of a zero.
fn clean(value: f64) -> f64 {
    if value.abs() <= ZERO_PRICE { 0.0 } else { value }
}

/// The bounds that are tight at a point; a row or variable without room has two.
pub fn tight_at(program: &Linear, x: &[f64]) -> Vec<Bound> {
    tight(program, x, NEAR[1])
}

fn tight(program: &Linear, x: &[f64], near: f64) -> Vec<Bound> {
    let mut tight = vec![];
    for (i, (figures, low, high)) in program.rows.iter().enumerate() {
        // As large as its terms, and where these are all but nothing, as the terms of one unit each.
        let sizes = figures.iter().zip(x).map(|(f, x)| f.abs() * x.abs().max(1.0));
        let size = sizes.fold(0.0_f64, f64::max);
        let value: f64 = figures.iter().zip(x).map(|(f, x)| f * x).sum();
        let on = |bound: f64| bound.is_finite() && (value - bound).abs() <= near * size.max(bound.abs());
        tight.extend(on(*low).then_some(Bound::RowMin(i)));
        tight.extend(on(*high).then_some(Bound::RowMax(i)));
    }
    for (j, (low, high)) in program.bounds.iter().enumerate() {
        let on = |bound: f64| bound.is_finite() && (x[j] - bound).abs() <= near * bound.abs().max(1.0);
        tight.extend(on(*low).then_some(Bound::Min(j)));
        tight.extend(on(*high).then_some(Bound::Max(j)));
    }
    tight
}
