//! What rounding does to a tableau: every pivot passes it on, and one on a small figure multiplies it. Nothing
//! shows in the tableau itself, since its values are sums of its own figures; so they are held to the rows that
//! it came from, added up with weights (Freivalds, *Information Processing 77*: a product is checked without
//! being formed again).

use super::Simplex;
use crate::tolerance::BROKEN;

/// By how much the figures of a tableau may drift: a bound that is missed by less proves nothing.
const DRIFT: f64 = 100.0 * BROKEN;

/// Sums over all variables that hold at every point of a tableau.
#[derive(Debug, Clone)]
pub struct Check {
    /// Nothing wherever every row holds.
    zero: Vec<f64>,
    /// Each part of the objective.
    parts: Vec<Vec<f64>>,
}

impl Simplex {
    /// What holds at every point of this tableau, and of all that come from it.
    pub fn check(&self) -> Check {
        let variables = self.columns + self.rows;
        let mut zero = vec![0.0; variables];
        for row in 0..self.rows {
            // Weights without a common measure, so that what is wrong in two rows does not cancel out.
            let weight = 1.0 + (self.rows as f64 + row as f64).sqrt().fract();
            zero[self.basic[row] as usize] -= weight;
            for (a, v) in self.row(row).iter().zip(&self.nonbasic) {
                zero[*v as usize] += weight * a;
            }
        }
        let part = |row: usize| {
            let mut part = vec![0.0; variables];
            self.nonbasic.iter().zip(self.row(row)).for_each(|(v, a)| part[*v as usize] = *a);
            part
        };
        Check { zero, parts: (self.rows..self.table.len() / self.width.max(1)).map(part).collect() }
    }

    /// Whether the present point, or what it costs by the `weights` in force, is not what the rows say.
    pub fn astray(&self, check: &Check, weights: &[f64]) -> bool {
        let at = |sum: &[f64]| -> f64 { sum.iter().zip(&self.value).map(|(a, x)| a * x).sum() };
        if at(&check.zero).abs() > BROKEN {
            return true;
        }
        let parts = check.parts.iter().zip(weights).filter(|(_, weight)| **weight != 0.0);
        let cost: f64 = parts.map(|(part, weight)| weight * at(part)).sum();
        let here: f64 =
            self.reduced.iter().zip(&self.nonbasic).map(|(d, v)| d * self.value[*v as usize]).sum();
        (cost - here).abs() > BROKEN * (1.0 + cost.abs())
    }

    /// Lets a bound that is missed by rounding alone be where its variable is. Where everything else is fixed
    /// nothing can make up for it, and a node with a spec in it must not be lost for it. What is let in that is
    /// no spec falls to the judge.
    pub(super) fn excused(&mut self, row: usize, target: f64) -> bool {
        let v = self.basic[row] as usize;
        let value = self.value[v];
        let slight = (target - value).abs() <= DRIFT;
        if slight {
            let bound = if value < target { &mut self.lo[v] } else { &mut self.hi[v] };
            *bound = value;
        }
        slight
    }
}

#[cfg(test)]
mod tests {
    use crate::solve::simplex::{Ended, Simplex};

    /// Three rows of four columns, solved.
    fn solved() -> Simplex {
        let rows = [
            (vec![1.0, 2.0, 0.5, 1.0], 6.0, 9.0),
            (vec![1.0, -1.0, 1.0, 0.0], 1.0, 4.0),
            (vec![0.0, 1.0, 1.0, -1.0], 1.0, f64::INFINITY),
        ];
        let mut simplex = Simplex::new(&[(0.0, 5.0); 4], &rows, &[vec![3.0, 2.0, 1.0, 4.0], vec![1.0; 4]]);
        simplex.weigh(&[1.0, 0.5]);
        simplex
    }

    #[test]
    fn what_has_been_pivoted_keeps_to_its_rows() {
        let mut simplex = solved();
        let check = simplex.check();
        assert_eq!(simplex.solve(f64::INFINITY), Ended::Optimal);
        assert!(simplex.basic.iter().any(|v| *v < 4), "nothing was pivoted");
        assert!(!simplex.astray(&check, &[1.0, 0.5]));
        // Of another objective it is: the check is of the weights in force.
        assert!(simplex.astray(&check, &[1.0, 0.0]));
    }

    /// Any figure that counts at the present point, off by a millionth, shows; of the rows and of the costs.
    #[test]
    fn a_figure_that_has_drifted_shows() {
        let mut whole = solved();
        let check = whole.check();
        assert_eq!(whole.solve(f64::INFINITY), Ended::Optimal);
        let mut tried = 0;
        for place in (0..4).filter(|place| whole.value[whole.nonbasic[*place] as usize] > 0.1) {
            for row in 0..3 {
                let mut drifted = whole.clone();
                drifted.table[row * 4 + place] += 1e-6;
                drifted.settle();
                assert!(drifted.astray(&check, &[1.0, 0.5]), "row {row}, place {place}");
                tried += 1;
            }
            let mut drifted = whole.clone();
            drifted.reduced[place] += 1e-6;
            assert!(drifted.astray(&check, &[1.0, 0.5]), "cost, place {place}");
        }
        assert!(tried > 0, "{whole:?}");
    }
}
