//! The rows as they were given, over the columns: what a tableau's figures stand for, however they have drifted.

use std::sync::Arc;

use super::Simplex;

/// Objective parts and rows.
#[derive(Debug, Clone, Default)]
pub(super) struct Root {
    /// A column's figures in all parts, then in all rows; one column after the other.
    figures: Vec<f64>,
    parts: usize,
    /// How far each column can be from zero.
    widest: Vec<f64>,
    /// What the terms of each part, then of each row, can add up to.
    reach: Vec<f64>,
}

impl Root {
    /// No rows yet, over columns with such bounds.
    pub fn new(bounds: &[(f64, f64)], parts: &[Vec<f64>]) -> Self {
        let widest = bounds.iter().map(|(lo, hi)| lo.abs().max(hi.abs())).collect();
        let mut root = Self { widest, parts: parts.len(), ..Self::default() };
        root.extend(parts);
        root
    }

    /// How many objective parts there are.
    pub fn parts(&self) -> usize {
        self.parts
    }

    /// A column's figures in all parts, then in all rows.
    pub fn column(&self, column: usize) -> &[f64] {
        let high = self.reach.len();
        &self.figures[column * high..(column + 1) * high]
    }

    /// A row's figure in every column.
    pub fn row(&self, row: usize) -> impl Iterator<Item = f64> + '_ {
        (0..self.widest.len()).map(move |column| self.column(column)[self.parts + row])
    }

    /// What the terms of each part, then of each row, can add up to.
    pub fn reach(&self) -> &[f64] {
        &self.reach
    }

    /// How far a column can be from zero.
    pub fn widest(&self, column: usize) -> f64 {
        self.widest[column]
    }

    /// What the terms of a sum over the columns can add up to.
    pub fn reach_of(&self, figures: &[f64]) -> f64 {
        figures.iter().zip(&self.widest).map(|(f, most)| (f * most).abs()).sum()
    }

    /// Adds rows, of a figure a column.
    pub fn extend(&mut self, rows: &[impl AsRef<[f64]>]) {
        let (old, high) = (self.reach.len(), self.reach.len() + rows.len());
        let mut figures = Vec::with_capacity(self.widest.len() * high);
        for column in 0..self.widest.len() {
            figures.extend_from_slice(&self.figures[column * old..(column + 1) * old]);
            figures.extend(rows.iter().map(|row| row.as_ref()[column]));
        }
        self.figures = figures;
        let reach: Vec<f64> = rows.iter().map(|row| self.reach_of(row.as_ref())).collect();
        self.reach.extend(reach);
    }

    /// Takes a row away; the youngest takes its number.
    pub fn swap_remove(&mut self, row: usize) {
        let (high, at) = (self.reach.len(), self.parts + row);
        let mut figures = Vec::with_capacity(self.figures.len());
        for column in self.figures.chunks_exact(high) {
            let kept = figures.len();
            figures.extend_from_slice(&column[..high - 1]);
            if at < high - 1 {
                figures[kept + at] = column[high - 1];
            }
        }
        self.figures = figures;
        self.reach.swap_remove(at);
    }
}

impl Simplex {
    /// Puts the slack basis of the root's rows in the place of a tableau whose figures have drifted.
    pub(super) fn renew(&mut self) {
        let (n, m, root) = (self.columns, self.rows, Arc::clone(&self.root));
        let parts = root.parts();
        self.width = n;
        self.table.clear();
        self.table.resize((m + parts) * n, 0.0);
        for column in 0..n {
            let (own_parts, own_rows) = root.column(column).split_at(parts);
            for (row, figure) in own_rows.iter().chain(own_parts).enumerate() {
                self.table[row * n + column] = *figure;
            }
        }
        self.basic = (n as u32..(n + m) as u32).collect();
        self.nonbasic = (0..n as u32).collect();
        self.place = (0..(n + m) as u32).collect();
        self.reduced.resize(n, 0.0);
        self.line.resize(n, 0.0);
        let weights = std::mem::take(&mut self.weights);
        self.weigh(&weights);
    }
}
