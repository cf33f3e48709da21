//! Columns that are out for good leave the tableau: below a node most are, and a narrow tableau is
//! copied and pivoted in a part of the time.

use super::{SHED, Simplex};

/// A share of the columns, one in so many, has to be out before it is worth moving the rest together.
const WORTH: usize = 8;

impl Simplex {
    /// The row of a basic variable.
    pub(super) fn basic_row(&self, variable: usize) -> Option<usize> {
        let place = self.place[variable];
        if place == SHED { None } else { (place as usize).checked_sub(self.columns) }
    }

    /// Drops the nonbasic columns that can be nothing but zero, if they are many. Everything is
    /// homogeneous: what is zero is missed nowhere. They must stay at zero from here on.
    pub fn shed(&mut self) {
        let zero = |v: u32| {
            (v as usize) < self.columns && self.low[v as usize] == 0.0 && self.high[v as usize] == 0.0
        };
        let out = self.nonbasic.iter().filter(|v| zero(**v)).count();
        if out * WORTH <= self.width {
            return;
        }
        let old = self.width;
        let stays: Vec<usize> = (0..old).filter(|place| !zero(self.nonbasic[*place])).collect();
        let mut to = 0;
        for row in 0..self.table.len() / old {
            for place in &stays {
                self.table[to] = self.table[row * old + place];
                to += 1;
            }
        }
        self.table.truncate(to);
        for &variable in &self.nonbasic {
            if zero(variable) {
                self.place[variable as usize] = SHED;
                self.value[variable as usize] = 0.0;
            }
        }
        for (place, stayed) in stays.iter().enumerate() {
            let variable = self.nonbasic[*stayed];
            self.nonbasic[place] = variable;
            self.place[variable as usize] = place as u32;
        }
        self.nonbasic.truncate(stays.len());
        self.width = stays.len();
        self.reduced.truncate(self.width);
        self.line.truncate(self.width);
    }
}

#[cfg(test)]
mod tests {
    use crate::lp::simplex::{Ended, Simplex};

    /// By hand: w + x + 2y + z of at least 4, each up to 3, at 3, 3, 1 and 1 apiece, is cheapest with
    /// two of y; without w and z it still is, and with at most one of y it takes two of x as well.
    #[test]
    fn the_rest_is_as_it_was() {
        let rows = [(vec![1.0, 1.0, 2.0, 1.0], 4.0, f64::INFINITY)];
        let mut simplex = Simplex::new(&[(0.0, 3.0); 4], &rows, &[vec![3.0, 3.0, 1.0, 1.0]]);
        simplex.weigh(&[1.0]);
        assert_eq!(simplex.solve(f64::INFINITY), Ended::Optimal);
        simplex.bound(0, 0.0, 0.0);
        simplex.bound(3, 0.0, 0.0);
        simplex.shed();
        simplex.weigh(&[1.0]);
        assert_eq!(simplex.solve(f64::INFINITY), Ended::Optimal);
        assert!((simplex.objective() - 2.0).abs() < 1e-12 && (simplex.part(0) - 2.0).abs() < 1e-12);
        simplex.bound(2, 0.0, 1.0);
        simplex.weigh(&[1.0]);
        assert_eq!(simplex.solve(f64::INFINITY), Ended::Optimal);
        assert!((simplex.objective() - 7.0).abs() < 1e-12);
        assert!((simplex.value(1) - 2.0).abs() < 1e-12 && simplex.value(0) == 0.0 && simplex.value(3) == 0.0);
        assert!(simplex.reduced_cost(0) == 0.0 && simplex.line_of(0).is_none());
    }
}
