//! Practical steps: what a jug, a jigger or a scale can measure out for a batch.

use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive;

use crate::quantity::Unit;

/// A step is at most this share of the amount, so that rounding moves no amount by more than half of
/// it, 0.5 %. Common practice, no source.
pub const FINE: f64 = 0.01;

/// Steps for millilitres in hundredths, coarsest first: a jug's 5 ml from half a litre on, then finer
/// jiggers, syringes, and a pipette's 0.05 ml.
const MILLILITRES: [i64; 7] = [500, 250, 100, 50, 25, 10, 5];
/// Steps for grams in hundredths, coarsest first: a kitchen scale's 1 g from 100 g on, then a fine
/// scale's tenth and hundredth.
const GRAMS: [i64; 6] = [100, 50, 20, 10, 5, 1];

/// An amount in practical steps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Practical {
    /// ml or g, a whole number of steps, at least one.
    pub amount: Decimal,
    /// The step, ml or g.
    pub step: Decimal,
}

/// The nearest practical amount; `None` where the figure is beyond exact arithmetic.
pub fn nearest(exact: f64, unit: Unit) -> Option<Practical> {
    counted(exact, unit, |steps| steps.round())
}

/// The next practical amount that is no less; `None` where the figure is beyond exact arithmetic.
/// What is over a step by rounding alone is not raised by a step.
pub fn sufficient(exact: f64, unit: Unit) -> Option<Practical> {
    counted(exact, unit, |steps| steps.round_dp(6).ceil())
}

fn counted(exact: f64, unit: Unit, whole: impl Fn(Decimal) -> Decimal) -> Option<Practical> {
    let step = step(exact, unit);
    let steps = whole(Decimal::from_f64(exact)?.checked_div(step)?).max(Decimal::ONE);
    Some(Practical { amount: steps.checked_mul(step)?.normalize(), step })
}

/// The coarsest step that is at most [`FINE`] of the amount, or the finest there is.
fn step(exact: f64, unit: Unit) -> Decimal {
    let ladder: &[i64] = match unit {
        Unit::Ml => &MILLILITRES,
        Unit::G => &GRAMS,
    };
    let fits = |hundredths: &&i64| **hundredths as f64 <= 100.0 * FINE * exact * (1.0 + 1e-12);
    let hundredths = ladder.iter().find(fits).or(ladder.last()).copied().unwrap_or(1);
    Decimal::new(hundredths, 2).normalize()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn amount(exact: f64, unit: Unit) -> String {
        nearest(exact, unit).expect("an amount").amount.to_string()
    }

    #[test]
    fn a_batch_is_measured_in_fives_and_grams_and_small_ones_finer() {
        assert_eq!(amount(1352.4, Unit::Ml), "1350");
        assert_eq!(amount(500.0, Unit::Ml), "500");
        assert_eq!(amount(301.3, Unit::Ml), "302.5");
        assert_eq!(amount(96.0, Unit::Ml), "96");
        assert_eq!(amount(22.5, Unit::Ml), "22.5");
        assert_eq!(amount(27.5, Unit::Ml), "27.5");
        assert_eq!(amount(4.8, Unit::Ml), "4.8");
        assert_eq!(amount(0.8, Unit::Ml), "0.8");
        assert_eq!(amount(140.4, Unit::G), "140");
        assert_eq!(amount(6.07, Unit::G), "6.05");
        assert_eq!(amount(0.001, Unit::G), "0.01");
    }

    #[test]
    fn rounding_moves_nothing_by_more_than_half_a_per_cent() {
        for hundredths in 500..200_000 {
            let exact = f64::from(hundredths) / 100.0 + 0.003_7;
            for unit in [Unit::Ml, Unit::G] {
                let practical = nearest(exact, unit).expect("an amount");
                let moved = (practical.amount - Decimal::from_f64(exact).expect("a figure")).abs();
                let half = practical.step / Decimal::TWO;
                assert!(moved <= half && half <= Decimal::from_f64(0.005 * exact * 1.001).expect("a figure"));
            }
        }
    }

    #[test]
    fn sufficient_is_never_less() {
        for hundredths in 1..50_000 {
            let exact = f64::from(hundredths) / 70.0;
            let enough = sufficient(exact, Unit::G).expect("an amount").amount;
            assert!(enough + Decimal::new(1, 6) >= Decimal::from_f64(exact).expect("a figure"));
        }
        assert_eq!(sufficient(500.000_000_000_1, Unit::Ml).expect("an amount").amount, Decimal::from(500));
    }

    #[test]
    fn figures_beyond_arithmetic_are_none() {
        for wild in [f64::NAN, f64::INFINITY, 1e40] {
            assert_eq!(nearest(wild, Unit::Ml), None);
        }
    }
}
