//! Between which values most serves of a spec lie.

use super::{SERVES, Serves};
use crate::brief::{Measure, Pour};

/// The share of serves under the lower end, and over the upper one: nine of ten serves lie between.
pub const TAIL: f64 = 0.05;

impl Serves<'_> {
    /// The ends between which nine of ten serves of a spec lie, of each measure; nothing where a serve has no
    /// such figure. An end is the value of a serve, so that it exists.
    pub fn spreads(&self, pours: &[Pour], measures: &[Measure]) -> Vec<Option<(f64, f64)>> {
        let pours = self.ordered(pours);
        let mut values: Vec<Vec<f64>> = vec![Vec::with_capacity(SERVES); measures.len()];
        let mut poured = Vec::with_capacity(pours.len());
        for number in 0..SERVES {
            let served = self.one(&pours, number.into(), |_| true, &mut poured);
            measures.iter().zip(&mut values).for_each(|(m, values)| values.push(served.value(*m)));
        }
        values.into_iter().map(middle).collect()
    }
}

/// The values at both tails.
fn middle(mut values: Vec<f64>) -> Option<(f64, f64)> {
    if values.is_empty() || values.iter().any(|v| v.is_nan()) {
        return None;
    }
    values.sort_by(f64::total_cmp);
    let last = values.len() - 1;
    let at = |share: f64| values.get((share * last as f64).round() as usize).copied();
    at(TAIL).zip(at(1.0 - TAIL))
}

#[cfg(test)]
mod tests {
    use super::middle;

    #[test]
    fn nine_of_ten_lie_between_the_ends() {
        // 0 to 100: the 5th and the 95th of a hundred steps.
        assert_eq!(middle((0..=100).rev().map(f64::from).collect()), Some((5.0, 95.0)));
        assert_eq!(middle(vec![7.0]), Some((7.0, 7.0)));
        assert_eq!(middle(vec![]), None);
        assert_eq!(middle(vec![1.0, f64::NAN]), None);
    }
}
