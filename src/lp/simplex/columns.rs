//! Rows over the columns themselves, added to a tableau that has moved on.

use super::Simplex;
use super::rows::off;

impl Simplex {
    /// Adds the row `Σ figure · column ≥ least`, a figure a column, scaled by what its terms can reach.
    pub fn add_row_over_columns(&mut self, figures: &[f64], least: f64) {
        let terms =
            figures.iter().enumerate().map(|(c, f)| (f * self.high[c]).abs().max((f * self.low[c]).abs()));
        let largest = terms.fold(0.0, f64::max);
        let scale = if largest > 0.0 { 1.0 / largest } else { 1.0 };
        let scaled: Vec<f64> = figures.iter().map(|f| f * scale).collect();
        let reach = self.root.reach_of(&scaled);
        // What scaling has moved is taken off the bound.
        let least = least * scale - off(1, reach + (least * scale).abs());
        self.push_row(&scaled, &self.over_places(&scaled), (least, reach.max(least) + 1.0));
    }

    /// Adds the row `low ≤ Σ figure · column ≤ high` as it is; gives its variable.
    pub fn add_sum(&mut self, figures: &[f64], bounds: (f64, f64)) -> usize {
        self.push_row(figures, &self.over_places(figures), bounds);
        self.columns + self.rows - 1
    }

    /// Figures over the columns as figures over the nonbasic places.
    fn over_places(&self, figures: &[f64]) -> Vec<f64> {
        let mut wide = vec![0.0; self.width];
        for (column, &figure) in figures.iter().enumerate().filter(|(_, f)| **f != 0.0) {
            if let Some(row) = self.basic_row(column) {
                wide.iter_mut().zip(self.row(row)).for_each(|(w, a)| *w += figure * a);
            } else if let Some(place) = wide.get_mut(self.place[column] as usize) {
                *place += figure;
            }
        }
        wide
    }
}

#[cfg(test)]
mod tests {
    use crate::lp::simplex::{Ended, Simplex};

    /// By hand: x + 2y ≥ 4 with x, y up to 3 costs 2 at (0, 2) where y costs 1 and x costs 3; with
    /// x ≥ y as well, x = y = 4/3 and the cost is 16/3.
    #[test]
    fn a_row_over_basic_columns_counts() {
        let rows = [(vec![1.0, 2.0], 4.0, f64::INFINITY)];
        let mut simplex = Simplex::new(&[(0.0, 3.0), (0.0, 3.0)], &rows, &[vec![3.0, 1.0]]);
        simplex.weigh(&[1.0]);
        assert_eq!(simplex.solve(f64::INFINITY), Ended::Optimal);
        assert!((simplex.objective() - 2.0).abs() < 1e-12);
        simplex.add_row_over_columns(&[10.0, -10.0], 0.0);
        assert_eq!(simplex.solve(f64::INFINITY), Ended::Optimal);
        assert!((simplex.objective() - 16.0 / 3.0).abs() < 1e-9);
        assert!((simplex.value(0) - 4.0 / 3.0).abs() < 1e-9);
    }
}
