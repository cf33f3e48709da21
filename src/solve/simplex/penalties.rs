//! What a branch costs at least, before it is solved.

use super::Simplex;
use crate::tolerance::PIVOT;

/// A nonbasic variable's part in what a basic one is.
#[derive(Clone, Copy)]
struct Part {
    /// How much the basic one rises for each unit that this one moves off its bound.
    slope: f64,
    /// How much the objective rises for it.
    cost: f64,
    /// How far it can move, and how far it moves at least if it moves at all.
    range: f64,
    least: f64,
}

impl Simplex {
    /// At least how much the objective rises if the variable is pressed down to `low` and if it is
    /// pressed up to `high`, as the tableau has it: for a basic one the first step of the dual simplex in each
    /// direction, strengthened by what each nonbasic column moves at least if it moves at all (`moves`; Tomlin,
    /// *Operations Research* 19, 1971).
    pub fn penalties(&self, variable: usize, low: f64, high: f64, moves: &[f64]) -> (f64, f64) {
        let Some(row) = self.basic_row(variable) else { return self.moved(variable, low, high) };
        let parts = self.row(row).iter().zip(&self.reduced).zip(&self.nonbasic).map(|((a, d), v)| {
            let v = *v as usize;
            Part {
                slope: if self.at_low(v) { *a } else { -a },
                cost: d.abs(),
                range: self.hi[v] - self.lo[v],
                least: moves.get(v).copied().unwrap_or(0.0),
            }
        });
        rises(parts, (self.value[variable] - low, high - self.value[variable]))
    }

    /// The same as the rows have it: what something may be ruled out by.
    pub fn sure_penalties(&self, variable: usize, low: f64, high: f64, moves: &[f64]) -> (f64, f64) {
        let Some(mut line) = self.line_of(variable) else { return self.moved(variable, low, high) };
        // The bound counts each from where its cost asks it to be; how far it moves at least, from where it stands.
        line.entries.iter_mut().for_each(|entry| entry.low = entry.cost >= 0.0);
        let parts = line.entries.iter().map(|entry| {
            let stands = entry.low == self.at_low(entry.variable);
            let least = moves.get(entry.variable).filter(|_| stands).copied().unwrap_or(0.0);
            Part { slope: entry.slope(), cost: entry.cost.abs(), range: entry.range(), least }
        });
        // What specks can do is taken for granted.
        let specks = parts.clone().filter(|part| part.slope.abs() <= PIVOT);
        let off = line.off + specks.map(|part| part.slope.abs() * part.range).sum::<f64>();
        let value = line.value();
        rises(parts, (value - low - off, high - value - off))
    }

    /// What a nonbasic variable costs off the bound that its cost asks for.
    fn moved(&self, variable: usize, low: f64, high: f64) -> (f64, f64) {
        let cost = self.reduced_cost(variable);
        let end = self.end(variable, cost);
        ((cost * (low - end)).max(0.0), (cost * (high - end)).max(0.0))
    }
}

/// What it costs at least that a sum falls, and climbs, so far, but for parts that are too small to be divided by.
fn rises(parts: impl Iterator<Item = Part>, (fall, climb): (f64, f64)) -> (f64, f64) {
    let (mut down, mut up) = (f64::INFINITY, f64::INFINITY);
    for part in parts.filter(|part| part.range > 0.0 && part.slope.abs() > PIVOT) {
        let (rate, first) = ((part.cost / part.slope).abs(), part.cost * part.least);
        if part.slope > 0.0 {
            up = up.min(first.max(rate * climb));
        } else {
            down = down.min(first.max(rate * fall));
        }
    }
    (if fall > 0.0 { down } else { 0.0 }, if climb > 0.0 { up } else { 0.0 })
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
