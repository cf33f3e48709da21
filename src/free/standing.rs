//! A free-pour optimum together with the linear program that it is an optimum of: there, where the
//! expansion is exact, the program's prices are the physics' own.

use super::{Free, bounds, expanded, fixed_point};
use crate::lp::bound::Bound;
use crate::lp::dual_face::{DualFace, tight_at};
use crate::lp::linear::Linear;
use crate::model::{Model, Objective, Program, RowOrigin, Together};

/// A free-pour optimum and its program.
#[derive(Debug, Clone)]
pub struct Standing {
    /// The optimum.
    pub free: Free,
    /// What the rows and variables stand for.
    pub program: Program,
    /// The program, to be made least; its costs are in scores.
    pub linear: Linear,
    /// The optimum in the program's variables.
    pub point: Vec<f64>,
}

impl Standing {
    /// The free-pour optimum of a model, near `start` (units of every column) where that is given, else
    /// wherever it is; `None` where nothing meets the brief.
    pub fn of(model: &Model, objective: &Objective, start: Option<&[f64]>) -> Option<Self> {
        let free = match start {
            Some(start) => {
                let freed = model.freed();
                fixed_point(&freed, objective, &bounds(&freed), start)
            }
            None => super::optimum(model, objective, None),
        }?;
        Some(Self::at(model, objective, free))
    }

    /// A free-pour optimum of a model that is already known.
    pub fn at(model: &Model, objective: &Objective, free: Free) -> Self {
        let freed = model.freed();
        let (program, linear) = expanded(&freed, objective, &bounds(&freed), &free);
        let mut point: Vec<f64> = program
            .segments
            .iter()
            .map(|s| (free.units[s.column] - s.start).clamp(0.0, s.length.max(0.0)))
            .collect();
        if let Objective::Elastic { softs, together, .. } = objective {
            match together {
                Together::Sum => {
                    let (pours, served) = super::measure(&freed, &free.units);
                    let judged = |limit| freed.judged_value(&pours, &served, limit);
                    point.extend(softs.iter().map(|soft| soft.missed(judged(&soft.limit))));
                }
                Together::Largest => point.push(free.score),
            }
        }
        if let Objective::Notes(notes) = objective {
            let units = |column: usize| free.units[column];
            point.extend(notes.iter().map(|columns| freed.covered(columns, units).min(1.0)));
        }
        Self { free, program, linear, point }
    }

    /// All optimal prices; `None` where the point is no optimum of its program after all.
    pub fn face(&self) -> Option<DualFace<'_>> {
        DualFace::at(&self.linear, &self.point)
    }

    /// The same, of a point that lies in no corner of more bounds than it needs.
    pub fn sharp_face(&self) -> Option<DualFace<'_>> {
        DualFace::sharp(&self.linear, &self.point)
    }

    /// Every bound that is tight at the optimum.
    pub fn tight(&self) -> Vec<Bound> {
        tight_at(&self.linear, &self.point)
    }

    /// The row that stands for a limit.
    pub fn row(&self, origin: RowOrigin) -> Option<usize> {
        self.program.rows.iter().position(|row| row.origin == origin)
    }

    /// The one variable that stands for a column; `None` where there are two.
    pub fn variable(&self, column: usize) -> Option<usize> {
        let range = self.program.of_column.get(column)?;
        (range.len() == 1).then_some(range.start)
    }
}
