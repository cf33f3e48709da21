//! A box of compositions: how far the lines over it lie from each other, and where it is cut in two.

use super::Free;
use crate::liquid::heat::FUSION;
use crate::liquid::{Dilution, ethanol, ice, sucrose};
use crate::model::{Model, Ranges};

/// How far the lines of each range lie from each other, as shares of the volume, and where a point is
/// in each.
pub(super) fn bends(model: &Model, ranges: &Ranges, at: &Free) -> ([f64; 3], [f64; 3]) {
    let drink = &at.served.drink;
    let masses = &drink.masses;
    let volume = if drink.volume > 0.0 { drink.volume } else { 1.0 };
    let share = |part: f64, rest: f64| if part + rest > 0.0 { part / (part + rest) } else { 0.0 };
    let square = |range: (f64, f64)| (range.1 - range.0).powi(2) / 8.0;
    let melt = match model.brief.serve.dilution {
        Dilution::Share(_) => 0.0,
        Dilution::Fit { a, .. } => 2.0 * a.abs() * square(ranges.before),
    };
    // The enthalpy of what is on ice in the glass bends with the spirit, too.
    let glass = if drink.glass_melt > 0.0 { ice::CURVATURE / FUSION } else { 0.0 };
    let spirit =
        (ethanol::CURVATURE + glass) * square(ranges.spirit) * (masses.ethanol + masses.water) / volume;
    let syrup = sucrose::CURVATURE * square(ranges.syrup) * (masses.solids + masses.water) / volume;
    let inside =
        [drink.worked_strength, share(masses.ethanol, masses.water), share(masses.solids, masses.water)];
    ([melt, spirit, syrup], inside)
}

/// A box cut in two along one range, at a value in it.
pub(super) fn halves(ranges: &Ranges, along: usize, at: f64) -> (Ranges, Ranges) {
    let (mut low, mut high) = (*ranges, *ranges);
    let (below, above) = match along {
        0 => (&mut low.before, &mut high.before),
        1 => (&mut low.spirit, &mut high.spirit),
        _ => (&mut low.syrup, &mut high.syrup),
    };
    let (from, to) = *below;
    let cut = if at.is_finite() { at } else { from };
    let cut = cut.clamp(from + 0.2 * (to - from), to - 0.2 * (to - from));
    below.1 = cut;
    above.0 = cut;
    (low, high)
}
