//! Bounds that hold for the rows themselves, whatever rounding has done to the tableau.
//!
//! Of a tableau only its multipliers are taken, as a hint: any figures y a row give `cost · x = Σ y·row + Σ d·x` with
//! `d = cost − Σ y·row's figures`, and everything on the right is bounded, so that its least value is a bound (Neumaier
//! and Shcherbina, *Mathematical Programming* 99, 2004). Here d is formed anew from the rows as they were given, and
//! what its sums can be off by is taken from the bound: n terms added up in any order are off by at most `n·u/(1 − n·u)`
//! of what their sizes add up to, u half a unit in the last place (Higham, *Accuracy and Stability of Numerical
//! Algorithms*, 2002, chapter 4). So a tableau that has drifted gives a weaker bound, and never a wrong one.

use super::Simplex;
use super::rows::{Entry, Line, off};

/// A column's figure in parts and rows taken so often. Four sums beside each other are quicker than one.
fn figure(taken: &[f64], column: &[f64]) -> f64 {
    let (taken, column) = (taken.chunks_exact(4), column.chunks_exact(4));
    let rest: f64 = taken.remainder().iter().zip(column.remainder()).map(|(times, f)| times * f).sum();
    let mut sums = [0.0; 4];
    for (taken, column) in taken.zip(column) {
        for (sum, (times, figure)) in sums.iter_mut().zip(taken.iter().zip(column)) {
            *sum += times * figure;
        }
    }
    (sums[0] + sums[1]) + (sums[2] + sums[3]) + rest
}

impl Simplex {
    /// The bound that a figure asks for, where the least is wanted.
    pub(super) fn end(&self, variable: usize, figure: f64) -> f64 {
        if figure < 0.0 { self.high[variable] } else { self.low[variable] }
    }

    /// The columns that have not been shed.
    fn live(&self) -> impl Iterator<Item = usize> + '_ {
        let all = self.nonbasic.iter().chain(&self.basic).map(|v| *v as usize);
        all.filter(|v| *v < self.columns)
    }

    /// Nothing taken of any part or row, in memory that is there.
    fn nothing(&self, mut taken: Vec<f64>) -> Vec<f64> {
        taken.clear();
        taken.resize(self.root.reach().len(), 0.0);
        taken
    }

    /// Takes each row as often as a line of the tableau has it, so many times.
    fn take_rows(&self, line: &[f64], times: f64, taken: &mut [f64]) {
        let rows = &mut taken[self.root.parts()..];
        for (figure, v) in line.iter().zip(&self.nonbasic) {
            if let Some(row) = (*v as usize).checked_sub(self.columns) {
                rows[row] = times * figure;
            }
        }
    }

    /// What all columns' figures can be off by together.
    fn formed(&self, taken: &[f64]) -> f64 {
        off(taken.len(), taken.iter().zip(self.root.reach()).map(|(times, most)| times.abs() * most).sum())
    }

    /// The least that the objective in force can be, and the costs of the columns that go with it: with x a column
    /// away from the bound that its cost asks for, the objective is more by that cost times x at least.
    pub(super) fn ensure(&mut self) {
        let taken = std::mem::take(&mut self.taken);
        let mut taken = self.nothing(taken);
        taken[..self.weights.len()].copy_from_slice(&self.weights);
        self.take_rows(&self.reduced, -1.0, &mut taken);
        let mut costs = std::mem::take(&mut self.sure_costs);
        costs.resize(self.columns, 0.0);
        self.sure = self.least(&taken, |column, cost| costs[column] = cost);
        self.work += self.table.len() as u64;
        (self.sure_costs, self.taken) = (costs, taken);
    }

    /// The least value, over all bounds, of parts and rows taken so often and of rows put back as themselves; `told` of
    /// the figure of every column.
    fn least(&self, taken: &[f64], mut told: impl FnMut(usize, f64)) -> f64 {
        let (mut least, mut size) = (0.0, 0.0);
        let mut add = |end: f64| {
            least += end;
            size += end.abs();
        };
        for column in self.live() {
            let figure = figure(taken, self.root.column(column));
            told(column, figure);
            add(figure * self.end(column, figure));
        }
        for (row, times) in taken[self.root.parts()..].iter().enumerate() {
            add(-times * self.end(self.columns + row, -times));
        }
        least - self.formed(taken) - off(self.columns + taken.len(), size)
    }

    /// Whether no point keeps all bounds, as a basic row has it that cannot get to `target`: of 0 = Σ y·row + Σ d·x the
    /// right side is over zero wherever the bounds are kept (Farkas).
    pub(super) fn refuted(&mut self, row: usize, target: f64) -> bool {
        let leaving = self.basic[row] as usize;
        // Its variable less the rest of its row is nothing; turned so that to lie short of the target counts as more.
        let sign = if target > self.value[leaving] { 1.0 } else { -1.0 };
        let taken = std::mem::take(&mut self.taken);
        let mut taken = self.nothing(taken);
        self.take_rows(self.row(row), sign, &mut taken);
        if let Some(row) = leaving.checked_sub(self.columns) {
            taken[self.root.parts() + row] = -sign;
        }
        let refuted = self.least(&taken, |_, _| {}) > 0.0;
        self.taken = taken;
        refuted
    }

    /// What a basic variable is made of, as the rows have it; nothing of one that is not basic. What the tableau's
    /// figures leave over is in [`Line::off`].
    pub fn line_of(&self, variable: usize) -> Option<Line> {
        let row = self.basic_row(variable)?;
        // Variable = Σ y·row + Σ d·x, with d of the variable itself, and of others that are basic, near nothing.
        let line = self.row(row);
        let mut taken = self.nothing(vec![]);
        self.take_rows(line, -1.0, &mut taken);
        if let Some(row) = variable.checked_sub(self.columns) {
            taken[self.root.parts() + row] = 1.0;
        }
        let entry = |v: usize, figure: f64, cost: f64| Entry {
            variable: v,
            figure,
            at_low: self.at_low(v),
            cost,
            low: self.low[v],
            high: self.high[v],
        };
        let mut entries = Vec::with_capacity(self.width);
        let (mut left, mut size) = (0.0, 0.0);
        for column in self.live() {
            let own = if column == variable { 1.0 } else { 0.0 };
            let figure = own + figure(&taken, self.root.column(column));
            let reach = figure.abs() * self.root.widest(column);
            size += reach;
            if self.basic_row(column).is_some() {
                left += reach;
            } else {
                entries.push(entry(column, figure, self.sure_costs[column]));
            }
        }
        for (place, v) in self.nonbasic.iter().enumerate().filter(|(_, v)| **v as usize >= self.columns) {
            let (v, figure) = (*v as usize, line[place]);
            entries.push(entry(v, figure, self.reduced[place]));
            size += figure.abs() * self.low[v].abs().max(self.high[v].abs());
        }
        let own = if variable < self.columns { self.root.widest(variable) } else { 0.0 };
        let off = left + self.formed(&taken) + off(1, own) + off(2 * entries.len() + taken.len(), size);
        Some(Line { entries, off })
    }
}

/// Seeded programs, and figures without rounding, for the tests of whatever stands on a tableau.
#[cfg(test)]
pub mod tests {
    use num_rational::BigRational;
    use rand::{Rng, RngExt, SeedableRng};
    use rand_pcg::Pcg64Mcg;

    use super::*;
    use crate::lp::simplex::Ended;

    /// So many columns, each from nothing to this.
    const COLUMNS: usize = 4;
    const MOST: i32 = 4;

    impl Simplex {
        /// What a variable is at whole amounts of the columns, without any rounding.
        pub fn exactly(&self, variable: usize, amounts: &[i32]) -> BigRational {
            let Some(row) = variable.checked_sub(self.columns) else { return whole(amounts[variable]) };
            let terms = self.root.row(row).zip(amounts);
            terms.map(|(figure, amount)| rational(figure) * whole(*amount)).sum()
        }

        /// The bounds of the youngest row.
        pub fn youngest(&self) -> (usize, f64) {
            let variable = self.columns + self.rows - 1;
            (variable, self.low[variable])
        }

        /// Moves every figure of the tableau by up to so much.
        pub fn damage(&mut self, rng: &mut impl Rng, by: f64) {
            for figure in self.table.iter_mut().chain(&mut self.reduced) {
                *figure += by * rng.random_range(-1.0..1.0);
            }
        }
    }

    /// A figure as it is.
    ///
    /// # Panics
    /// If it is no number.
    pub fn rational(figure: f64) -> BigRational {
        BigRational::from_float(figure).expect("a number")
    }

    fn whole(amount: i32) -> BigRational {
        rational(f64::from(amount))
    }

    /// A seeded program in whole figures that a point in it keeps, and what every whole point that keeps it costs. Its
    /// limits are loosened by what scaling a row may move.
    pub fn program(rng: &mut impl Rng) -> (Simplex, Vec<(Vec<i32>, i32)>) {
        let hidden: Vec<i32> = (0..COLUMNS).map(|_| rng.random_range(0..=MOST)).collect();
        let at = |figures: &[i32], x: &[i32]| -> i32 { figures.iter().zip(x).map(|(a, x)| a * x).sum() };
        let costs: Vec<i32> = (0..COLUMNS).map(|_| rng.random_range(-5..=9)).collect();
        let rows: Vec<(Vec<i32>, i32)> = (0..rng.random_range(1..=4))
            .map(|_| {
                let figures: Vec<i32> = (0..COLUMNS).map(|_| rng.random_range(-4..=7)).collect();
                let least = at(&figures, &hidden) - rng.random_range(0..=2);
                (figures, least)
            })
            .collect();
        let floats = |figures: &[i32]| figures.iter().map(|f| f64::from(*f)).collect::<Vec<f64>>();
        let loosened =
            |(figures, least): &(Vec<i32>, i32)| (floats(figures), f64::from(*least) - 1e-9, f64::INFINITY);
        let given: Vec<(Vec<f64>, f64, f64)> = rows.iter().map(loosened).collect();
        let simplex = Simplex::new(&[(0.0, f64::from(MOST)); COLUMNS], &given, &[floats(&costs)]);
        let each = MOST + 1;
        let points = (0..each.pow(COLUMNS as u32))
            .map(|code| (0..COLUMNS as u32).map(|c| code / each.pow(c) % each).collect::<Vec<i32>>());
        let keeps = |x: &Vec<i32>| rows.iter().all(|(figures, least)| at(figures, x) >= *least);
        let points = points.filter(keeps).map(|x| (at(&costs, &x), x)).map(|(cost, x)| (x, cost)).collect();
        (simplex, points)
    }

    /// However the figures of a tableau have been damaged, no point that keeps the rows is lost: none is told to be
    /// none, and no bound is over what it costs; though what such a tableau promises often is.
    #[test]
    fn damage_never_costs_a_point() {
        let mut rng = Pcg64Mcg::seed_from_u64(24);
        let mut lied = 0;
        for try_ in 0..2_000 {
            let (mut simplex, points) = program(&mut rng);
            let least = points.iter().map(|(_, cost)| *cost).min().expect("the hidden point");
            simplex.weigh(&[1.0]);
            if try_ % 2 == 0 {
                let _ = simplex.solve(f64::INFINITY);
            }
            simplex.damage(&mut rng, 10_f64.powi(-(try_ % 12)));
            let ended = simplex.run(f64::from(least));
            assert!(!matches!(ended, Ended::Infeasible | Ended::Above), "{try_}: {ended:?}");
            assert!(rational(simplex.objective()) <= whole(least), "{try_}");
            lied += usize::from(simplex.promised() > f64::from(least) + 1e-6);
        }
        assert!(lied > 100, "{lied}");
    }

    /// Every whole point on one side of a value costs at least what is said of that side.
    #[test]
    fn pressing_costs_at_least_what_is_said() {
        let mut rng = Pcg64Mcg::seed_from_u64(25);
        let mut told = 0;
        for try_ in 0..2_000 {
            let (mut simplex, points) = program(&mut rng);
            simplex.weigh(&[1.0]);
            assert_eq!(simplex.solve(f64::INFINITY), Ended::Optimal);
            if try_ % 2 == 0 {
                simplex.damage(&mut rng, 10_f64.powi(-(try_ % 11)));
                simplex.ensure();
            }
            for column in 0..COLUMNS {
                let (low, high) = (simplex.value(column).floor(), simplex.value(column).floor() + 1.0);
                let (down, up) = simplex.sure_penalties(column, low, high, &simplex.steps(|_| 1.0));
                for (x, cost) in &points {
                    let rise = if f64::from(x[column]) <= low { down } else { up };
                    // The last digits of one product are not rounded downwards.
                    let bound = simplex.objective() + rise * (1.0 - 1e-12);
                    assert!(f64::from(*cost) >= bound - 1e-12, "{try_}: {x:?} costs {cost}, not {bound}");
                }
                told += usize::from(down.min(up) > 1e-3);
            }
        }
        assert!(told > 100, "{told}");
    }
}
