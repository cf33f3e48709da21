//! What a set of jiggers measures: a list of amounts, and every sum of them.
//!
//! Sizes that are whole multiples of a common unit have sums that are, too, and from some number of units on
//! every number is one (the numerical semigroup of the sizes; Sylvester 1884, Frobenius). So the amounts are a
//! sorted list of sums up to there, and whole units beyond.

use crate::tolerance::WHOLE;

/// The sizes of a bar's jiggers, and what they measure together: each any number of times. How often one may be
/// filled is bounded by nothing but the ingredient's own most, or the volume of the drink.
#[derive(Debug, Clone, PartialEq)]
pub struct Jigger {
    /// ml (or g) of the largest amount of which every size is a whole multiple.
    unit: f64,
    /// The sizes in units, the least first, none of them twice.
    sizes: Vec<u32>,
    /// The sums in units that are less than `every`, the least first.
    sums: Vec<u32>,
    /// From here on every whole number of units is a sum.
    every: u32,
}

/// The common unit is at least this part of the least size: 1.7 ml and 3 cl have 0.1 ml in common, and no bar
/// measures in parts of a thousandth.
const PARTS: u32 = 1000;
/// Sums are looked for up to so many units: a drink of a litre in hundredths of a ml.
const MOST: usize = 100_000;

impl Jigger {
    /// The jiggers of these sizes, ml or g, each over zero; `None` where they have no unit in common that could be
    /// measured.
    pub fn of(measures: &[f64]) -> Option<Self> {
        let least = measures.iter().copied().fold(f64::INFINITY, f64::min);
        let counted = |unit: f64| -> Option<Vec<u32>> {
            let whole = |size: &f64| {
                let units = size / unit;
                ((units - units.round()).abs() <= WHOLE && units <= MOST as f64).then(|| units.round() as u32)
            };
            measures.iter().map(whole).collect()
        };
        if !(least.is_finite() && least > 0.0) {
            return None;
        }
        let (unit, mut sizes) = (1..=PARTS).find_map(|parts| {
            let unit = least / f64::from(parts);
            Some((unit, counted(unit)?))
        })?;
        sizes.sort_unstable();
        sizes.dedup();
        let (sums, every) = sums(&sizes)?;
        Some(Self { unit, sizes, sums, every })
    }

    /// ml (or g) of the common unit.
    pub fn unit(&self) -> f64 {
        self.unit
    }

    /// The sizes, ml or g, the least first.
    pub fn sizes(&self) -> impl Iterator<Item = f64> + '_ {
        self.sizes.iter().map(|size| f64::from(*size) * self.unit)
    }

    /// The sizes in units, the least first.
    pub fn units(&self) -> &[u32] {
        &self.sizes
    }

    /// The least size in units: nothing under it can be measured.
    pub fn least(&self) -> u32 {
        self.sizes.first().copied().unwrap_or(1)
    }

    /// Whether every whole number of units can be measured: then the unit is a step like any other.
    pub fn is_step(&self) -> bool {
        self.least() == 1
    }

    /// The greatest sum of at most so many units; 0 where there is none.
    pub fn down(&self, units: f64) -> f64 {
        let units = units.floor();
        if units >= f64::from(self.every) {
            return units;
        }
        let upto = self.sums.partition_point(|sum| f64::from(*sum) <= units);
        upto.checked_sub(1).and_then(|at| self.sums.get(at)).map_or(0.0, |sum| f64::from(*sum))
    }

    /// The least sum of at least so many units.
    pub fn up(&self, units: f64) -> f64 {
        let units = units.ceil();
        let at = self.sums.partition_point(|sum| f64::from(*sum) < units);
        self.sums.get(at).map_or(f64::from(self.every).max(units), |sum| f64::from(*sum))
    }

    /// Whether so many units, a whole number, are a sum.
    pub fn measures(&self, units: f64) -> bool {
        units > 0.0 && self.down(units) == units
    }
}

/// The sums under the number from which on every number is one, and that number. `None` where it lies beyond
/// [`MOST`], or nowhere, because the sizes have a divisor in common.
fn sums(sizes: &[u32]) -> Option<(Vec<u32>, u32)> {
    let least = *sizes.first()? as usize;
    let mut is_sum = vec![true];
    let mut run = 0;
    // After as many sums in a row as the least size has units, the next ones follow by one more of it.
    while run < least {
        let next = is_sum.len();
        if next > MOST {
            return None;
        }
        let found =
            sizes.iter().any(|size| next.checked_sub(*size as usize).is_some_and(|rest| is_sum[rest]));
        is_sum.push(found);
        run = if found { run + 1 } else { 0 };
    }
    let every = is_sum.len() - least;
    let sums = (1..every).filter(|at| is_sum[*at]).filter_map(|at| u32::try_from(at).ok()).collect();
    Some((sums, u32::try_from(every).ok()?))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every sum up to a number of units, by trying every number of every size: nothing of the above.
    fn tried(sizes: &[u32], most: u32) -> Vec<u32> {
        let mut found = std::collections::BTreeSet::from([0]);
        for size in sizes {
            for from in found.clone() {
                found.extend((0..).map(|times| from + times * size).take_while(|sum| *sum <= most));
            }
        }
        found.into_iter().filter(|sum| *sum > 0).collect()
    }

    #[test]
    fn sums_are_those_that_can_be_tried() {
        for (measures, unit, sizes) in [
            (&[15.0, 20.0, 25.0][..], 5.0, &[3, 4, 5][..]),
            (&[7.5, 12.5, 15.0, 20.0, 25.0, 40.0, 50.0], 2.5, &[3, 5, 6, 8, 10, 16, 20]),
            (&[25.0, 50.0], 25.0, &[1, 2]),
            (&[20.0, 7.5], 2.5, &[3, 8]),
            (&[30.0, 22.0], 2.0, &[11, 15]),
        ] {
            let jigger = Jigger::of(measures).expect("a unit");
            assert!((jigger.unit() - unit).abs() < 1e-12, "{measures:?}");
            assert_eq!(jigger.units(), sizes);
            let all = tried(sizes, 400);
            for units in 1..=400_u32 {
                let (within, number) = (all.contains(&units), f64::from(units));
                assert_eq!(jigger.measures(number), within, "{measures:?}: {units}");
                let below = all.iter().rev().find(|sum| **sum <= units).map_or(0.0, |sum| f64::from(*sum));
                assert_eq!(jigger.down(number + 0.5), below);
                if let Some(above) = all.iter().find(|sum| **sum >= units) {
                    assert_eq!(jigger.up(number - 0.5), f64::from(*above));
                }
            }
        }
    }

    #[test]
    fn two_sizes_without_a_divisor_miss_what_sylvester_counts() {
        // Sylvester (1884): of a and b without a common divisor the largest number that is no sum is ab - a - b, and
        // (a - 1)(b - 1) / 2 numbers are none.
        for (a, b) in [(3_u32, 8_u32), (7, 11), (15, 22)] {
            let jigger = Jigger::of(&[f64::from(a), f64::from(b)]).expect("a unit");
            let none: Vec<u32> = (1..a * b).filter(|at| !jigger.measures(f64::from(*at))).collect();
            assert_eq!(none.last(), Some(&(a * b - a - b)));
            assert_eq!(none.len() as u32, (a - 1) * (b - 1) / 2);
        }
    }

    #[test]
    fn what_has_no_unit_in_common_is_none() {
        assert_eq!(Jigger::of(&[]), None);
        assert_eq!(Jigger::of(&[0.0]), None);
        // A US ounce of 29.573 529 562 5 ml beside 25 ml.
        assert_eq!(Jigger::of(&[29.573_529_562_5, 25.0]), None);
        let ounces = [0.5, 0.75, 1.0, 1.5, 2.0].map(|oz| oz * 29.573_529_562_5);
        assert_eq!(Jigger::of(&ounces).expect("quarters").units(), [2, 3, 4, 6, 8]);
    }
}
