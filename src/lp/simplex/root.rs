//! The rows as they were given, over the columns: what a tableau's figures stand for, however they have drifted.

use std::sync::Arc;

use super::{Simplex, ratio};

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
        let widest = bounds.iter().map(|(low, high)| low.abs().max(high.abs())).collect();
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
    /// A tableau at its slack basis. `rows` are (figures, lower, upper); `parts` are the objective's.
    pub fn new(bounds: &[(f64, f64)], rows: &[(Vec<f64>, f64, f64)], parts: &[Vec<f64>]) -> Self {
        let (n, m) = (bounds.len(), rows.len());
        let mut scaled: Vec<Vec<f64>> = Vec::with_capacity(m);
        let (mut low, mut high): (Vec<f64>, Vec<f64>) = bounds.iter().copied().unzip();
        for (figures, least, most) in rows {
            // Rows are scaled so that the largest possible term is 1, and bounded by what their terms
            // can reach: then every variable is bounded.
            let largest = figures.iter().zip(bounds).map(|(f, b)| (f * b.1).abs()).fold(0.0, f64::max);
            let scale = if largest > 0.0 { 1.0 / largest } else { 1.0 };
            let reach = 1.0 + figures.iter().zip(bounds).map(|(f, b)| (f * scale * b.1).abs()).sum::<f64>();
            scaled.push(figures.iter().map(|f| f * scale).collect());
            low.push((least * scale).max(-reach));
            high.push((most * scale).min(reach));
        }
        let mut root = Root::new(bounds, parts);
        root.extend(&scaled);
        let mut simplex = Self {
            columns: n,
            width: n,
            rows: m,
            table: vec![],
            reduced: vec![],
            basic: vec![],
            nonbasic: vec![],
            place: vec![],
            value: vec![0.0; n + m],
            breaks: Vec::with_capacity(n),
            line: vec![],
            work: 0,
            sound: ratio::sound(n),
            root: Arc::new(root),
            weights: vec![],
            sure: f64::NEG_INFINITY,
            sure_costs: vec![0.0; n],
            taken: vec![],
            low,
            high,
        };
        simplex.renew();
        simplex
    }

    /// The slack basis of the root's rows, in the place of what the tableau was.
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
