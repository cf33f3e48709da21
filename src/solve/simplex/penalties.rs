//! What a branch costs at least, before it is solved.

use super::Simplex;
use crate::tolerance::PIVOT;

impl Simplex {
    /// At least how much the objective rises if the column is pressed down to `low` and if it is
    /// pressed up to `high`: for a basic column the first step of the dual simplex in each direction,
    /// strengthened by what each nonbasic column moves at least if it moves at all (`moves`; Tomlin,
    /// *Operations Research* 19, 1971).
    pub fn penalties(&self, column: usize, low: f64, high: f64, moves: &[f64]) -> (f64, f64) {
        let place = self.place[column] as usize;
        if place < self.columns {
            let (value, cost) = (self.value[column], self.reduced[place]);
            return ((cost * (low - value)).max(0.0), (cost * (high - value)).max(0.0));
        }
        let value = self.value[column];
        let (fall, climb) = ((value - low).max(0.0), (high - value).max(0.0));
        let (mut down, mut up) = (f64::INFINITY, f64::INFINITY);
        let Some(row) = self.basic_row(column) else { return (0.0, 0.0) };
        for ((a, d), &variable) in self.row(row).iter().zip(&self.reduced).zip(&self.nonbasic) {
            let v = variable as usize;
            if a.abs() <= PIVOT || self.lo[v] >= self.hi[v] {
                continue;
            }
            let (rate, first) = ((d / a).abs(), d.abs() * moves.get(v).copied().unwrap_or(0.0));
            if (*a > 0.0) == self.at_low(v) {
                up = up.min(first.max(rate * climb));
            } else {
                down = down.min(first.max(rate * fall));
            }
        }
        (if fall > 0.0 { down } else { 0.0 }, if climb > 0.0 { up } else { 0.0 })
    }
}

#[cfg(test)]
mod tests {
    use crate::solve::simplex::{Ended, Simplex};

    /// By hand: x that costs 1 and is at least 0.5 stays there; at 1 it costs half more, and under 0.5 it
    /// cannot go.
    #[test]
    fn a_column_at_its_bound_costs_what_it_moves() {
        let mut simplex = Simplex::new(&[(0.5, 3.0)], &[], &[vec![1.0]]);
        simplex.weigh(&[1.0]);
        assert_eq!(simplex.solve(f64::INFINITY), Ended::Optimal);
        assert_eq!(simplex.penalties(0, 0.0, 1.0, &[0.0]), (0.0, 0.5));
    }

    /// By hand: x + y ≥ 2.5 where x costs 1 and y costs 3 is cheapest at x = 2.5. With x at most 2, half of y
    /// comes in and the whole costs 3.5; with x at least 3 it costs 3. If y comes in by 1 at least, the
    /// cheapest is 1.5 of x and 1 of y: 4.5.
    #[test]
    fn a_column_between_costs_what_takes_its_place() {
        let rows = [(vec![1.0, 1.0], 2.5, f64::INFINITY)];
        let mut simplex = Simplex::new(&[(0.0, 9.0), (0.0, 9.0)], &rows, &[vec![1.0, 3.0]]);
        simplex.weigh(&[1.0]);
        assert_eq!(simplex.solve(f64::INFINITY), Ended::Optimal);
        let near = |(a, b): (f64, f64), (c, d): (f64, f64)| (a - c).abs() < 1e-12 && (b - d).abs() < 1e-12;
        assert!(near(simplex.penalties(0, 2.0, 3.0, &[0.0, 0.0]), (1.0, 0.5)));
        assert!(near(simplex.penalties(0, 2.0, 3.0, &[0.0, 1.0]), (2.0, 0.5)));
    }
}
