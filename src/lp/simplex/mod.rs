//! A small dense dual simplex on bounded variables: the engine of the pourable search.
//!
//! Rows are few and every variable is bounded, so the whole tableau is a few kilobytes: a child of
//! the search copies it, changes a bound and needs one or two pivots. All of it is homogeneous: basic
//! values are sums over the nonbasic ones, without constants. Any basis becomes dual feasible by
//! moving nonbasic variables to the bound that their reduced cost asks for, so only the dual simplex
//! is needed. What a solve says is not read off the tableau: bounds and "no point" are formed anew from the rows
//! as they were given (`sure.rs`).

mod careful;
mod columns;
mod fraction;
mod penalties;
mod primal;
mod ratio;
mod root;
mod rows;
mod shed;
mod sure;

#[cfg(test)]
pub use sure::tests as seeded;

use std::sync::Arc;

pub use penalties::Step;
pub use rows::{Entry, Line};

use root::Root;

use crate::tolerance::BROKEN;

/// By how much of itself a bound of the rows may lie under what the tableau promises before the tableau is begun
/// anew: a matter of time alone.
const DRIFT: f64 = 1e-7;

/// The place of a variable that has none any more: it is nothing for good.
const SHED: u32 = u32::MAX;

/// How a re-solve ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ended {
    /// At an optimum.
    Optimal,
    /// No point keeps all bounds.
    Infeasible,
    /// The objective passed the given limit.
    Above,
    /// The pivots ran out, or rounding has the tableau say what its rows do not; nothing is known beyond the
    /// objective, which is still a lower bound.
    Tired,
}

/// The tableau. Variables `0..n` are the columns, `n..n+m` the rows' values.
#[derive(Debug, Clone)]
pub struct Simplex {
    columns: usize,
    /// How many nonbasic places there are: `columns`, less those that have been shed.
    width: usize,
    rows: usize,
    /// `rows` basic rows, then one row for each objective part; `width` wide.
    table: Vec<f64>,
    /// Reduced costs of the objective in force, a figure a nonbasic place.
    reduced: Vec<f64>,
    basic: Vec<u32>,
    nonbasic: Vec<u32>,
    /// Where a variable stands: its nonbasic place, `columns` plus its basic row, or [`SHED`].
    place: Vec<u32>,
    low: Vec<f64>,
    high: Vec<f64>,
    value: Vec<f64>,
    /// Breakpoints of the ratio test, kept to save allocations.
    breaks: Vec<(f64, u32)>,
    line: Vec<f64>,
    /// How many figures the last solve has gone over.
    work: u64,
    /// Figures over this are pivoted on before any that is smaller.
    sound: f64,
    /// What the tableau stands for.
    root: Arc<Root>,
    /// The objective in force, a weight a part.
    weights: Vec<f64>,
    /// The least that it can be, by the last solve, and the costs of the columns that go with it.
    sure: f64,
    sure_costs: Vec<f64>,
    /// How often each part and each row is taken, kept to save allocations.
    taken: Vec<f64>,
}

impl Simplex {
    /// Takes over another tableau, in the memory that is there.
    pub fn copy_from(&mut self, other: &Self) {
        (self.columns, self.width, self.rows) = (other.columns, other.width, other.rows);
        (self.sound, self.sure) = (other.sound, other.sure);
        self.root.clone_from(&other.root);
        self.weights.clone_from(&other.weights);
        self.table.clone_from(&other.table);
        self.reduced.clone_from(&other.reduced);
        self.basic.clone_from(&other.basic);
        self.nonbasic.clone_from(&other.nonbasic);
        self.place.clone_from(&other.place);
        self.low.clone_from(&other.low);
        self.high.clone_from(&other.high);
        self.value.clone_from(&other.value);
        self.line.resize(other.width, 0.0);
    }

    /// The value of a column.
    pub fn value(&self, column: usize) -> f64 {
        self.value[column]
    }

    /// The bounds of a column.
    pub fn bounds(&self, column: usize) -> (f64, f64) {
        (self.low[column], self.high[column])
    }

    /// The value of an objective part at the present point.
    pub fn part(&self, part: usize) -> f64 {
        let row = self.row(self.rows + part);
        row.iter().zip(&self.nonbasic).map(|(a, v)| a * self.value[*v as usize]).sum()
    }

    /// The least that the objective in force can be, by the last solve: a bound that holds for the rows themselves. At
    /// an optimum it is the objective there, but for costs of the wrong sign that pivots too small to take have left,
    /// and for the last digits.
    pub fn objective(&self) -> f64 {
        self.sure
    }

    /// The same as the tableau has it, while it is being solved.
    fn promised(&self) -> f64 {
        let least = |(d, v): (&f64, &u32)| d * self.end(*v as usize, *d);
        self.reduced.iter().zip(&self.nonbasic).map(least).sum()
    }

    /// The reduced cost of a variable by the last solve. Of a column the objective is over its bound by so much, at
    /// least, for each unit off the lower bound where it is positive, off the upper where it is negative.
    pub fn reduced_cost(&self, variable: usize) -> f64 {
        let place = self.place[variable];
        if place == SHED {
            0.0
        } else if variable < self.columns {
            self.sure_costs[variable]
        } else {
            self.reduced.get(place as usize).copied().unwrap_or(0.0)
        }
    }

    /// Puts the objective `Σ weight · part` in force.
    pub fn weigh(&mut self, weights: &[f64]) {
        self.weights.clear();
        self.weights.extend_from_slice(weights);
        self.reduced.fill(0.0);
        for (part, weight) in weights.iter().enumerate() {
            if *weight != 0.0 {
                let start = (self.rows + part) * self.width;
                let row = &self.table[start..start + self.width];
                self.reduced.iter_mut().zip(row).for_each(|(d, a)| *d += weight * a);
            }
        }
    }

    /// Bounds a column, no farther from zero than it was at first; its value is put in order by the next
    /// [`Self::solve`].
    pub fn bound(&mut self, column: usize, low: f64, high: f64) {
        let most = low.abs().max(high.abs());
        debug_assert!(column >= self.columns || most <= self.root.widest(column), "the bounds are wider");
        self.low[column] = low;
        self.high[column] = high;
    }

    fn row(&self, row: usize) -> &[f64] {
        &self.table[row * self.width..(row + 1) * self.width]
    }

    /// Puts every nonbasic variable to the bound that its reduced cost asks for, and the basic ones
    /// to the sums that follow.
    fn settle(&mut self) {
        for (place, &variable) in self.nonbasic.iter().enumerate() {
            let v = variable as usize;
            let at = self.end(v, self.reduced[place]);
            self.value[v] = at;
            self.line[place] = at;
        }
        for row in 0..self.rows {
            let start = row * self.width;
            let sum: f64 =
                self.table[start..start + self.width].iter().zip(&self.line).map(|(a, x)| a * x).sum();
            self.value[self.basic[row] as usize] = sum;
        }
    }

    /// Re-solves from the present basis. Ends early once the objective is sure to pass `limit`. A tableau whose
    /// figures have drifted so far that its rows do not say what it says is begun anew.
    pub fn solve(&mut self, limit: f64) -> Ended {
        self.work = 0;
        let ended = self.run(limit);
        let astray = match ended {
            Ended::Optimal => self.promised() - self.sure > DRIFT * (1.0 + self.sure.abs()),
            Ended::Tired => true,
            // What is sure needs no second look.
            Ended::Infeasible | Ended::Above => false,
        };
        if astray {
            self.renew();
            return self.run(limit);
        }
        ended
    }

    /// The least value of an objective part where `sign` is 1, the greatest where it is -1: a bound that holds for the
    /// rows. Nothing where no point keeps them.
    pub fn end_of(&mut self, part: usize, sign: f64) -> Option<f64> {
        let mut weights = vec![0.0; part + 1];
        weights[part] = sign;
        self.weigh(&weights);
        (self.solve(f64::INFINITY) != Ended::Infeasible).then(|| sign * self.objective())
    }

    fn run(&mut self, limit: f64) -> Ended {
        self.settle();
        self.work += self.table.len() as u64;
        let most = 20 * (self.rows + 5) + self.columns;
        for pivots in 0..most {
            if self.promised() > limit {
                self.ensure();
                if self.sure > limit {
                    return Ended::Above;
                }
            }
            // Nearly every re-solve takes a handful of pivots. One that takes so many goes round in a
            // circle: where nothing costs anything, every way is as good as every other.
            let careful = pivots >= 5 * (self.rows + 5);
            let broken = if careful { self.first_broken() } else { self.worst() };
            let Some((row, target)) = broken else {
                self.ensure();
                return if self.sure > limit { Ended::Above } else { Ended::Optimal };
            };
            let place = if careful { self.first_entering(row, target) } else { self.entering(row, target) };
            match place {
                Some(place) => self.pivot(row, place, target),
                None if self.refuted(row, target) => {
                    self.sure = f64::INFINITY;
                    return Ended::Infeasible;
                }
                None => break,
            }
            self.work += self.table.len() as u64;
        }
        self.ensure();
        Ended::Tired
    }

    /// How many figures the last solve has gone over: what it cost, the same on every machine.
    pub fn work(&self) -> u64 {
        self.work
    }

    /// The basic row that breaks its bound the most, and the bound that it goes to.
    fn worst(&self) -> Option<(usize, f64)> {
        let mut worst = BROKEN;
        let mut found = None;
        for (row, &variable) in self.basic.iter().enumerate() {
            let v = variable as usize;
            let (below, above) = (self.low[v] - self.value[v], self.value[v] - self.high[v]);
            // Columns count in units of up to hundreds; rows are of order 1. Both are judged as they are.
            if below > worst {
                (worst, found) = (below, Some((row, self.low[v])));
            }
            if above > worst {
                (worst, found) = (above, Some((row, self.high[v])));
            }
        }
        found
    }

    fn flip(&mut self, place: usize) {
        let v = self.nonbasic[place] as usize;
        let to = if self.at_low(v) { self.high[v] } else { self.low[v] };
        self.shift(place, to - self.value[v]);
        self.value[v] = to;
    }

    /// Whether a nonbasic variable stands at its lower bound: the nearer one, so that rounding in the
    /// value cannot make it neither.
    fn at_low(&self, variable: usize) -> bool {
        self.value[variable] - self.low[variable] <= self.high[variable] - self.value[variable]
    }

    /// Moves a nonbasic variable and the basic ones with it.
    fn shift(&mut self, place: usize, by: f64) {
        self.value[self.nonbasic[place] as usize] += by;
        for row in 0..self.rows {
            self.value[self.basic[row] as usize] += by * self.table[row * self.width + place];
        }
    }

    /// Exchanges the basic variable of `row` (which goes to `target`) with the nonbasic one at `place`.
    fn pivot(&mut self, row: usize, place: usize, target: f64) {
        let n = self.width;
        let leaving = self.basic[row];
        let entering = self.nonbasic[place];
        let start = row * n;
        let inverse = 1.0 / self.table[start + place];
        self.shift(place, (target - self.value[leaving as usize]) * inverse);
        self.value[leaving as usize] = target;

        let mut line = std::mem::take(&mut self.line);
        for (new, old) in line.iter_mut().zip(&self.table[start..start + n]) {
            *new = -old * inverse;
        }
        line[place] = inverse;
        self.table[start..start + n].copy_from_slice(&line);
        for (at, other) in self.table.chunks_exact_mut(n).enumerate() {
            if at != row {
                exchange(other, &line, place);
            }
        }
        exchange(&mut self.reduced, &line, place);
        self.line = line;
        self.basic[row] = entering;
        self.nonbasic[place] = leaving;
        self.place[entering as usize] = (self.columns + row) as u32;
        self.place[leaving as usize] = place as u32;
    }
}

/// `other += other[place] · line`, and the exchanged figure itself.
fn exchange(other: &mut [f64], line: &[f64], place: usize) {
    let factor = other[place];
    if factor == 0.0 {
        return;
    }
    other[place] = 0.0;
    for (a, l) in other.iter_mut().zip(line) {
        *a += factor * l;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FREE: f64 = 1e3;

    /// Hillier and Lieberman, *Introduction to Operations Research*, Wyndor Glass Co.: the optimum is
    /// 36 at (2, 6).
    #[test]
    fn a_textbook_program_has_its_published_optimum() {
        let rows = [
            (vec![1.0, 0.0], f64::NEG_INFINITY, 4.0),
            (vec![0.0, 2.0], f64::NEG_INFINITY, 12.0),
            (vec![3.0, 2.0], f64::NEG_INFINITY, 18.0),
        ];
        let mut simplex = Simplex::new(&[(0.0, FREE), (0.0, FREE)], &rows, &[vec![-3.0, -5.0]]);
        simplex.weigh(&[1.0]);
        assert_eq!(simplex.solve(f64::INFINITY), Ended::Optimal);
        assert!((simplex.objective() + 36.0).abs() < 1e-9);
        assert!((simplex.value(0) - 2.0).abs() < 1e-6 && (simplex.value(1) - 6.0).abs() < 1e-6);
    }

    /// Where nothing is left that could be poured, a row is kept by nothing at all or cannot be.
    #[test]
    fn without_columns_a_row_is_what_nothing_makes_of_it() {
        for (low, ended) in [(-1.0, Ended::Optimal), (0.5, Ended::Infeasible)] {
            let mut simplex = Simplex::new(&[], &[(vec![], low, 1.0)], &[vec![]]);
            simplex.weigh(&[1.0]);
            assert_eq!(simplex.solve(f64::INFINITY), ended);
        }
    }

    #[test]
    fn a_bound_that_cannot_be_kept_is_seen() {
        let rows = [(vec![1.0, 1.0], 5.0, f64::INFINITY)];
        let mut simplex = Simplex::new(&[(0.0, 2.0), (0.0, 4.0)], &rows, &[vec![1.0, 2.0]]);
        simplex.weigh(&[1.0]);
        simplex.bound(1, 0.0, 2.0);
        assert_eq!(simplex.solve(f64::INFINITY), Ended::Infeasible);
        simplex.bound(1, 0.0, 4.0);
        assert_eq!(simplex.solve(f64::INFINITY), Ended::Optimal);
        assert!((simplex.objective() - 8.0).abs() < 1e-9);
        assert_eq!(simplex.solve(7.0), Ended::Above);
    }
}
