//! Notes in rows: each has a variable from 0 to 1, which is no more than the least pours of what carries it come to.
//!
//! What is used is poured by its least at least, so that the variable of a note may be 1 as soon as any ingredient with
//! it is used, and is 0 where none is. Of free amounts a share of a least pour covers that share of a note: so the score
//! is the same straight program for steps and free pours.

use super::row::{Row, RowOrigin};
use super::{Model, Objective};
use crate::brief::Side;
use crate::tolerance::WHOLE;

/// Less than this of anything is not there to be tasted, ml or g, where nothing names a least. Common practice, no
/// source.
const TASTE: f64 = 0.1;

impl Model<'_> {
    /// How much of a note one unit of a column that carries it covers.
    pub fn covers(&self, column: usize) -> f64 {
        let column = &self.columns[column];
        let least = if column.least > 0.0 { column.least } else { TASTE / column.unit };
        1.0 / least
    }

    /// How far a note is covered by units of the columns that carry it, 0 to 1.
    pub fn covered(&self, columns: &[usize], units: impl Fn(usize) -> f64) -> f64 {
        let share: f64 = columns.iter().map(|c| self.covers(*c) * units(*c)).sum();
        // What is short of a least pour by rounding alone is one.
        if share >= 1.0 - WHOLE { 1.0 } else { share }
    }

    /// The figures of a note's row, a figure a column.
    pub fn note_figures(&self, columns: &[usize]) -> Vec<f64> {
        let mut figures = vec![0.0; self.columns.len()];
        columns.iter().for_each(|c| figures[*c] = self.covers(*c));
        figures
    }
}

/// How many variables an objective adds for its notes.
pub(super) fn variables(objective: &Objective) -> usize {
    if let Objective::Notes(notes) = objective { notes.len() } else { 0 }
}

/// The rows of an objective's notes over segments, their variables from `first` on.
pub(super) fn rows(
    model: &Model,
    objective: &Objective,
    (first, loose): (usize, f64),
    spread: impl Fn(&[f64]) -> Vec<f64>,
) -> Vec<Row> {
    let Objective::Notes(notes) = objective else { return vec![] };
    let row = |(at, columns): (usize, &Vec<usize>)| {
        let mut figures = spread(&model.note_figures(columns));
        figures.iter_mut().for_each(|f| *f *= 1.0 + loose);
        figures[first + at] = -1.0;
        Row::sided(figures, Side::Min, 0.0, RowOrigin::Note(at))
    };
    notes.iter().enumerate().map(row).collect()
}
