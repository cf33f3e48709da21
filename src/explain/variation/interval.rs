//! How surely a share is known that was counted.

use serde::ser::{Serialize, SerializeMap, Serializer};

/// The 97.5 % point of the normal distribution.
pub const NORMAL: f64 = 1.959_963_985;

/// A share of serves, with the interval that holds the true one in 95 of 100 such counts. In JSON `within_all` and
/// `interval`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Share {
    /// What was counted, 0 to 1.
    pub found: f64,
    /// Lower end of the interval.
    pub low: f64,
    /// Upper end of the interval.
    pub high: f64,
}

impl Share {
    /// The share of `hits` in `draws`, with the score interval of Wilson, *Journal of the American
    /// Statistical Association* 22 (1927) 209.
    pub fn of(hits: usize, draws: usize) -> Self {
        if draws == 0 {
            return Self { found: f64::NAN, low: 0.0, high: 1.0 };
        }
        let (n, z2) = (draws as f64, NORMAL * NORMAL);
        let found = hits as f64 / n;
        let middle = (found + z2 / (2.0 * n)) / (1.0 + z2 / n);
        let half = NORMAL / (1.0 + z2 / n) * (found * (1.0 - found) / n + z2 / (4.0 * n * n)).sqrt();
        Self { found, low: (middle - half).max(0.0), high: (middle + half).min(1.0) }
    }

    /// Both ends of the interval.
    pub fn interval(self) -> [f64; 2] {
        [self.low, self.high]
    }
}

impl Serialize for Share {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(2))?;
        map.serialize_entry("within_all", &self.found)?;
        map.serialize_entry("interval", &self.interval())?;
        map.end()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Newcombe, *Statistics in Medicine* 17 (1998) 857, Table I, method 3 (score, no continuity
    /// correction), to the four decimals printed; quoted from memory.
    #[test]
    fn the_interval_is_the_published_one() {
        for (hits, draws, low, high) in [
            (81, 263, 0.2553, 0.3662),
            (15, 148, 0.0624, 0.1605),
            (0, 20, 0.0, 0.1611),
            (1, 29, 0.0061, 0.1718),
        ] {
            let share = Share::of(hits, draws);
            assert!((share.low - low).abs() < 5e-5 && (share.high - high).abs() < 5e-5, "{share:?}");
        }
    }
}
