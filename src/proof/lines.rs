//! Straight lines below and above what is not straight: the melt by the working ice, the specific volumes, and the
//! enthalpy of what stands on ice. A proof states them for a range of compositions; here they are proved to hold there.
//!
//! All of these functions are polynomials or one over a polynomial, so that "the line lies below" is "this polynomial
//! is nowhere negative on the range". In the Bernstein basis of the range a polynomial lies between the least and the
//! greatest of its coefficients (Bernstein 1912; Farouki, *The Bernstein polynomial basis: a centennial retrospective*,
//! Computer Aided Geometric Design 29, 2012): where all of them are over nothing, so is it; else the range is halved.

use super::interval::{Interval, polynomial};
use crate::liquid::ice::{self, Balance};
use crate::liquid::{Dilution, ethanol, heat, sucrose};

/// `share·S + slope·E` ml of melt, of S ml on the working ice with E ml of ethanol in them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeltLine {
    /// Ml per ml.
    pub share: f64,
    /// Ml per ml of ethanol.
    pub slope: f64,
}

/// `low + slope·x ≤ f(x) ≤ high + slope·x`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// Common slope.
    pub slope: f64,
    /// Intercept of the lower line.
    pub low: f64,
    /// Intercept of the upper line.
    pub high: f64,
}

/// From where to where a composition goes: (least, greatest).
pub type Span = (f64, f64);

/// A function for which lines are stated.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Curve {
    /// Specific volume of ethanol and water, ml/g, by the mass fraction of ethanol.
    Spirit,
    /// Specific volume of sugar and water, ml/g, by the mass fraction of sugar.
    Syrup,
    /// Enthalpy of ethanol and water at the first sip, J/g, by the mass fraction of ethanol.
    End(Balance),
}

/// Into so many parts a range may come; lines that touch what they bound take some dozens.
const PARTS: u32 = 4096;

impl Curve {
    /// The function as a polynomial, or as one over a polynomial that is over nothing on [0, 1].
    fn coefficients(self) -> (Vec<Interval>, bool) {
        let all = |figures: &[f64]| figures.iter().map(|f| Interval::from(*f)).collect::<Vec<_>>();
        let thousand = Interval::from(1000.0);
        match self {
            Self::Spirit => (all(&ethanol::A).into_iter().map(|a| a / thousand).collect(), true),
            Self::Syrup => {
                let further = all(&sucrose::A).into_iter().map(|a| a / thousand);
                (std::iter::once(Interval::from(ethanol::WATER)).chain(further).collect(), true)
            }
            Self::End(balance) => (end(balance), false),
        }
    }

    /// Its value.
    pub fn at(self, x: Interval) -> Interval {
        let (coefficients, inverse) = self.coefficients();
        let value = polynomial(&coefficients, x);
        if inverse { Interval::ONE / value } else { value }
    }

    /// Whether a band holds over a span.
    pub fn keeps(self, band: Band, span: Span) -> bool {
        let (coefficients, inverse) = self.coefficients();
        [(band.low, Interval::ONE), (band.high, -Interval::ONE)].into_iter().all(|(intercept, sign)| {
            let (intercept, slope) = (Interval::from(intercept), Interval::from(band.slope));
            // f - line ≥ 0, or, of one over the polynomial, 1 - line·polynomial ≥ 0; turned for the upper line.
            let mut difference: Vec<Interval>;
            if inverse {
                difference = vec![Interval::ZERO; coefficients.len() + 1];
                difference[0] = Interval::ONE;
                for (power, c) in coefficients.iter().enumerate() {
                    difference[power] = difference[power] - intercept * *c;
                    difference[power + 1] = difference[power + 1] - slope * *c;
                }
            } else {
                difference = coefficients.clone();
                difference[0] = difference[0] - intercept;
                difference[1] = difference[1] - slope;
            }
            difference.iter_mut().for_each(|c| *c = *c * sign);
            nowhere_negative(&difference, span, &mut { PARTS })
        })
    }
}

/// Enthalpy at the end as a polynomial: `heat::enthalpy` at 0 °C, and on crushed ice at its own freezing point.
fn end(balance: Balance) -> Vec<Interval> {
    let from = |value: f64| Interval::from(value);
    let mut capacity = vec![from(heat::WATER)];
    capacity.extend(heat::CAPACITY.map(Interval::from));
    let pure: Interval = capacity.iter().skip(1).copied().sum();
    let [size, rest @ ..] = heat::MIXING;
    let mut sum = vec![Interval::ZERO; 7];
    // size·p·(1 - p)·(1 + a p + …)
    for (power, c) in rest.iter().enumerate() {
        let term = from(size) * from(*c);
        sum[power + 1] = sum[power + 1] + term;
        sum[power + 2] = sum[power + 2] - term;
    }
    for (power, c) in capacity.iter().enumerate() {
        sum[power] = sum[power] - from(heat::KNOWN) * *c;
        if balance.crushed {
            sum[power + 1] = sum[power + 1] + from(ice::FREEZES) * *c;
        }
    }
    sum[0] = sum[0] + from(heat::KNOWN) * capacity[0];
    // The heat of pure water less that of pure ethanol: 25·(c(0) - c(1)) is -25·Σ further.
    sum[1] = sum[1] + from(heat::KNOWN) * pure;
    sum
}

/// Whether a polynomial is proved to be nowhere negative over a span.
fn nowhere_negative(coefficients: &[Interval], (from, to): Span, parts: &mut u32) -> bool {
    let bernstein = bernstein(coefficients, (from, to));
    if bernstein.iter().all(|b| b.low >= 0.0) {
        return true;
    }
    let ends = [bernstein.first(), bernstein.last()];
    *parts = parts.saturating_sub(1);
    if *parts == 0 || from >= to || ends.into_iter().flatten().any(|end| end.high < 0.0) {
        return false;
    }
    let middle = 0.5 * (from + to);
    nowhere_negative(coefficients, (from, middle), parts)
        && nowhere_negative(coefficients, (middle, to), parts)
}

/// The coefficients in the Bernstein basis of a span: shifted to its start, stretched to its width, then
/// `b_i = Σ_k C(i, k) / C(n, k) · c_k`.
fn bernstein(coefficients: &[Interval], (from, to): Span) -> Vec<Interval> {
    let n = coefficients.len() - 1;
    let mut c = coefficients.to_vec();
    let start = Interval::from(from);
    for least in 0..n {
        for power in (least..n).rev() {
            c[power] = c[power] + start * c[power + 1];
        }
    }
    let width = Interval::from(to) - start;
    let mut stretch = Interval::ONE;
    for c in &mut c {
        *c = *c * stretch;
        stretch = stretch * width;
    }
    let choose =
        |n: usize, k: usize| (0..k).fold(1.0, |all, i| all * (n - i) as f64 / (i + 1) as f64).round();
    let of =
        |i: usize| (0..=i).map(|k| c[k] * Interval::from(choose(i, k)) / Interval::from(choose(n, k))).sum();
    (0..=n).map(of).collect()
}

/// Ml of melt per ml on the working ice, by its strength.
pub fn melt_share(rule: Dilution, strength: Interval) -> Interval {
    match rule {
        Dilution::Share(share) => Interval::from(share),
        Dilution::Fit { a, b, c } => {
            let (a, b, c) = (Interval::from(a), Interval::from(b), Interval::from(c));
            let fit = |x: f64| (a * Interval::from(x) + b) * Interval::from(x) + c;
            // It rises up to its turning point and stands still from there on.
            let turn = -b / (a + a);
            let most = c - b * b / (Interval::from(4.0) * a);
            let at = |x: f64| if x <= turn.low { fit(x) } else { fit(x.min(turn.high)).hull(most) };
            Interval { low: at(strength.low).low, high: at(strength.high).high }
        }
    }
}

/// Whether melt lines hold over a span of strengths. The rule is concave: the lower line has to hold at both ends
/// alone, and the upper one lies the least above it where the rule has its slope, or at an end.
pub fn melt_lines_hold(rule: Dilution, (low, high): (MeltLine, MeltLine), (from, to): Span) -> bool {
    if let (Dilution::Share(share), 0.0, 0.0) = (rule, low.slope, high.slope) {
        return low.share <= share && share <= high.share;
    }
    let over = |line: MeltLine, at: Interval| {
        melt_share(rule, at) - Interval::from(line.share) - Interval::from(line.slope) * at
    };
    let ends = [Interval::from(from), Interval::from(to)];
    if ends.iter().any(|end| over(low, *end).low < 0.0 || over(high, *end).high > 0.0) {
        return false;
    }
    match rule {
        Dilution::Share(_) => true,
        // Where the line falls, the rule less the line rises all the way.
        Dilution::Fit { .. } if high.slope < 0.0 => true,
        Dilution::Fit { a, b, c } => {
            // max of a x² + (b - slope) x + c - share is c - share - (b - slope)² / 4a, over all x.
            let (a, lean) = (Interval::from(a), Interval::from(b) - Interval::from(high.slope));
            let peak =
                Interval::from(c) - Interval::from(high.share) - lean * lean / (Interval::from(4.0) * a);
            peak.high <= 0.0 || !touches(a, lean, (from, to))
        }
    }
}

/// Whether the point where the rule has the line's slope may lie within a span.
fn touches(a: Interval, lean: Interval, (from, to): Span) -> bool {
    let at = -lean / (a + a);
    at.high >= from && at.low <= to
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The chord of a function that bends upwards lies above it and nowhere below; moved by its sag, below.
    #[test]
    fn a_band_is_accepted_where_it_holds_and_nowhere_else() {
        for (curve, (from, to)) in
            [(Curve::Spirit, (0.06, 0.08)), (Curve::Syrup, (0.05, 0.3)), (Curve::Spirit, (0.0, 1.0))]
        {
            let at = |x: f64| curve.at(Interval::from(x)).low;
            let slope = (at(to) - at(from)) / (to - from);
            let off = |i: i32| {
                at(from + (to - from) * f64::from(i) / 1000.0)
                    - slope * (from + (to - from) * f64::from(i) / 1000.0)
            };
            let (low, high) = (0..=1000)
                .map(off)
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), y| (l.min(y), h.max(y)));
            let pad = 1e-6;
            assert!(curve.keeps(Band { slope, low: low - pad, high: high + pad }, (from, to)));
            assert!(!curve.keeps(Band { slope, low: low + pad, high: high + pad }, (from, to)));
            assert!(!curve.keeps(Band { slope, low: low - pad, high: high - pad }, (from, to)));
        }
    }

    /// By hand: D = -1.567 A² + 1.742 A + 0.203 at 0.1 and 0.2 is 0.36153 and 0.48872.
    #[test]
    fn melt_lines_are_the_chord_below_and_the_tangent_above() {
        let rule = Dilution::Fit { a: -1.567, b: 1.742, c: 0.203 };
        let chord = MeltLine { share: 0.234_33, slope: 1.2719 };
        let tangent = MeltLine { share: 0.203 + 1.567 * 0.0225, slope: 1.742 - 2.0 * 1.567 * 0.15 };
        let lower = |by: f64| MeltLine { share: chord.share + by, ..chord };
        let upper = |by: f64| MeltLine { share: tangent.share + by, ..tangent };
        let hold = |low, high| melt_lines_hold(rule, (low, high), (0.1, 0.2));
        assert!(hold(lower(-1e-5), upper(1e-9)));
        assert!(!hold(lower(1e-5), upper(1e-9)) && !hold(lower(-1e-5), upper(-1e-9)));
    }
}
