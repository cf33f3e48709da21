//! Linear-fractional bounds: the least ratio of two parts of the objective.

use super::{Ended, Simplex};

/// How many steps the search for a ratio's end may take.
const STEPS: usize = 12;
/// So much of itself a ratio is lowered by before it is sure to be a bound; the more only where the less is not enough.
const HAIRS: [f64; 4] = [1e-9, 1e-7, 1e-5, 1e-3];

impl Simplex {
    /// A lower bound on part `over` of part `value` over everything that the rows allow, by Dinkelbach's
    /// steps: the ratio θ at a point, the least `value - θ·over`, the ratio there, and so on downwards.
    /// `None` if no ratio near the last is sure, or if nothing is over zero.
    pub fn least_ratio(&mut self, value: usize, over: usize) -> Option<f64> {
        let mut weights = vec![0.0; value.max(over) + 1];
        weights[value] = 1.0;
        let mut least = |simplex: &mut Simplex, theta: f64| {
            weights[over] = -theta;
            simplex.weigh(&weights);
            let ended = simplex.solve(f64::INFINITY);
            (ended, simplex.objective())
        };
        let ratio = |s: &Simplex| {
            let over = s.part(over);
            (over > 1e-9).then(|| s.part(value) / over)
        };
        let mut theta = ratio(self)?;
        for _ in 0..STEPS {
            let (ended, least) = least(self, theta);
            if ended != Ended::Optimal || least >= -1e-10 * self.part(over).abs().max(1e-9) {
                break;
            }
            let next = ratio(self)?;
            if next >= theta {
                // What is less than nothing there is what rounding takes from a bound.
                break;
            }
            theta = next;
        }
        let mut lower = HAIRS.iter().map(|hair| theta - hair * (1.0 + theta.abs()));
        lower.find(|theta| least(self, *theta).1 >= 0.0)
    }
}

#[cfg(test)]
mod tests {
    use rand::{RngExt, SeedableRng};
    use rand_pcg::Pcg64Mcg;

    use super::*;

    /// A ratio of sums is a mean of the ratios of their terms, so the least of these is the least there is. What is told
    /// is never over it, however the tableau has been damaged, and there is always something to tell.
    #[test]
    fn a_ratio_has_a_bound_that_is_sure() {
        let mut rng = Pcg64Mcg::seed_from_u64(27);
        for try_ in 0..2_000 {
            let count = rng.random_range(2..12);
            let mut figures = |low: i32, high: i32| -> Vec<f64> {
                (0..count).map(|_| f64::from(rng.random_range(low..high)) / 7.0).collect()
            };
            let (value, over) = (figures(0, 900), figures(1, 50));
            let least = value.iter().zip(&over).map(|(v, o)| v / o).fold(f64::INFINITY, f64::min);
            let bounds = vec![(0.0, 4.0); count];
            let something = [(vec![1.0; count], 1.0, f64::INFINITY)];
            let mut simplex = Simplex::new(&bounds, &something, &[value, over]);
            simplex.weigh(&[1.0]);
            assert_eq!(simplex.solve(f64::INFINITY), Ended::Optimal);
            let damage = if try_ % 2 == 0 { 0.0 } else { 10_f64.powi(-(6 + try_ % 8)) };
            simplex.damage(&mut rng, damage);
            let told = simplex.least_ratio(0, 1).expect("a bound");
            let near = if damage == 0.0 { 1e-8 } else { 1.1e-3 };
            assert!(told <= least && told >= least - near * (1.0 + least), "{try_}: {told}, not {least}");
        }
    }
}
