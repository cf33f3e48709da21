//! The corners of `{z ≥ 0 : M z = q}`: a small dense primal simplex that keeps its corner, so that
//! many questions to one set cost a few pivots each.
//!
//! The backend of [`crate::lp::linear`] is not asked here: it takes its tolerance of 1e-7 up in
//! full and starts anew for every question, and the sets here are so thin that both would tell.

use crate::tolerance::PIVOT;

/// By how much an equation may be missed so that the set still counts as not empty. Equations are of
/// order 1; the point that they were built from is known to about this.
const MISSED: f64 = 1e-6;
/// Below this gain a step is none. Equations and weights are of order 1.
const GAIN: f64 = 1e-10;

/// How far a weight can be driven up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Top {
    /// Up to this.
    At(f64),
    /// Without end.
    Endless,
}

/// A set and one of its corners.
#[derive(Debug, Clone)]
pub(super) struct Corners {
    rows: usize,
    /// Variables; after them stand as many artificial ones as there are rows, then the right side.
    real: usize,
    table: Vec<f64>,
    basis: Vec<usize>,
    /// -1 where a row was turned so that its right side is not negative.
    turned: Vec<f64>,
}

impl Corners {
    /// A corner of the set; `None` where it is empty. `columns[k]` are the figures of variable k.
    pub fn new(columns: &[Vec<(usize, f64)>], right: &[f64]) -> Option<Self> {
        let (rows, real) = (right.len(), columns.len());
        let width = real + rows + 1;
        let turned: Vec<f64> = right.iter().map(|q| if *q < 0.0 { -1.0 } else { 1.0 }).collect();
        let mut table = vec![0.0; rows * width];
        for (k, column) in columns.iter().enumerate() {
            column.iter().for_each(|(row, figure)| table[row * width + k] += figure * turned[*row]);
        }
        for row in 0..rows {
            table[row * width + real + row] = 1.0;
            table[row * width + width - 1] = right[row].abs();
        }
        let mut basis: Vec<usize> = (real..real + rows).collect();
        for (k, column) in columns.iter().enumerate() {
            // A variable that stands in one equation alone starts there: on a long shelf that is nearly
            // every equation, and each saves a pivot over the whole table.
            if let [(row, figure)] = column.as_slice()
                && figure * turned[*row] == 1.0
                && basis[*row] >= real
            {
                basis[*row] = k;
            }
        }
        let mut set = Self { rows, real, table, basis, turned };
        set.fill().then_some(set)
    }

    fn width(&self) -> usize {
        self.real + self.rows + 1
    }

    fn right(&self, row: usize) -> f64 {
        self.table[(row + 1) * self.width() - 1]
    }

    /// Drives the artificial variables out, as far as they go.
    fn fill(&mut self) -> bool {
        let width = self.width();
        let mut gains = vec![0.0; width];
        for row in (0..self.rows).filter(|row| self.basis[*row] >= self.real) {
            for (gain, figure) in gains[..self.real].iter_mut().zip(&self.table[row * width..]) {
                *gain += figure;
            }
        }
        if self.climb(&mut gains, Artificial::Falls) != Some(false) {
            return false;
        }
        for row in 0..self.rows {
            if self.basis[row] >= self.real {
                let at = (row + 1) * width - 1;
                if self.table[at].abs() > MISSED {
                    return false;
                }
                self.table[at] = 0.0;
            }
        }
        true
    }

    /// The most of `Σ weight · variable`, and the corner goes there. `None` where the pivots run out.
    pub fn highest(&mut self, weights: &[(usize, f64)]) -> Option<Top> {
        let width = self.width();
        let mut gains = vec![0.0; width];
        weights.iter().for_each(|(k, weight)| gains[*k] += weight);
        let weight_of = gains[..self.real].to_vec();
        for row in 0..self.rows {
            let weight = weight_of.get(self.basis[row]).copied().unwrap_or(0.0);
            if weight != 0.0 {
                let line = &self.table[row * width..(row + 1) * width];
                gains.iter_mut().zip(line).for_each(|(gain, figure)| *gain -= weight * figure);
            }
        }
        let endless = self.climb(&mut gains, Artificial::Stays)?;
        let value = || weights.iter().map(|(k, weight)| weight * self.value(*k)).sum();
        Some(if endless { Top::Endless } else { Top::At(value()) })
    }

    /// How far the right side of `row` can go in the direction of `sign` with the set not empty.
    pub fn furthest(&self, row: usize, sign: f64) -> Option<Top> {
        let (width, real) = (self.width(), self.real);
        let mut wide =
            Self { real: real + 1, table: Vec::with_capacity(self.table.len() + self.rows), ..self.clone() };
        wide.table.clear();
        for at in 0..self.rows {
            let line = &self.table[at * width..(at + 1) * width];
            wide.table.extend_from_slice(&line[..real]);
            // M z - sign·t·e = q: the artificial column of the row holds what the pivots made of e.
            wide.table.push(-sign * self.turned[row] * line[real + row]);
            wide.table.extend_from_slice(&line[real..]);
        }
        wide.basis.iter_mut().filter(|k| **k >= real).for_each(|k| *k += 1);
        wide.highest(&[(real, 1.0)])
    }

    /// A variable at the corner.
    pub fn value(&self, variable: usize) -> f64 {
        let row = self.basis.iter().position(|k| *k == variable);
        row.map_or(0.0, |row| self.right(row))
    }

    /// Every variable at the corner.
    pub fn point(&self) -> Vec<f64> {
        let mut point = vec![0.0; self.real];
        for (row, k) in self.basis.iter().enumerate() {
            if *k < self.real {
                point[*k] = self.right(row);
            }
        }
        point
    }

    /// Pivots while anything gains; whether it would go on for ever. `None` where the pivots run out.
    fn climb(&mut self, gains: &mut [f64], artificial: Artificial) -> Option<bool> {
        let quick_steps = 4 * (self.rows + 10);
        for step in 0..40 * (self.rows + self.real + 10) {
            let careful = step > quick_steps;
            let Some(enters) = self.entering(gains, careful) else { return Some(false) };
            let Some(leaves) = self.leaving(enters, artificial, careful) else { return Some(true) };
            self.pivot(leaves, enters, gains);
        }
        None
    }

    /// The variable that gains the most; once `careful`, the first that gains (Bland's rule, so that
    /// degenerate corners are not gone round for ever).
    fn entering(&self, gains: &[f64], careful: bool) -> Option<usize> {
        let gaining = gains[..self.real].iter().enumerate().filter(|(_, gain)| **gain > GAIN);
        if careful {
            return gaining.map(|(k, _)| k).next();
        }
        gaining.max_by(|a, b| a.1.total_cmp(b.1).then(b.0.cmp(&a.0))).map(|(k, _)| k)
    }

    /// The row whose variable reaches zero first.
    fn leaving(&self, enters: usize, artificial: Artificial, careful: bool) -> Option<usize> {
        let width = self.width();
        let mut best: Option<(f64, f64, usize)> = None;
        for row in 0..self.rows {
            let figure = self.table[row * width + enters];
            let fixed = artificial == Artificial::Stays && self.basis[row] >= self.real;
            let ratio = match figure {
                _ if figure.abs() <= PIVOT => continue,
                _ if fixed => 0.0,
                f if f > 0.0 => self.right(row).max(0.0) / f,
                _ => continue,
            };
            let better = best.is_none_or(|(least, size, at)| {
                let tied = (ratio - least).abs() <= 1e-12 * (1.0 + least.abs());
                match (tied, careful) {
                    (false, _) => ratio < least,
                    (true, false) => figure.abs() > size,
                    (true, true) => self.basis[row] < self.basis[at],
                }
            });
            if better {
                best = Some((ratio, figure.abs(), row));
            }
        }
        best.map(|(.., row)| row)
    }

    fn pivot(&mut self, row: usize, enters: usize, gains: &mut [f64]) {
        let width = self.width();
        let start = row * width;
        let inverse = 1.0 / self.table[start + enters];
        self.table[start..start + width].iter_mut().for_each(|figure| *figure *= inverse);
        self.table[start + enters] = 1.0;
        let line = self.table[start..start + width].to_vec();
        for (other, figures) in self.table.chunks_exact_mut(width).enumerate() {
            if other != row {
                clear(figures, &line, enters);
            }
        }
        clear(gains, &line, enters);
        self.basis[row] = enters;
    }
}

/// What artificial variables may do in a climb.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Artificial {
    /// They are what is driven down.
    Falls,
    /// They are at zero and stay there.
    Stays,
}

fn clear(other: &mut [f64], line: &[f64], enters: usize) {
    let factor = other[enters];
    if factor != 0.0 {
        other.iter_mut().zip(line).for_each(|(figure, by)| *figure -= factor * by);
        other[enters] = 0.0;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// z0 + z1 = 2, z0 - z2 = 0.5.
    fn set() -> Corners {
        let columns = [vec![(0, 1.0), (1, 1.0)], vec![(0, 1.0)], vec![(1, -1.0)]];
        Corners::new(&columns, &[2.0, 0.5]).expect("a set that is not empty")
    }

    #[test]
    fn weights_go_to_their_ends() {
        let mut set = set();
        assert_eq!(set.highest(&[(0, 1.0)]), Some(Top::At(2.0)));
        assert_eq!(set.highest(&[(0, -1.0)]), Some(Top::At(-0.5)));
        assert_eq!(set.highest(&[(1, 1.0), (2, 0.5)]), Some(Top::At(1.5)));
    }

    #[test]
    fn a_right_side_goes_as_far_as_the_set_lasts() {
        assert_eq!(set().furthest(0, 1.0), Some(Top::Endless));
        assert_eq!(set().furthest(0, -1.0), Some(Top::At(1.5)));
        assert_eq!(set().furthest(1, 1.0), Some(Top::At(1.5)));
        assert_eq!(set().furthest(1, -1.0), Some(Top::Endless));
    }

    #[test]
    fn an_empty_set_has_no_corner() {
        assert!(Corners::new(&[vec![(0, 1.0)]], &[-1.0]).is_none());
    }
}
