//! Pivots that cannot go round in a circle, for the rare re-solve that does: of all that may leave and
//! of all that may enter, the variable with the lowest number (Bland, *Mathematics of Operations
//! Research* 2, 1977), and no bound is flipped on the way.

use super::Simplex;
use crate::tolerance::{BROKEN, PIVOT};

/// A reduced cost under this is none: rounding would make a way of each tie.
const NOTHING: f64 = 1e-12;

impl Simplex {
    /// The broken basic variable of the lowest number: its row, and the bound that it goes to.
    pub(super) fn first_broken(&self) -> Option<(usize, f64)> {
        let broken = |(row, variable): (usize, &u32)| {
            let v = *variable as usize;
            if self.low[v] - self.value[v] > BROKEN {
                Some((v, row, self.low[v]))
            } else if self.value[v] - self.high[v] > BROKEN {
                Some((v, row, self.high[v]))
            } else {
                None
            }
        };
        let first = self.basic.iter().enumerate().filter_map(broken).min_by_key(|(v, ..)| *v);
        first.map(|(_, row, target)| (row, target))
    }

    /// The nonbasic place that enters for `row` to reach `target`: the cheapest, of several the lowest
    /// number. `None`: all of them together do not bring the row there.
    pub(super) fn first_entering(&self, row: usize, target: f64) -> Option<usize> {
        let leaving = self.basic[row] as usize;
        let gap = (target - self.value[leaving]).abs();
        let up = target > self.value[leaving];
        let (mut reach, mut best) = (0.0, None);
        for (place, &variable) in self.nonbasic.iter().enumerate() {
            let (v, a) = (variable as usize, self.row(row)[place]);
            if a.abs() <= PIVOT || self.low[v] >= self.high[v] || (a > 0.0) != (up == self.at_low(v)) {
                continue;
            }
            reach += a.abs() * (self.high[v] - self.low[v]);
            let cost = self.reduced[place].abs();
            let rate = if cost <= NOTHING { 0.0 } else { cost / a.abs() };
            let key = (a.abs() <= self.sound, rate, variable);
            if best.is_none_or(|(other, _)| key < other) {
                best = Some((key, place));
            }
        }
        best.filter(|_| reach >= gap - BROKEN).map(|(_, place)| place)
    }
}

#[cfg(test)]
mod tests {
    use crate::lp::simplex::{Ended, Simplex};

    /// By hand: of x and y from 0 to 9, x + y between 4 and 5 and x - y at least 1, nothing costs
    /// anything. Every pivot ties with every other; where it ends, all rows are kept.
    #[test]
    fn free_of_cost_it_ends_where_all_rows_are_kept() {
        let rows = [(vec![1.0, 1.0], 4.0, 5.0), (vec![1.0, -1.0], 1.0, f64::INFINITY)];
        let mut simplex = Simplex::new(&[(0.0, 9.0), (0.0, 9.0)], &rows, &[vec![0.0, 0.0]]);
        simplex.weigh(&[1.0]);
        simplex.settle();
        for _ in 0..20 {
            let Some((row, target)) = simplex.first_broken() else { break };
            let place = simplex.first_entering(row, target).expect("it can be kept");
            simplex.pivot(row, place, target);
        }
        assert_eq!(simplex.solve(f64::INFINITY), Ended::Optimal);
        let (x, y) = (simplex.value(0), simplex.value(1));
        assert!(x + y >= 4.0 - 1e-8 && x + y <= 5.0 + 1e-8 && x - y >= 1.0 - 1e-8, "{x} {y}");
    }

    #[test]
    fn what_cannot_be_reached_is_said_to_be_so() {
        let rows = [(vec![1.0, 1.0], 19.0, f64::INFINITY)];
        let mut simplex = Simplex::new(&[(0.0, 9.0), (0.0, 9.0)], &rows, &[vec![0.0, 0.0]]);
        simplex.weigh(&[1.0]);
        simplex.settle();
        let (row, target) = simplex.first_broken().expect("broken");
        assert_eq!(simplex.first_entering(row, target), None);
    }
}
