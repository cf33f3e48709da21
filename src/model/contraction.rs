//! Straight lines above and below a specific volume, over a range of compositions.
//!
//! Ethanol and water contract when mixed, so volume is not linear in the masses. But over a range
//! `[a, b]` of the mass fraction the specific volume `v` lies between two parallel lines: its chord,
//! shifted down and up by the largest deviations. Multiplied by the mass, a line in the mass
//! fraction is linear in the masses, and so fit for a row.

/// `low + slope·x ≤ v(x) ≤ high + slope·x` over a range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// Common slope of both lines.
    pub slope: f64,
    /// Intercept of the lower line.
    pub low: f64,
    /// Intercept of the upper line.
    pub high: f64,
}

/// In how many cells the range is looked at.
const CELLS: usize = 24;

impl Band {
    /// The band of `v` over `[a, b]`, given a bound on `|v''|` over the range.
    ///
    /// Why it holds: in a cell of width h a function differs from the chord through the cell's ends
    /// by at most `max|v''| h²/8`, and on that chord the deviation from the long chord is extreme at
    /// an end. So the deviations at the cells' ends, padded by that much, bound all of them.
    pub fn of(v: impl Fn(f64) -> f64, a: f64, b: f64, curvature: f64) -> Self {
        let (va, vb) = (v(a), v(b));
        let slope = if b > a { (vb - va) / (b - a) } else { 0.0 };
        let width = (b - a) / CELLS as f64;
        let intercepts = (0..=CELLS).map(|i| {
            let x = a + width * i as f64;
            v(x) - slope * x
        });
        let (low, high) =
            intercepts.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), y| (l.min(y), h.max(y)));
        let pad = curvature * width * width / 8.0 + 1e-14;
        Self { slope, low: low - pad, high: high + pad }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::liquid::{ethanol, sucrose};

    /// The derivatives of the specific volumes are compared on a grid so fine that what lies between
    /// its points cannot pass the constant: the third derivative would have to exceed the gap over
    /// the grid's spacing.
    fn largest_curvature(v: impl Fn(f64) -> (f64, f64)) -> f64 {
        let n = 20_000;
        let h = 1.0 / f64::from(n);
        (0..n)
            .map(|i| {
                let x = f64::from(i) * h;
                ((v(x + h).1 - v(x).1) / h).abs()
            })
            .fold(0.0, f64::max)
    }

    #[test]
    fn the_curvature_constants_bound_the_published_formulas() {
        let ew = largest_curvature(ethanol::specific_volume);
        let s = largest_curvature(sucrose::specific_volume);
        assert!(ew < 0.9 * ethanol::CURVATURE, "{ew}");
        assert!(s < 0.9 * sucrose::CURVATURE, "{s}");
    }

    #[test]
    fn a_band_holds_everywhere_between_the_points_that_it_looked_at() {
        for (a, b) in [(0.0, 1.0), (0.05, 0.12), (0.3, 0.31), (0.2, 0.2)] {
            let band = Band::of(|p| ethanol::specific_volume(p).0, a, b, ethanol::CURVATURE);
            for i in 0..=9973 {
                let x = a + (b - a) * f64::from(i) / 9973.0;
                let v = ethanol::specific_volume(x).0 - band.slope * x;
                assert!(band.low <= v && v <= band.high);
            }
            assert!(band.high - band.low < 0.6 * (b - a).powi(2) + 1e-3 * (b - a) + 1e-13);
        }
    }
}
