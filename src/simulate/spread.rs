//! Between which values most serves of a spec lie.

use super::{SERVES, Serves, Tally, Which};
use crate::brief::{Measure, Pour};

/// The share of serves under the lower end, and over the upper one: nine of ten serves lie between.
pub const TAIL: f64 = 0.05;

impl Tally {
    /// The ends between which nine of ten serves lie, of each measure of [`Self::within`]; nothing where a serve has no
    /// such figure. An end is the value of a serve, so that it exists.
    pub fn spreads(&self) -> Vec<Option<(f64, f64)>> {
        self.values.iter().cloned().map(middle).collect()
    }
}

impl Serves<'_> {
    /// How far each measure of a spec's serves strays from its mean (standard deviation), over so many serves; NaN
    /// where a serve has no such figure.
    pub fn deviations(&self, pours: &[Pour], measures: &[Measure], serves: usize) -> Vec<f64> {
        let mut sums = vec![(0.0, 0.0); measures.len()];
        let count = self.each(pours, measures, serves, |at, value| {
            let (sum, squares) = &mut sums[at];
            (*sum, *squares) = (*sum + value, *squares + value * value);
        }) as f64;
        let deviation = |(sum, squares): (f64, f64)| {
            let variance = squares / count - (sum / count).powi(2);
            // Under nothing by rounding alone; `max` would make nothing of what is undefined.
            if variance < 0.0 { 0.0 } else { variance.sqrt() }
        };
        sums.into_iter().map(deviation).collect()
    }

    /// Within what of the given value of each measure such a share of a spec's serves lies, over so many serves.
    pub fn strays(
        &self,
        pours: &[Pour],
        measures: &[(Measure, f64)],
        (share, serves): (f64, usize),
    ) -> Vec<f64> {
        let names: Vec<Measure> = measures.iter().map(|(measure, _)| *measure).collect();
        let mut apart = vec![Vec::new(); measures.len()];
        let count =
            self.each(pours, &names, serves, |at, value| apart[at].push((value - measures[at].1).abs()));
        let place = (share * (count - 1) as f64).ceil() as usize;
        apart.into_iter().map(|mut apart| *apart.select_nth_unstable_by(place, f64::total_cmp).1).collect()
    }

    /// Takes the value of each measure, by its place, in so many serves; gives how many there were.
    fn each(
        &self,
        pours: &[Pour],
        measures: &[Measure],
        serves: usize,
        mut take: impl FnMut(usize, f64),
    ) -> usize {
        let pours = self.ordered(pours);
        let mut stretch = self.stretch();
        let serves = serves.clamp(1, SERVES);
        let numbers: Vec<usize> = (0..serves).collect();
        for which in Which::all(&numbers) {
            self.pour(&pours, which, &|_| true, &mut stretch);
            for (at, measure) in measures.iter().enumerate() {
                let values = self.values(*measure, &stretch).into_iter().take(which.numbers.len());
                values.for_each(|value| take(at, value));
            }
        }
        serves
    }
}

/// The values at both tails.
fn middle(mut values: Vec<f64>) -> Option<(f64, f64)> {
    if values.is_empty() || values.iter().any(|v| v.is_nan()) {
        return None;
    }
    let last = values.len() - 1;
    let mut at = |share: f64| {
        let at = (share * last as f64).round() as usize;
        Some(*values.select_nth_unstable_by(at, f64::total_cmp).1)
    };
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
