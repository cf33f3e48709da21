//! Sums that are known to lie between two values.

/// An interval.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Span {
    pub low: f64,
    pub high: f64,
}

impl Span {
    pub const NOTHING: Self = Self { low: 0.0, high: 0.0 };

    pub fn of(a: f64, b: f64) -> Self {
        Self { low: a.min(b), high: a.max(b) }
    }

    pub fn plus(self, other: Self) -> Self {
        Self { low: self.low + other.low, high: self.high + other.high }
    }

    /// So wide that it holds this value as well.
    pub fn with(self, value: f64) -> Self {
        Self { low: self.low.min(value), high: self.high.max(value) }
    }

    pub fn times(self, factor: f64) -> Self {
        Self::of(self.low * factor, self.high * factor)
    }

    pub fn by(self, other: Self) -> Self {
        let ends =
            [self.low * other.low, self.low * other.high, self.high * other.low, self.high * other.high];
        Self {
            low: ends.into_iter().fold(f64::INFINITY, f64::min),
            high: ends.into_iter().fold(f64::NEG_INFINITY, f64::max),
        }
    }
}
