//! Rigorous intervals: every result is rounded outwards by one step.
//!
//! IEEE 754 rounds `+ - × ÷` to the nearest number, so that the true result lies at most one number away: the next one
//! down and the next one up enclose it. Nothing else is computed here; the physics at 20 °C has no other functions.

use std::ops::{Add, Div, Mul, Neg, Sub};

/// All numbers from `lo` to `hi`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// The least.
    pub lo: f64,
    /// The greatest.
    pub hi: f64,
}

/// In fixed point: so many bits behind the point.
pub const BITS: i32 = 50;

impl Interval {
    /// Nothing.
    pub const ZERO: Self = Self { lo: 0.0, hi: 0.0 };
    /// One.
    pub const ONE: Self = Self { lo: 1.0, hi: 1.0 };

    /// Nobody knows what.
    const ANY: Self = Self { lo: f64::NEG_INFINITY, hi: f64::INFINITY };

    /// The smallest that holds both.
    pub fn hull(self, other: Self) -> Self {
        Self { lo: self.lo.min(other.lo), hi: self.hi.max(other.hi) }
    }

    /// Its parts over nothing.
    pub fn positive(self) -> Self {
        Self { lo: self.lo.max(0.0), hi: self.hi.max(0.0) }
    }

    /// Without its sign.
    pub fn abs(self) -> Self {
        if self.lo >= 0.0 {
            self
        } else if self.hi <= 0.0 {
            -self
        } else {
            Self { lo: 0.0, hi: self.hi.max(-self.lo) }
        }
    }

    fn widened(lo: f64, hi: f64) -> Self {
        if lo.is_nan() || hi.is_nan() { Self::ANY } else { Self { lo: lo.next_down(), hi: hi.next_up() } }
    }

    fn of_ends(ends: [f64; 4]) -> Self {
        let nan = ends.iter().any(|end| end.is_nan());
        let (lo, hi) =
            ends.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), e| (l.min(*e), h.max(*e)));
        if nan { Self::ANY } else { Self::widened(lo, hi) }
    }
}

impl From<f64> for Interval {
    fn from(value: f64) -> Self {
        if value.is_nan() { Self::ANY } else { Self { lo: value, hi: value } }
    }
}

impl Add for Interval {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        if self == Self::ZERO {
            return other;
        }
        if other == Self::ZERO { self } else { Self::widened(self.lo + other.lo, self.hi + other.hi) }
    }
}

impl Neg for Interval {
    type Output = Self;
    fn neg(self) -> Self {
        Self { lo: 0.0 - self.hi, hi: 0.0 - self.lo }
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
        Self::of_ends([a.lo * b.lo, a.lo * b.hi, a.hi * b.lo, a.hi * b.hi])
    }
}

impl Div for Interval {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        if other.lo <= 0.0 && other.hi >= 0.0 {
            return Self::ANY;
        }
        let (a, b) = (self, other);
        Self::of_ends([a.lo / b.lo, a.lo / b.hi, a.hi / b.lo, a.hi / b.hi])
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
        // 3·lo < 1 < 3·hi exactly, as the three products are of 53 and 2 bits and differ from 1 by less than an ulp.
        assert!(third.lo < third.hi && third.hi - third.lo < 2e-16);
        assert!((third * Interval::from(3.0)).lo < 1.0 && (third * Interval::from(3.0)).hi > 1.0);
        assert_eq!((Interval::ONE / Interval { lo: -1.0, hi: 1.0 }).lo, f64::NEG_INFINITY);
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
