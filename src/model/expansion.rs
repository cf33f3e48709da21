//! All limits and the score as straight lines that are exact at one point.

use super::program::View;
use super::row::{RowOrigin, less, limit_row};
use super::{Gauge, Model, Objective, Row, Sense, Soft, Tangent};
use crate::brief::{Pour, Side, serve};
use crate::liquid::Drink;
use crate::tolerance::UNUSED;

/// `figures · amounts + constant`, amounts in search units.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// A figure a column.
    pub figures: Vec<f64>,
    /// What is added.
    pub constant: f64,
}

impl Line {
    /// The line's value for units of every column.
    pub fn at(&self, units: &[f64]) -> f64 {
        dot(&self.figures, units) + self.constant
    }
}

/// `Σ a·b`.
pub fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// A point, and what is exact there.
#[derive(Debug, Clone, PartialEq)]
pub struct Expansion {
    /// What is poured there.
    pub pours: Vec<Pour>,
    /// A row a limit of the model, figures a column.
    pub limits: Vec<Row>,
    /// The score is at least each of these lines, and the greatest of them at the point. None where it
    /// is a sum of distances, which bends by itself.
    pub scores: Vec<Line>,
}

impl Expansion {
    /// The expansion at units of every column. Scores that are ratios are expanded around `score`: the
    /// numerator less `score` times the denominator, over the denominator at the point (Dinkelbach).
    pub fn at(model: &Model, objective: &Objective, units: &[f64], score: f64) -> Self {
        let pours: Vec<Pour> =
            (0..units.len()).map(|c| model.pour(c, units[c])).filter(|p| p.amount > UNUSED).collect();
        let drink = serve(model.brief, &pours).drink;
        Self::of(model, objective, (pours, &drink), score)
    }

    /// The expansion where there is no spec to expand at: a little of everything.
    pub fn anywhere(model: &Model, objective: &Objective) -> Self {
        Self::at(model, objective, &vec![1.0; model.columns.len()], 0.0)
    }

    fn of(model: &Model, objective: &Objective, (pours, drink): (Vec<Pour>, &Drink), score: f64) -> Self {
        let tangent = Tangent::at(model, &model.typical, drink);
        let envelope = tangent.envelope();
        let row = |at: usize| {
            let limit = &model.limits[at];
            let origin = RowOrigin::Limit(at);
            match View::worst(model, &pours, limit) {
                Some(view) => {
                    let gauge = Gauge::with(model, &view.portions, limit.measure);
                    limit_row(&gauge, limit, &view.envelope, 0.0, origin)
                }
                None => limit_row(&Gauge::of(model, limit.measure), limit, &envelope, 0.0, origin),
            }
        };
        let limits = (0..model.limits.len()).map(row).collect();
        let point = Point { model, tangent: &tangent, drink, pours: &pours, score };
        let scores = point.scores(objective).into_iter().filter(Line::is_finite).collect();
        Self { pours, limits, scores }
    }
}

impl Line {
    fn is_finite(&self) -> bool {
        self.constant.is_finite() && self.figures.iter().all(|f| f.is_finite())
    }
}

/// A measured point and the score around which ratios are expanded.
struct Point<'a> {
    model: &'a Model<'a>,
    tangent: &'a Tangent,
    drink: &'a Drink,
    pours: &'a [Pour],
    score: f64,
}

impl Point<'_> {
    fn scores(&self, objective: &Objective) -> Vec<Line> {
        match objective {
            Objective::Goal { gauge, sense, .. } => vec![self.goal(gauge, *sense)],
            Objective::Elastic { softs, .. } => softs.iter().map(|soft| self.soft(soft)).collect(),
            // Of amounts over amounts nobody is asked to make a program; changes and notes bend by themselves.
            Objective::Ratio { .. } | Objective::Change { .. } | Objective::Notes(_) => vec![],
        }
    }

    /// A gauge's sum, and what it is divided by: figures a column, and the value at the point.
    fn parts(&self, gauge: &Gauge) -> (Vec<f64>, Option<(Vec<f64>, f64)>) {
        match gauge {
            Gauge::Sum(sum) => (sum.clone(), None),
            Gauge::Volume => (self.tangent.volume.clone(), None),
            Gauge::Melt => (self.tangent.melt.clone(), None),
            Gauge::Level => (self.tangent.level.clone(), None),
            Gauge::PerVolume(sum) => (sum.clone(), Some((self.tangent.volume.clone(), self.drink.volume))),
            Gauge::PerSum(sum, over) => {
                let units: f64 = self
                    .pours
                    .iter()
                    .filter_map(|p| {
                        self.model.columns.iter().position(|c| c.candidate == p.candidate).zip(Some(p))
                    })
                    .map(|(c, p)| over[c] * p.amount / self.model.columns[c].unit)
                    .sum();
                (sum.clone(), Some((over.clone(), units)))
            }
        }
    }

    fn goal(&self, gauge: &Gauge, sense: Sense) -> Line {
        let turned = |figures: &[f64]| -> Vec<f64> {
            figures.iter().map(|f| if sense == Sense::Low { *f } else { 0.0 - f }).collect()
        };
        match self.parts(gauge) {
            (sum, None) => Line { figures: turned(&sum), constant: 0.0 },
            (sum, Some((over, here))) => {
                let figures = less(&turned(&sum), self.score, &over);
                Line { figures: figures.iter().map(|f| f / here).collect(), constant: self.score }
            }
        }
    }

    /// The distance from a soft limit. On a ratio N/D with the limit m and the size h, a distance of at
    /// most d is N - (m + h·d)·D ≤ 0 (a minimum: with the signs turned); around the score s that is
    /// d ≥ s + (N - (m + h·s)·D) / (h·D).
    fn soft(&self, soft: &Soft) -> Line {
        let sign = if soft.limit.side == Side::Max { 1.0 } else { -1.0 };
        let (sum, over) = self.parts(&Gauge::of(self.model, soft.limit.measure));
        match over {
            None => Line {
                figures: sum.iter().map(|f| sign * f / soft.size).collect(),
                constant: -sign * soft.limit.value / soft.size,
            },
            Some((over, here)) => {
                let limit = soft.limit.value + sign * soft.size * self.score;
                let figures = less(&sum, limit, &over);
                Line {
                    figures: figures.iter().map(|f| sign * f / (soft.size * here)).collect(),
                    constant: self.score,
                }
            }
        }
    }
}
