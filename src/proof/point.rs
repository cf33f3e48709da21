//! What a spec measures, enclosed: every figure of the glass as an interval that holds the true one.

use super::facts::{Facts, LOOSE, Limit, Score};
use super::interval::Interval;
use super::lines::{Curve, melt_share};
use crate::brief::{Measure, Numerator, Over, Side};
use crate::liquid::heat::FUSION;
use crate::liquid::ice::{self, Balance};
use crate::liquid::{CITRIC_VOLUME, Portion, ethanol};

/// A drink, enclosed.
pub struct Point<'a> {
    facts: &'a Facts<'a>,
    portions: &'a [Portion],
    amounts: Vec<Interval>,
    melt: Interval,
    iced: Interval,
    volume: Interval,
}

impl<'a> Point<'a> {
    /// So many steps of every column, each of the composition that stands in `portions`.
    pub fn new(facts: &'a Facts<'a>, portions: &'a [Portion], steps: &[i64]) -> Self {
        let amount = |(column, steps): (&super::facts::Column, &i64)| {
            Interval::from(column.unit) * Interval::from(*steps as f64)
        };
        let amounts: Vec<Interval> = facts.columns.iter().zip(steps).map(amount).collect();
        let sum = |figure: &dyn Fn(&Portion) -> f64| -> Interval {
            amounts.iter().zip(portions).map(|(a, p)| *a * Interval::from(figure(p))).sum()
        };
        let melting = facts.brief.serve.melting();
        let worked = sum(&|p| p.worked);
        let spirit = amounts.iter().zip(portions);
        let spirit: Interval =
            spirit.map(|(a, p)| *a * Interval::from(p.worked) * Interval::from(p.strength)).sum();
        let strength = if worked.low > 0.0 { spirit / worked } else { Interval::ZERO };
        let first = melt_share(melting.working, strength) * worked;
        let density = Interval::from(ethanol::WATER);
        let (e, s, a) = (sum(&|p| p.masses.ethanol), sum(&|p| p.masses.solids), sum(&|p| p.masses.acid));
        let water = sum(&|p| p.masses.water) + first * density;
        let iced = melting.glass.map_or(Interval::ZERO, |balance| {
            let brought =
                sum(&|p| balance.brought(p)) + Interval::from(balance.worked_water()) * first * density;
            melted(balance, e, water, brought) / density
        });
        let water = water + iced * density;
        let share =
            |part: Interval, whole: Interval| if whole.low > 0.0 { part / whole } else { Interval::ZERO };
        let of = |curve: Curve, part: Interval| (part + water) * curve.at(share(part, part + water));
        let volume = of(Curve::Spirit, e) + of(Curve::Syrup, s) - water / density
            + Interval::from(CITRIC_VOLUME) * a
            + sum(&|p| p.excess);
        Self { facts, portions, amounts, melt: first + iced, iced, volume }
    }

    /// The value of a measure; everything where it is undefined.
    pub fn value(&self, measure: Measure) -> Interval {
        let sum = |figure: &dyn Fn(usize) -> f64| -> Interval {
            self.amounts.iter().enumerate().map(|(c, a)| *a * Interval::from(figure(c))).sum()
        };
        let candidate = |c: usize| &self.facts.brief.candidates[self.facts.columns[c].candidate];
        let (part, over) = measure.formula(self.facts.brief);
        let part = match part {
            Numerator::Volume => self.volume,
            Numerator::Melt => self.melt,
            Numerator::Level => self.volume - self.iced * Interval::from(ice::PER_MELT),
            Numerator::Portion(figure) => sum(&|c| figure(&self.portions[c])),
            Numerator::Cost(times) => sum(&|c| candidate(c).cost_per_unit.unwrap_or(0.0) * times),
            Numerator::Carried(at, times) => sum(&|c| candidate(c).carried(at) * times),
        };
        match over {
            Over::One => part,
            Over::Volume => part / self.volume,
            Over::Acid => part / sum(&|c| self.portions[c].masses.acid),
        }
    }

    /// Whether it breaks a limit for certain, and by more than counts as met.
    pub fn breaks(&self, limit: &Limit) -> bool {
        let value = self.value(limit.measure);
        let at = super::rows::loosened(limit.side, limit.value);
        match limit.side {
            Side::Min => value.high < at,
            Side::Max => value.low > at,
        }
    }

    /// Whether it keeps a limit as far as anybody could say.
    pub fn keeps(&self, limit: &Limit) -> bool {
        let value = self.value(limit.measure);
        value.high - value.low <= LOOSE * (1.0 + value.high.abs()) && !self.breaks(limit)
    }

    /// Its score; the lower the better.
    pub fn score(&self) -> Interval {
        match &self.facts.score {
            Score::Low(measure) => self.value(*measure),
            Score::High(measure) => -self.value(*measure),
            Score::Amount(column, sign) => {
                column.map_or(Interval::ZERO, |c| self.amounts[c] * Interval::from(*sign))
            }
            Score::Change(from, lost) => {
                let away = self.amounts.iter().zip(from).map(|(a, f)| (*a - Interval::from(*f)).abs());
                away.sum::<Interval>() + Interval::from(*lost)
            }
            Score::Middle(ranges) => {
                let off = |(measure, middle, half): &(Measure, f64, f64)| {
                    (self.value(*measure) - Interval::from(*middle)).abs() / Interval::from(*half)
                };
                let greater =
                    |a: Interval, b: Interval| Interval { low: a.low.max(b.low), high: a.high.max(b.high) };
                ranges.iter().map(off).fold(Interval::ZERO, greater)
            }
            Score::Notes(notes) => {
                let covered = |columns: &&Vec<usize>| columns.iter().any(|c| self.amounts[*c].low > 0.0);
                Interval::from(0.0 - notes.iter().filter(covered).count() as f64)
            }
        }
    }
}

/// Grams that melt from the ice in the glass: `L·m + M·F(e/M) - Q` rises with m, so that a root lies between two
/// numbers at which it has different signs.
fn melted(balance: Balance, ethanol: Interval, water: Interval, brought: Interval) -> Interval {
    let left = |m: f64| {
        let m = Interval::from(m);
        let all = ethanol + water + m;
        let p = if all.low > 0.0 { ethanol / all } else { Interval::ZERO };
        Interval::from(FUSION) * m + all * Curve::End(balance).at(p) - brought
    };
    let start = left(0.0);
    if start.low >= 0.0 {
        return Interval::ZERO;
    }
    let (mut low, mut high) = (0.0, 2.0 * (ethanol.high + water.high) + 1.0);
    if left(high).low < 0.0 {
        return Interval { low: 0.0, high: f64::INFINITY };
    }
    // Each end moves as long as its sign is certain.
    let (mut from, mut to) = (low, high);
    for _ in 0..100 {
        let middle = 0.5 * (low + high);
        let value = left(middle);
        if value.high < 0.0 {
            (low, from) = (middle, middle);
        } else if value.low > 0.0 {
            (high, to) = (middle, middle);
        } else {
            break;
        }
    }
    // Where the sign is not certain the root is between the ends that were; a little way out it is.
    let middle = 0.5 * (low + high);
    for by in [1e-13, 1e-12, 1e-11, 1e-10] {
        let by = by * (1.0 + middle);
        if from < middle - by && left(middle - by).high < 0.0 {
            from = middle - by;
        }
        if to > middle + by && left(middle + by).low > 0.0 {
            to = middle + by;
        }
    }
    Interval { low: if start.high <= 0.0 { from } else { 0.0 }, high: to }
}
