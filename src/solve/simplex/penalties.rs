//! What a branch costs at least, before it is solved.

use super::Simplex;
use crate::tolerance::PIVOT;

impl Simplex {
    /// At least how much the objective rises if the column is pressed down to `low` and if it is
    /// pressed up to `high`: for a basic column the first step of the dual simplex in each direction,
    /// strengthened by what each nonbasic column moves at least if it moves at all (`moves`; Tomlin,
    /// *Operations Research* 19, 1971).
    pub fn penalties(&self, column: usize, low: f64, high: f64, moves: &[f64]) -> (f64, f64) {
        let place = self.place[column] as usize;
        if place < self.columns {
            let (value, cost) = (self.value[column], self.reduced[place]);
            return ((cost * (low - value)).max(0.0), (cost * (high - value)).max(0.0));
        }
        let value = self.value[column];
        let (fall, climb) = ((value - low).max(0.0), (high - value).max(0.0));
        let (mut down, mut up) = (f64::INFINITY, f64::INFINITY);
        let Some(row) = self.basic_row(column) else { return (0.0, 0.0) };
        for ((a, d), &variable) in self.row(row).iter().zip(&self.reduced).zip(&self.nonbasic) {
            let v = variable as usize;
            if a.abs() <= PIVOT || self.lo[v] >= self.hi[v] {
                continue;
            }
            let (rate, first) = ((d / a).abs(), d.abs() * moves.get(v).copied().unwrap_or(0.0));
            if (*a > 0.0) == self.at_low(v) {
                up = up.min(first.max(rate * climb));
            } else {
                down = down.min(first.max(rate * fall));
            }
        }
        (if fall > 0.0 { down } else { 0.0 }, if climb > 0.0 { up } else { 0.0 })
    }
}
