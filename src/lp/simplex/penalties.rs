//! What a branch costs at least, before it is solved.

use super::Simplex;
use crate::tolerance::PIVOT;

/// What a nonbasic variable does off the bound that it is seen from.
#[derive(Debug, Clone, Copy)]
pub struct Step {
    /// The way that it moves: 1 from its lower bound, -1 from its upper, 0 where it cannot.
    turn: f64,
    /// How much the objective rises for each unit.
    cost: f64,
    /// How far the variable moves at least if it moves at all.
    least: f64,
}

impl Simplex {
    /// What the nonbasic variables do off where they stand, as the tableau has it, by how far each column moves at least
    /// if it moves at all.
    pub fn steps(&self, moves: impl Fn(usize) -> f64) -> Vec<Step> {
        let step = |(v, reduced): (&u32, &f64)| {
            let v = *v as usize;
            let cost = reduced.abs();
            let least = if v < self.columns { moves(v) } else { 0.0 };
            let turn = if self.at_low(v) { 1.0 } else { -1.0 };
            let turn = if self.high[v] > self.low[v] { turn } else { 0.0 };
            Step { turn, cost, least }
        };
        self.nonbasic.iter().zip(&self.reduced).map(step).collect()
    }

    /// At least how much the objective rises if the variable is pressed down to `low` and if it is
    /// pressed up to `high`, as the tableau has it: for a basic one the first step of the dual simplex in each
    /// direction, strengthened by what each nonbasic column moves at least if it moves at all (Tomlin,
    /// *Operations Research* 19, 1971).
    pub fn penalties(&self, variable: usize, low: f64, high: f64, steps: &[Step]) -> (f64, f64) {
        let Some(row) = self.basic_row(variable) else { return self.moved(variable, low, high) };
        let parts =
            self.row(row).iter().zip(steps).map(|(figure, step)| (figure * step.turn, step.cost, step.least));
        rises(parts, (self.value[variable] - low, high - self.value[variable]))
    }

    /// The same as the rows have it: what something may be ruled out by.
    pub fn sure_penalties(&self, variable: usize, low: f64, high: f64, steps: &[Step]) -> (f64, f64) {
        let Some(mut line) = self.line_of(variable) else { return self.moved(variable, low, high) };
        // The bound counts each from where its cost asks it to be; how far it moves at least, from where it stands.
        line.entries.iter_mut().for_each(|entry| entry.at_low = entry.cost >= 0.0);
        let free = line.entries.iter().filter(|entry| entry.range() > 0.0);
        let parts = free.clone().map(|entry| {
            let stands = entry.at_low == self.at_low(entry.variable);
            let step = steps.get(self.place[entry.variable] as usize).filter(|_| stands);
            (entry.slope(), entry.cost.abs(), step.map_or(0.0, |step| step.least))
        });
        // What specks can do is taken for granted.
        let specks = free.filter(|entry| entry.figure.abs() <= PIVOT);
        let off = line.off + specks.map(|entry| entry.figure.abs() * entry.range()).sum::<f64>();
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

/// What it costs at least that a sum falls, and climbs, so far. Of each part: how much the sum rises and what it costs for a
/// unit of it, and the least of it; but for slopes that are too small to be divided by.
fn rises(parts: impl Iterator<Item = (f64, f64, f64)>, (fall, climb): (f64, f64)) -> (f64, f64) {
    let (mut down, mut up) = (f64::INFINITY, f64::INFINITY);
    // Few are less than the least so far, and only those are divided.
    let less = |so_far: &mut f64, slope: f64, cost: f64, first: f64, way: f64| {
        if first < *so_far && cost * way < *so_far * slope {
            *so_far = first.max(cost / slope * way);
        }
    };
    for (slope, cost, least) in parts {
        if slope > PIVOT {
            less(&mut up, slope, cost, cost * least, climb);
        } else if slope < -PIVOT {
            less(&mut down, -slope, cost, cost * least, fall);
        }
    }
    (if fall > 0.0 { down } else { 0.0 }, if climb > 0.0 { up } else { 0.0 })
}

#[cfg(test)]
mod tests {
    use crate::lp::simplex::{Ended, Simplex};

    /// By hand: x that costs 1 and is at least 0.5 stays there; at 1 it costs half more, and under 0.5 it
    /// cannot go.
    #[test]
    fn a_column_at_its_bound_costs_what_it_moves() {
        let mut simplex = Simplex::new(&[(0.5, 3.0)], &[], &[vec![1.0]]);
        simplex.weigh(&[1.0]);
        assert_eq!(simplex.solve(f64::INFINITY), Ended::Optimal);
        assert_eq!(simplex.penalties(0, 0.0, 1.0, &simplex.steps(|_| 0.0)), (0.0, 0.5));
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
        assert!(near(simplex.penalties(0, 2.0, 3.0, &simplex.steps(|_| 0.0)), (1.0, 0.5)));
        assert!(near(simplex.penalties(0, 2.0, 3.0, &simplex.steps(|column| column as f64)), (2.0, 0.5)));
    }
}
