//! Rigorous intervals: every result is rounded outwards by one step.
//!
//! IEEE 754 rounds `+ - × ÷` to the nearest number, so that the true result lies at most one number away: the next one
//! down and the next one up enclose it. Nothing else is computed here; the physics at 20 °C has no other functions.

use std::ops::{Add, Div, Mul, Neg, Sub};

/// All numbers from `low` to `high`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// The least.
    pub low: f64,
    /// The greatest.
    pub high: f64,
}

/// In fixed point: so many bits behind the point.
pub const BITS: i32 = 50;

impl Interval {
    /// Nothing.
    pub const ZERO: Self = Self { low: 0.0, high: 0.0 };
    /// One.
    pub const ONE: Self = Self { low: 1.0, high: 1.0 };

    /// Nobody knows what.
    const ANY: Self = Self { low: f64::NEG_INFINITY, high: f64::INFINITY };

    /// The smallest that holds both.
    pub fn hull(self, other: Self) -> Self {
        Self { low: self.low.min(other.low), high: self.high.max(other.high) }
    }

    /// Its parts over nothing.
    pub fn positive(self) -> Self {
        Self { low: self.low.max(0.0), high: self.high.max(0.0) }
    }

    /// Without its sign.
    pub fn abs(self) -> Self {
        if self.low >= 0.0 {
            self
        } else if self.high <= 0.0 {
            -self
        } else {
            Self { low: 0.0, high: self.high.max(-self.low) }
        }
    }

    fn widened(low: f64, high: f64) -> Self {
        if low.is_nan() || high.is_nan() {
            Self::ANY
        } else {
            Self { low: low.next_down(), high: high.next_up() }
        }
    }

    fn of_ends(ends: [f64; 4]) -> Self {
        let nan = ends.iter().any(|end| end.is_nan());
        let (low, high) =
            ends.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), e| (l.min(*e), h.max(*e)));
        if nan { Self::ANY } else { Self::widened(low, high) }
    }
}

impl From<f64> for Interval {
    fn from(value: f64) -> Self {
        if value.is_nan() { Self::ANY } else { Self { low: value, high: value } }
    }
}

impl Add for Interval {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        if self == Self::ZERO {
            return other;
        }
        if other == Self::ZERO { self } else { Self::widened(self.low + other.low, self.high + other.high) }
    }
}

impl Neg for Interval {
    type Output = Self;
    fn neg(self) -> Self {
        Self { low: 0.0 - self.high, high: 0.0 - self.low }
    }
}

impl Sub for Interval {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        self + -other
    }
}

impl Mul for Interval {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        if self == Self::ZERO || other == Self::ZERO {
            return Self::ZERO;
        }
        let (a, b) = (self, other);
        Self::of_ends([a.low * b.low, a.low * b.high, a.high * b.low, a.high * b.high])
    }
}

impl Div for Interval {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        if other.low <= 0.0 && other.high >= 0.0 {
            return Self::ANY;
        }
        let (a, b) = (self, other);
        Self::of_ends([a.low / b.low, a.low / b.high, a.high / b.low, a.high / b.high])
    }
}

impl std::iter::Sum for Interval {
    fn sum<I: Iterator<Item = Self>>(parts: I) -> Self {
        parts.fold(Self::ZERO, Add::add)
    }
}

/// `Σ c_k x^k`.
pub fn polynomial(coefficients: &[Interval], x: Interval) -> Interval {
    coefficients.iter().rev().fold(Interval::ZERO, |sum, c| sum * x + *c)
}

/// A number in fixed point, rounded up; nothing where it is too large for that.
pub fn rounded_up(value: f64) -> Option<i128> {
    let scaled = value * 2_f64.powi(BITS);
    (scaled.abs() < 2_f64.powi(90)).then(|| scaled.ceil() as i128)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_third_lies_inside_and_nothing_divides_by_nothing() {
        let third = Interval::ONE / Interval::from(3.0);
        // 3·low < 1 < 3·high exactly, as the three products are of 53 and 2 bits and differ from 1 by less than an ulp.
        assert!(third.low < third.high && third.high - third.low < 2e-16);
        assert!((third * Interval::from(3.0)).low < 1.0 && (third * Interval::from(3.0)).high > 1.0);
        assert_eq!((Interval::ONE / Interval { low: -1.0, high: 1.0 }).low, f64::NEG_INFINITY);
    }

    #[test]
    fn fixed_point_never_rounds_down() {
        assert_eq!(rounded_up(0.0), Some(0));
        assert_eq!(rounded_up(1.0), Some(1 << BITS));
        assert_eq!(rounded_up(f64::MIN_POSITIVE), Some(1));
        assert_eq!(rounded_up(-f64::MIN_POSITIVE), Some(0));
        assert_eq!(rounded_up(f64::INFINITY), None);
    }
}
