//! What no glass goes without, so that free pours do not come to nothing.

use super::{Model, Objective};
use crate::brief::{Measure, Side};
use crate::liquid::Portion;

/// What no glass goes without.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Something {
    /// Anything at all.
    Drink,
    /// Acid, where a ratio is taken over it.
    Acid,
    /// Sugar, where there has to be so much for the acid.
    Sugar,
}

/// Less than this of anything is not there to be tasted, ml or g. Common practice, no source.
const TASTE: f64 = 0.1;

impl Model<'_> {
    /// What has to be in every glass, as figures a column whose sum is at least one: an empty glass is no
    /// drink, sugar over no acid is no ratio, and neither is nothing over nothing. Nothing where a limit
    /// says so already, or where any amount may be poured.
    ///
    /// Of a drink that nothing bounds from below, the least is a least pour; of what is sweet or acid, a
    /// taste is enough.
    pub fn something(&self, objective: &Objective) -> Vec<(Something, Vec<f64>)> {
        let limits = |measure: Measure, side: Side| {
            self.limits.iter().any(|l| (l.measure, l.side) == (measure, side) && l.value > 0.0)
        };
        let over_acid = limits(Measure::SugarAcid, Side::Max) || objective.is_over_acid();
        let acid = over_acid && !limits(Measure::Acid, Side::Min);
        let sugar = limits(Measure::SugarAcid, Side::Min) && !limits(Measure::Sugar, Side::Min);
        // What is acid or sweet is something.
        let drink = !(limits(Measure::Volume, Side::Min) || acid || sugar);
        let wanted = [(Something::Drink, drink), (Something::Acid, acid), (Something::Sugar, sugar)];
        let figures = |something: Something| {
            let least = |at: usize| match something {
                Something::Drink => Some(self.columns[at].least),
                Something::Acid => self.may_have(at, |portion| portion.masses.acid).then(|| self.taste(at)),
                Something::Sugar => self.may_have(at, |portion| portion.sugars).then(|| self.taste(at)),
            };
            Some((something, self.some_of(least)?))
        };
        let all =
            wanted.iter().filter(|(_, wanted)| *wanted).filter_map(|(something, _)| figures(*something));
        // A program with the same row twice is harder to solve, and no other one.
        let mut once: Vec<(Something, Vec<f64>)> = vec![];
        for (something, row) in all {
            if once.iter().all(|(_, other)| *other != row) {
                once.push((something, row));
            }
        }
        once
    }

    /// A figure a column whose sum is at least one where any of them is poured by its least, in units;
    /// `None` where some least is nothing.
    fn some_of(&self, least: impl Fn(usize) -> Option<f64>) -> Option<Vec<f64>> {
        let figure = |at: usize| match least(at) {
            None => Some(0.0),
            Some(least) => (least > 0.0).then(|| 1.0 / least),
        };
        (0..self.columns.len()).map(figure).collect()
    }

    /// A taste of a column, in units: no more than its least pour.
    fn taste(&self, column: usize) -> f64 {
        let column = &self.columns[column];
        column.least.min(TASTE / column.unit)
    }

    /// Whether a column has some of this, in any of its compositions.
    fn may_have(&self, column: usize, figure: impl Fn(&Portion) -> f64) -> bool {
        let has = |portion: &Portion| figure(portion) > 0.0;
        has(&self.typical[column])
            || self.spread.as_ref().is_some_and(|spread| spread.corners[column].iter().any(has))
    }
}
