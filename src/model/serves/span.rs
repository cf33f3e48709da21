//! Sums that are known to lie between two values.

/// An interval.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Span {
    pub lo: f64,
    pub hi: f64,
}

impl Span {
    pub const NOTHING: Self = Self { lo: 0.0, hi: 0.0 };

    pub fn of(a: f64, b: f64) -> Self {
        Self { lo: a.min(b), hi: a.max(b) }
    }

    pub fn plus(self, other: Self) -> Self {
        Self { lo: self.lo + other.lo, hi: self.hi + other.hi }
    }

    /// So wide that it holds this value as well.
    pub fn with(self, value: f64) -> Self {
        Self { lo: self.lo.min(value), hi: self.hi.max(value) }
    }

    pub fn times(self, factor: f64) -> Self {
        Self::of(self.lo * factor, self.hi * factor)
    }

    pub fn by(self, other: Self) -> Self {
        let ends = [self.lo * other.lo, self.lo * other.hi, self.hi * other.lo, self.hi * other.hi];
        Self {
            lo: ends.into_iter().fold(f64::INFINITY, f64::min),
            hi: ends.into_iter().fold(f64::NEG_INFINITY, f64::max),
        }
    }
}
