//! The ratio test: which variable makes way for the one that breaks its bound.

use super::Simplex;
use crate::tolerance::{BROKEN, PIVOT};

/// Figures over this are pivoted on before any that is smaller, which may be rounding. Of up to a hundred columns
/// a millionth; what is left out costs the bound a little, of more columns more, so that it falls with their square
/// (tried on shelves of 30 to 1,000, no source).
pub(super) fn sound(columns: usize) -> f64 {
    (1e-2 / (columns as f64).powi(2)).clamp(PIVOT, 1e-6)
}

impl Simplex {
    /// The nonbasic place that enters for `row` to reach `target`, after flipping those whose whole
    /// range is not enough (the bound-flipping ratio test). `None`: the row cannot get there. Figures that
    /// may be little more than rounding are divided by only where the others do not bring it there.
    pub(super) fn entering(&mut self, row: usize, target: f64) -> Option<usize> {
        self.entering_over(self.sound, row, target).or_else(|| self.entering_over(PIVOT, row, target))
    }

    /// The same with figures over `least` alone.
    fn entering_over(&mut self, least: f64, row: usize, target: f64) -> Option<usize> {
        let leaving = self.basic[row] as usize;
        let mut gap = (target - self.value[leaving]).abs();
        let up = target > self.value[leaving];
        let figures = &self.table[row * self.width..(row + 1) * self.width];
        let mut breaks = std::mem::take(&mut self.breaks);
        breaks.clear();
        let places = figures.iter().zip(&self.nonbasic).zip(&self.reduced).enumerate();
        breaks.extend(places.filter_map(|(place, ((a, variable), d))| {
            let v = *variable as usize;
            if a.abs() <= least || self.low[v] >= self.high[v] {
                return None;
            }
            // Only moves inwards count: up from the lower bound, down from the upper.
            ((*a > 0.0) == (up == self.at_low(v))).then(|| ((d / a).abs(), place as u32))
        }));
        let reach = |place: u32| {
            let v = self.nonbasic[place as usize] as usize;
            figures[place as usize].abs() * (self.high[v] - self.low[v])
        };
        let mut entering = None;
        let mut flipped = 0;
        let mut sorted = 0;
        for at in 0..breaks.len() {
            if at == sorted {
                // Mostly the first has the whole way, or the first few: the rest need not be in order.
                sorted = first_in_order(&mut breaks, sorted);
            }
            let (_, place) = breaks[at];
            if reach(place) >= gap {
                entering = Some(place as usize);
                flipped = at;
                break;
            }
            gap -= reach(place);
        }
        if entering.is_some() {
            for &(_, place) in &breaks[..flipped] {
                self.flip(place as usize);
            }
        } else if gap <= BROKEN && !breaks.is_empty() {
            // The whole reach falls short by no more than rounding: take the last one in.
            for &(_, place) in &breaks[..breaks.len() - 1] {
                self.flip(place as usize);
            }
            entering = breaks.last().map(|&(_, place)| place as usize);
        }
        self.breaks = breaks;
        entering
    }
}

/// Puts the first of the breakpoints in its place, then the next few in order, more of them each time; gives how many are.
fn first_in_order(breaks: &mut [(f64, u32)], sorted: usize) -> usize {
    let order = |x: &(f64, u32), y: &(f64, u32)| x.0.total_cmp(&y.0).then(x.1.cmp(&y.1));
    if sorted == 0 {
        let first = (0..breaks.len()).min_by(|a, b| order(&breaks[*a], &breaks[*b]));
        first.into_iter().for_each(|first| breaks.swap(0, first));
        return 1;
    }
    let (rest, more) = (&mut breaks[sorted..], 2 * sorted + 8);
    if more >= rest.len() {
        rest.sort_unstable_by(order);
        return sorted + rest.len();
    }
    let (first, ..) = rest.select_nth_unstable_by(more, order);
    first.sort_unstable_by(order);
    sorted + more
}

#[cfg(test)]
mod tests {
    use crate::lp::simplex::Simplex;

    /// A row that may be brought where it has to go by a sound figure or by a speck goes by the sound one, though
    /// that costs more; where only a speck is left, it is taken.
    #[test]
    fn specks_are_taken_only_where_nothing_else_is_left() {
        let rows = [(vec![1.0, 1e-8], 0.05, f64::INFINITY)];
        let mut simplex = Simplex::new(&[(0.0, 1.0), (0.0, 1e7)], &rows, &[vec![1.0, 0.0]]);
        simplex.weigh(&[1.0]);
        simplex.settle();
        let (row, target) = simplex.worst().expect("the row is missed");
        assert_eq!(simplex.entering(row, target), Some(0));
        simplex.bound(0, 0.0, 0.0);
        assert_eq!(simplex.entering(row, target), Some(1));
    }
}
