//! Rows that come and go: cuts are read off a basic variable's line, added, and dropped when slack.

use std::sync::Arc;

use super::Simplex;

/// A basic variable as a sum over the nonbasic ones, good to within so much wherever all bounds are kept.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// A figure a nonbasic variable.
    pub entries: Vec<Entry>,
    /// By how much the sum may be off.
    pub off: f64,
}

/// What a sum of so many terms may be off by, where their sizes add up to `size`: a unit in the last place for each, twice
/// what is needed, and a few for what is done with it.
pub(super) fn off(terms: usize, size: f64) -> f64 {
    (terms + 8) as f64 * f64::EPSILON * size
}

/// One figure of a basic variable's line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Entry {
    /// The nonbasic variable.
    pub variable: usize,
    /// Its figure.
    pub figure: f64,
    /// Whether it is seen from its lower bound, as it is where it stands there.
    pub at_low: bool,
    /// Its reduced cost.
    pub cost: f64,
    /// Its lower bound.
    pub low: f64,
    /// Its upper bound.
    pub high: f64,
}

impl Entry {
    /// The bound that it is seen from.
    pub fn bound(&self) -> f64 {
        if self.at_low { self.low } else { self.high }
    }

    /// How much the basic variable rises for each unit that this one moves off that bound.
    pub fn slope(&self) -> f64 {
        if self.at_low { self.figure } else { -self.figure }
    }

    /// How far it can move.
    pub fn range(&self) -> f64 {
        self.high - self.low
    }
}

impl Line {
    /// The sum where every variable is at the bound that it is seen from.
    pub fn value(&self) -> f64 {
        self.entries.iter().map(|entry| entry.figure * entry.bound()).sum()
    }
}

impl Simplex {
    /// How many rows there are.
    pub fn rows(&self) -> usize {
        self.rows
    }

    /// Adds the row `Σ figure · (nonbasic variable) ≥ least`.
    pub fn add_row(&mut self, figures: &[(usize, f64)], least: f64) {
        let mut own = vec![0.0; self.columns];
        let mut places = vec![0.0; self.width];
        let (mut size, mut reach) = (0.0, 0.0);
        for &(variable, figure) in figures.iter().filter(|(_, f)| *f != 0.0) {
            places[self.place[variable] as usize] = figure;
            reach += (figure * self.low[variable]).abs().max((figure * self.high[variable]).abs());
            if let Some(row) = variable.checked_sub(self.columns) {
                own.iter_mut().zip(self.root.row(row)).for_each(|(d, a)| *d += figure * a);
                size += figure.abs() * self.root.reach()[self.root.parts() + row];
            } else {
                own[variable] += figure;
                size += figure.abs() * self.root.widest(variable);
            }
        }
        // The row over the columns is the one that counts: what forming it has moved is taken off the bound.
        let least = least - off(figures.len(), size);
        self.push_row(&own, &places, (least, reach.max(least) + 1.0));
    }

    /// Adds a row, over the columns and over the nonbasic places.
    pub(super) fn push_row(&mut self, own: &[f64], places: &[f64], (low, high): (f64, f64)) {
        let at = self.rows * self.width;
        self.table.splice(at..at, places.iter().copied());
        Arc::make_mut(&mut self.root).extend(&[own]);
        self.basic.push((self.columns + self.rows) as u32);
        self.place.push((self.columns + self.rows) as u32);
        self.low.push(low);
        self.high.push(high);
        self.value.push(0.0);
        self.rows += 1;
    }

    /// Takes away the rows from `first` on (by age) that do not bind.
    pub fn drop_slack_rows(&mut self, first: usize) {
        let mut row = self.rows;
        while row > 0 {
            row -= 1;
            if self.basic[row] as usize >= self.columns + first {
                self.drop_row(row);
            }
        }
    }

    /// Takes away a basic row; the youngest row takes over its variable's number.
    fn drop_row(&mut self, row: usize) {
        let n = self.columns;
        let width = self.width;
        let gone = self.basic.remove(row) as usize;
        Arc::make_mut(&mut self.root).swap_remove(gone - n);
        self.table.drain(row * width..(row + 1) * width);
        self.rows -= 1;
        let last = n + self.rows;
        for variable in self.basic.iter_mut().chain(&mut self.nonbasic) {
            if *variable as usize == last {
                *variable = gone as u32;
            }
        }
        for figures in [&mut self.low, &mut self.high, &mut self.value] {
            figures.swap_remove(gone);
        }
        self.place.truncate(n + self.rows);
        for (place, variable) in self.nonbasic.iter().enumerate() {
            self.place[*variable as usize] = place as u32;
        }
        for (row, variable) in self.basic.iter().enumerate() {
            self.place[*variable as usize] = (n + row) as u32;
        }
    }
}
