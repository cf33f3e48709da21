//! How sweet sugars taste beside sucrose, by weight.

use serde::Deserialize;

use crate::brief::Range;

/// Sugars by kind, g/L (powder: g/kg).
#[derive(Debug, Clone, Copy, PartialEq, Default, Deserialize)]
#[serde(default)]
pub struct Sugars {
    /// Sucrose.
    pub sucrose: f64,
    /// Glucose (dextrose).
    pub glucose: f64,
    /// Fructose.
    pub fructose: f64,
    /// Maltose.
    pub maltose: f64,
    /// Lactose.
    pub lactose: f64,
}

/// Sweetness relative to sucrose: what is reckoned with, and the published spread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sweetness {
    /// What is reckoned with.
    pub typical: f64,
    /// The published spread.
    pub spread: Range,
}

impl Sweetness {
    const fn of(typical: f64, min: f64, max: f64) -> Self {
        Self { typical, spread: Range { min, max } }
    }
}

/// Sucrose, by definition.
pub const SUCROSE: Sweetness = Sweetness::of(1.0, 1.0, 1.0);
/// Public Health Nutr 2022;26:952-964 Table 2: 0.8; an encyclopaedia: 0.74; a list: 0.69. The typical
/// value is a judgement inside the spread.
pub const GLUCOSE: Sweetness = Sweetness::of(0.7, 0.6, 0.8);
/// The same: 1.7, 1.73, 1.14; Kirk-Othmer: 1.3 to 1.8. The typical value is a judgement: the first
/// also has invert sugar at 1.0, which fits about 1.2 for the settled solution, not 1.7.
pub const FRUCTOSE: Sweetness = Sweetness::of(1.2, 1.14, 1.8);
/// The same: maltose syrup 0.5; 0.33; 0.46.
pub const MALTOSE: Sweetness = Sweetness::of(0.4, 0.33, 0.5);
/// The same: 0.2; 0.16; 0.39.
pub const LACTOSE: Sweetness = Sweetness::of(0.2, 0.16, 0.4);

impl Sugars {
    /// All of them as sucrose.
    pub fn sucrose(amount: f64) -> Self {
        Self { sucrose: amount, ..Self::default() }
    }

    fn parts(&self) -> [(f64, Sweetness); 5] {
        [
            (self.sucrose, SUCROSE),
            (self.glucose, GLUCOSE),
            (self.fructose, FRUCTOSE),
            (self.maltose, MALTOSE),
            (self.lactose, LACTOSE),
        ]
    }

    /// Their sum.
    pub fn total(&self) -> f64 {
        self.parts().iter().map(|(amount, _)| amount).sum()
    }

    /// Sweetness of the whole, weighted by mass; that of sucrose where there is none of them.
    pub fn sweetness(&self) -> Sweetness {
        let total = self.total();
        if total <= 0.0 {
            return SUCROSE;
        }
        let mean = |pick: fn(&Sweetness) -> f64| {
            self.parts().iter().map(|(amount, sweet)| amount * pick(sweet)).sum::<f64>() / total
        };
        Sweetness::of(mean(|s| s.typical), mean(|s| s.spread.min), mean(|s| s.spread.max))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn invert_sugar_tastes_about_as_sweet_as_sucrose() {
        // Public Health Nutr 2022;26:952-964, Table 2: invert sugar 1.0.
        let invert = Sugars { glucose: 1.0, fructose: 1.0, ..Sugars::default() }.sweetness();
        assert!((invert.typical - 1.0).abs() <= 0.06, "{invert:?}");
        assert!(invert.spread.min < 1.0 && 1.0 < invert.spread.max);
    }

    #[test]
    fn nothing_counts_as_sucrose() {
        assert_eq!(Sugars::default().sweetness(), SUCROSE);
    }
}
