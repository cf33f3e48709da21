//! One plain linear program through `good_lp`, with what its backend needs around it.
//!
//! Facts that shape this file: the backend uses its tolerance of 1e-7 absolutely, panics on a variable
//! named twice in a row and on bounds that cross, and gives wrong answers on nearly dependent rows.
//! So rows are scaled to order 1, bounds are checked in one place, and whatever comes back is checked
//! against the rows; if it fails, our own simplex is asked.

use good_lp::{Expression, ProblemVariables, Solution, SolverModel, microlp, variable};

use super::bound::Bound;
use super::simplex::{Ended, Simplex};

/// `low ≤ figures · x ≤ high`.
pub type LinearRow = (Vec<f64>, f64, f64);

/// Minimize `cost · x` over rows and bounds, finite or not.
#[derive(Debug, Clone, Default)]
pub struct Linear {
    /// The objective.
    pub cost: Vec<f64>,
    /// Bounds of each variable.
    pub bounds: Vec<(f64, f64)>,
    /// The rows.
    pub rows: Vec<LinearRow>,
}

/// By how much a scaled row may be missed by an answer that is still taken.
const ROW_MISS: f64 = 1e-7;

impl Linear {
    /// An optimum, or `None` where no point keeps rows and bounds.
    pub fn minimize(&self) -> Option<Vec<f64>> {
        if self.bounds.iter().any(|(low, high)| low > high)
            || self.rows.iter().any(|(_, low, high)| low > high)
        {
            return None;
        }
        let scaled: Vec<LinearRow> = self.rows.iter().map(|row| self.scaled(row)).collect();
        match self.by_backend(&scaled) {
            Some(x) if self.keeps(&scaled, &x) => Some(x),
            _ => self.by_simplex(&scaled).filter(|x| self.keeps(&scaled, x)),
        }
    }

    /// The same by our own simplex, which is closer and quicker on programs that are asked thousands of
    /// times; the backend is asked where it gets tired.
    pub fn quickly(&self) -> Option<Vec<f64>> {
        if self.bounds.iter().any(|(low, high)| low > high || !low.is_finite() || !high.is_finite()) {
            return self.minimize();
        }
        match self.in_simplex(&self.rows) {
            (Ended::Optimal, x) => Some(x),
            (Ended::Infeasible, _) => None,
            _ => self.minimize(),
        }
    }

    /// A bound's own value.
    pub fn value_of(&self, bound: Bound) -> f64 {
        match bound {
            Bound::RowMin(i) | Bound::RowBoth(i) => self.rows[i].1,
            Bound::RowMax(i) => self.rows[i].2,
            Bound::Min(j) | Bound::Both(j) => self.bounds[j].0,
            Bound::Max(j) => self.bounds[j].1,
        }
    }

    /// Holds a row or a variable at one of its bounds.
    pub fn hold(&mut self, bound: Bound) {
        let held = match bound {
            Bound::RowMin(row) | Bound::RowMax(row) | Bound::RowBoth(row) => {
                self.rows.get_mut(row).map(|row| (&mut row.1, &mut row.2))
            }
            Bound::Min(at) | Bound::Max(at) | Bound::Both(at) => {
                self.bounds.get_mut(at).map(|bound| (&mut bound.0, &mut bound.1))
            }
        };
        match (held, bound) {
            (Some((low, high)), Bound::RowMin(_) | Bound::Min(_)) => *high = *low,
            (Some((low, high)), Bound::RowMax(_) | Bound::Max(_)) => *low = *high,
            _ => {}
        }
    }

    fn scaled(&self, (figures, low, high): &LinearRow) -> LinearRow {
        // A bound without end says nothing of the size of its term.
        let ranging = |bound: f64| if bound.is_finite() { bound.abs() } else { 1.0 };
        let largest = figures.iter().zip(&self.bounds).map(|(f, b)| f.abs() * ranging(b.0).max(ranging(b.1)));
        let largest = largest.fold(0.0, f64::max);
        let scale = if largest > 0.0 { 1.0 / largest } else { 1.0 };
        (figures.iter().map(|f| f * scale).collect(), low * scale, high * scale)
    }

    fn by_backend(&self, rows: &[LinearRow]) -> Option<Vec<f64>> {
        let mut problem = ProblemVariables::new();
        let names: Vec<_> =
            self.bounds.iter().map(|(low, high)| problem.add(variable().min(*low).max(*high))).collect();
        let sum = |figures: &[f64]| -> Expression {
            figures.iter().zip(&names).filter(|(f, _)| **f != 0.0).map(|(f, v)| *f * *v).sum()
        };
        let largest = self.cost.iter().fold(0.0_f64, |a, c| a.max(c.abs()));
        let goal: Vec<f64> =
            self.cost.iter().map(|c| if largest > 0.0 { c / largest } else { 0.0 }).collect();
        let mut model = problem.minimise(sum(&goal)).using(microlp);
        for (figures, low, high) in rows {
            if figures.iter().all(|f| *f == 0.0) {
                continue;
            }
            if low.is_finite() {
                model = model.with(sum(figures).geq(*low));
            }
            if high.is_finite() {
                model = model.with(sum(figures).leq(*high));
            }
        }
        let solution = model.solve().ok()?;
        Some(names.iter().map(|v| solution.value(*v)).collect())
    }

    fn by_simplex(&self, rows: &[LinearRow]) -> Option<Vec<f64>> {
        if self.bounds.iter().any(|(low, high)| !low.is_finite() || !high.is_finite()) {
            return None;
        }
        let (ended, x) = self.in_simplex(rows);
        (ended == Ended::Optimal).then_some(x)
    }

    /// How our own simplex ends over finite bounds, and where.
    fn in_simplex(&self, rows: &[LinearRow]) -> (Ended, Vec<f64>) {
        let mut simplex = Simplex::new(&self.bounds, rows, std::slice::from_ref(&self.cost));
        simplex.weigh(&[1.0]);
        let ended = simplex.solve_out();
        (ended, (0..self.cost.len()).map(|c| simplex.value(c)).collect())
    }

    fn keeps(&self, rows: &[LinearRow], x: &[f64]) -> bool {
        let bounds = self.bounds.iter().zip(x).all(|((low, high), x)| {
            *x >= low - ROW_MISS * (1.0 + low.abs()) && *x <= high + ROW_MISS * (1.0 + high.abs())
        });
        bounds
            && rows.iter().all(|(figures, low, high)| {
                let value: f64 = figures.iter().zip(x).map(|(f, x)| f * x).sum();
                value >= low - ROW_MISS && value <= high + ROW_MISS
            })
    }
}
