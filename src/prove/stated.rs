//! The lines that a proof states for a node: the chord and the tangent of the melt, and bands around what bends.

use crate::liquid::Dilution;
use crate::proof::{Band, Curve, Facts, Interval, Lines, MeltLine, Ranges, Span};

/// At so many points a function is looked at.
const POINTS: i32 = 64;
/// What is kept free for rounding.
const PAD: f64 = 1e-9;

/// Lines for ranges; nothing where none are proved to hold.
pub fn lines(facts: &Facts, ranges: &Ranges) -> Option<Lines> {
    let melting = facts.brief.serve.melting();
    let (melt_low, melt_high) = melt(melting.working, ranges.worked);
    let end = match melting.glass {
        Some(balance) => Some(band(Curve::End(balance), ranges.spirit)?),
        None => None,
    };
    let spirit = band(Curve::Spirit, ranges.spirit)?;
    let syrup = band(Curve::Syrup, ranges.syrup)?;
    let lines = Lines { melt_low, melt_high, spirit, syrup, end };
    lines.hold(facts, ranges).then_some(lines)
}

fn melt(rule: Dilution, (from, to): Span) -> (MeltLine, MeltLine) {
    if let Dilution::Share(share) = rule {
        let line = MeltLine { share, slope: 0.0 };
        return (line, line);
    }
    let line = |slope: f64, at: f64, pad: f64| {
        let slope = short(slope, 1e-6);
        MeltLine { share: short(rule.at(at) - slope * at + pad, PAD), slope }
    };
    let chord = if to > from { (rule.at(to) - rule.at(from)) / (to - from) } else { rule.slope(from) };
    let middle = 0.5 * (from + to);
    // Slopes are rounded to millionths, and strengths are at most one.
    let low = line(chord, from, -2e-6 * (to - from) - 2.0 * PAD);
    (low, line(rule.slope(middle), middle, 2e-6 * (to - from) + 2.0 * PAD))
}

fn band(curve: Curve, (from, to): Span) -> Option<Band> {
    let at = |x: f64| curve.at(Interval::from(x)).low;
    let slope = if to > from { short((at(to) - at(from)) / (to - from), 1e-6) } else { 0.0 };
    let off = |i: i32| {
        let x = from + (to - from) * f64::from(i) / f64::from(POINTS);
        at(x) - slope * x
    };
    let (low, high) =
        (0..=POINTS).map(off).fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), y| (l.min(y), h.max(y)));
    let mut pad = (1e-2 * (high - low)).max(1e-8 * (1.0 + high.abs()));
    for _ in 0..6 {
        let band = Band { slope, low: short(low - pad, PAD), high: short(high + pad, PAD) };
        if curve.keeps(band, (from, to)) {
            return Some(band);
        }
        pad *= 2.0;
    }
    None
}

/// A number of few digits.
pub fn short(value: f64, step: f64) -> f64 {
    let per = (1.0 / step).round();
    (value * per).round() / per
}
