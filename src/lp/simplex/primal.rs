//! Primal steps after the dual ones. Figures too small to be pivoted on may leave reduced costs of the wrong sign: the
//! point keeps every bound, and is not yet the best. From there each of them is taken in the textbook's way.

use super::{Ended, Simplex};
use crate::tolerance::PIVOT;

/// What a variable of the wrong sign may be worth over its whole range, as a share of what all costs are worth.
const SLIGHT: f64 = 1e-11;

impl Simplex {
    /// Solves from the present basis to where reduced costs have the sign that they need.
    pub fn solve_out(&mut self) -> Ended {
        let ended = self.solve(f64::INFINITY);
        if ended == Ended::Optimal {
            let most = 2 * (self.rows + self.columns);
            // What is left after so many steps is in the bound.
            (0..most).take_while(|_| self.step_down()).count();
            self.ensure();
        }
        ended
    }

    /// Takes in what is worth most at the wrong bound; whether there was anything.
    fn step_down(&mut self) -> bool {
        let worth = |(d, v): (&f64, &u32)| {
            let v = *v as usize;
            let wrong = if self.at_low(v) { -*d } else { *d };
            if wrong > 0.0 { wrong * (self.high[v] - self.low[v]) } else { 0.0 }
        };
        let most = self.reduced.iter().zip(&self.nonbasic).map(worth).enumerate();
        let Some((place, most)) = most.max_by(|a, b| a.1.total_cmp(&b.1)) else { return false };
        if most <= SLIGHT * (1.0 + self.promised().abs()) {
            return false;
        }
        match self.first_in_the_way(place) {
            Some((row, target)) => self.pivot(row, place, target),
            None => self.flip(place),
        }
        true
    }

    /// The basic row that stops a nonbasic variable on its way to its other bound, and the bound that the row is at
    /// then; of several the one with the largest figure. Nothing where it gets there.
    fn first_in_the_way(&self, place: usize) -> Option<(usize, f64)> {
        let entering = self.nonbasic[place] as usize;
        let sign = if self.at_low(entering) { 1.0 } else { -1.0 };
        let whole = self.high[entering] - self.low[entering];
        let mut first: Option<(f64, f64, usize, f64)> = None;
        for (row, &variable) in self.basic.iter().enumerate() {
            let (a, v) = (sign * self.table[row * self.width + place], variable as usize);
            if a.abs() <= PIVOT {
                continue;
            }
            let target = if a > 0.0 { self.high[v] } else { self.low[v] };
            let step = ((target - self.value[v]) / a).max(0.0);
            let nearer =
                first.is_none_or(|(other, size, ..)| step < other || step == other && a.abs() > size);
            if step < whole && nearer {
                first = Some((step, a.abs(), row, target));
            }
        }
        first.map(|(.., row, target)| (row, target))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Beale's program (*Naval Research Logistics Quarterly* 2, 1955), which goes round in circles where ties are broken
    /// badly: the optimum is -0.05. Put wrongly at the start, the point is taken there by primal steps alone.
    #[test]
    fn costs_of_the_wrong_sign_are_taken_in() {
        let rows = [
            (vec![0.25, -60.0, -0.04, 9.0], f64::NEG_INFINITY, 0.0),
            (vec![0.5, -90.0, -0.02, 3.0], f64::NEG_INFINITY, 0.0),
            (vec![0.0, 0.0, 1.0, 0.0], f64::NEG_INFINITY, 1.0),
        ];
        let costs = vec![-0.75, 150.0, -0.02, 6.0];
        let mut simplex = Simplex::new(&[(0.0, 100.0); 4], &rows, std::slice::from_ref(&costs));
        // As if nothing cost anything, all stay where they are; then the costs come in.
        assert_eq!(simplex.solve(f64::INFINITY), Ended::Optimal);
        simplex.weigh(&[1.0]);
        let cost =
            |simplex: &Simplex| -> f64 { costs.iter().enumerate().map(|(j, c)| c * simplex.value(j)).sum() };
        assert!(cost(&simplex) > simplex.promised() + 1.0, "nothing was wrong");
        while simplex.step_down() {}
        simplex.ensure();
        assert!((cost(&simplex) + 0.05).abs() < 1e-9, "{}", cost(&simplex));
        assert!((simplex.objective() + 0.05).abs() < 1e-9, "{}", simplex.objective());
    }
}
