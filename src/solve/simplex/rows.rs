//! Rows that come and go: cuts are read off a basic variable's row, added, and dropped when slack.

use super::Simplex;

/// One figure of a basic variable's row.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Entry {
    /// The nonbasic variable.
    pub variable: usize,
    /// Its figure.
    pub figure: f64,
    /// Whether it stands at its lower bound.
    pub low: bool,
    /// Its lower bound.
    pub lo: f64,
    /// Its upper bound.
    pub hi: f64,
}

impl Simplex {
    /// How many rows there are.
    pub fn rows(&self) -> usize {
        self.rows
    }

    /// A basic column's row: for every nonbasic variable its index and figure, whether it stands at its
    /// lower bound, and its bounds. `None` for a nonbasic column.
    pub fn line_of(&self, column: usize) -> Option<Vec<Entry>> {
        let row = self.basic_row(column)?;
        let entry = |(figure, variable): (&f64, &u32)| {
            let v = *variable as usize;
            Entry { variable: v, figure: *figure, low: self.at_low(v), lo: self.lo[v], hi: self.hi[v] }
        };
        Some(self.row(row).iter().zip(&self.nonbasic).map(entry).collect())
    }

    /// Adds the row `Σ figure · (nonbasic variable) ≥ least`, figures in the order of the nonbasic places.
    pub fn add_row(&mut self, figures: &[f64], least: f64) {
        let at = self.rows * self.width;
        self.table.splice(at..at, figures.iter().copied());
        let reach: f64 = figures
            .iter()
            .zip(&self.nonbasic)
            .map(|(f, v)| (f * self.lo[*v as usize]).abs().max((f * self.hi[*v as usize]).abs()))
            .sum();
        let variable = (self.columns + self.rows) as u32;
        self.basic.push(variable);
        self.place.push((self.columns + self.rows) as u32);
        self.lo.push(least);
        self.hi.push(reach.max(least) + 1.0);
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
        self.table.drain(row * width..(row + 1) * width);
        self.rows -= 1;
        let last = n + self.rows;
        for variable in self.basic.iter_mut().chain(&mut self.nonbasic) {
            if *variable as usize == last {
                *variable = gone as u32;
            }
        }
        for figures in [&mut self.lo, &mut self.hi, &mut self.value] {
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
