//! What is known of the compositions at a node: ranges, the lines that hold over them, and what follows for every
//! column. A view is one composition of every ingredient: the typical one, or corners of the natural ranges.

use super::facts::Facts;
use super::interval::Interval;
use super::lines::{Band, Curve, MeltLine, Span, melt_lines_hold};
use crate::liquid::heat::FUSION;
use crate::liquid::ice::{self, Balance};
use crate::liquid::{CITRIC_VOLUME, Portion, ethanol};

/// Whether ice in the glass melts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Heat {
    /// That is open.
    Open,
    /// It does.
    Melts,
    /// It does not.
    Spares,
}

/// Where a composition lies. Each is what is true of ratios that may be nothing over nothing: `a·S ≤ E ≤ b·S`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ranges {
    /// Strength of what meets the working ice, before it.
    pub worked: Span,
    /// Mass fraction of ethanol in ethanol and water, as served.
    pub spirit: Span,
    /// Mass fraction of sweet solids in those and water, as served.
    pub syrup: Span,
    /// The ice in the glass.
    pub heat: Heat,
}

impl Ranges {
    /// Everything.
    pub const ALL: Self =
        Self { worked: (0.0, 1.0), spirit: (0.0, 1.0), syrup: (0.0, 1.0), heat: Heat::Open };

    /// One of the three.
    pub fn span(&mut self, which: Which) -> &mut Span {
        match which {
            Which::Worked => &mut self.worked,
            Which::Spirit => &mut self.spirit,
            Which::Syrup => &mut self.syrup,
        }
    }
}

/// One of the ranges.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Which {
    /// Strength before the working ice.
    Worked,
    /// Ethanol in ethanol and water.
    Spirit,
    /// Sweet solids in those and water.
    Syrup,
}

impl Which {
    /// All three.
    pub const ALL: [Self; 3] = [Self::Worked, Self::Spirit, Self::Syrup];

    /// Its letter in a proof.
    pub fn letter(self) -> char {
        match self {
            Self::Worked => 'w',
            Self::Spirit => 'p',
            Self::Syrup => 's',
        }
    }
}

/// The lines that a proof states.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lines {
    /// Below the melt by the working ice.
    pub melt_low: MeltLine,
    /// Above it.
    pub melt_high: MeltLine,
    /// Around the specific volume of ethanol and water.
    pub spirit: Band,
    /// Around that of sugar and water.
    pub syrup: Band,
    /// Around the enthalpy in a glass with ice; nothing where none of it melts by the balance.
    pub end: Option<Band>,
}

impl Lines {
    /// Whether they hold over ranges.
    pub fn hold(&self, facts: &Facts, ranges: &Ranges) -> bool {
        let melting = facts.brief.serve.melting();
        let water = |at: f64| {
            Interval::from(self.spirit_at(at)) + Interval::from(self.syrup_at(at)) - one_over_water()
        };
        let end = match (melting.glass, self.end) {
            (None, None) => true,
            // `L + low` is divided by.
            (Some(balance), Some(end)) => {
                Curve::End(balance).keeps(end, ranges.spirit) && FUSION + end.low.min(end.high) > 1.0
            }
            _ => false,
        };
        // More water is more volume, by either line: then bounds of the melt are bounds of the volume. It is less than
        // the ice that it was: then the most melt is the lowest level.
        let level = |at: f64| (water(at) * Interval::from(ethanol::WATER)).high <= ice::PER_MELT;
        end && [0.0, 1.0].into_iter().all(|at| water(at).low >= 0.0 && level(at))
            && Curve::Spirit.keeps(self.spirit, ranges.spirit)
            && Curve::Syrup.keeps(self.syrup, ranges.syrup)
            && melt_lines_hold(melting.working, (self.melt_low, self.melt_high), ranges.worked)
    }

    fn spirit_at(&self, at: f64) -> f64 {
        if at > 0.5 { self.spirit.high } else { self.spirit.low }
    }

    fn syrup_at(&self, at: f64) -> f64 {
        if at > 0.5 { self.syrup.high } else { self.syrup.low }
    }
}

fn one_over_water() -> Interval {
    Interval::ONE / Interval::from(ethanol::WATER)
}

/// Bounds a step of a column, each as (at least, at most).
#[derive(Debug, Clone, Copy)]
pub struct Bounds {
    /// Served volume, ml.
    pub volume: (Interval, Interval),
    /// Water from the ice, ml.
    pub melt: (Interval, Interval),
    /// Level in the glass, ml.
    pub level: (Interval, Interval),
    /// Of the sign of the heat, the two lines of what melts in the glass.
    pub sign: (Interval, Interval),
    /// Water in the glass, g.
    pub water: (Interval, Interval),
}

/// One unit (a step) of a portion under lines.
pub fn bounds(lines: &Lines, heat: Heat, glass: Option<Balance>, portion: &Portion, unit: f64) -> Bounds {
    let from = Interval::from;
    let unit = from(unit);
    let worked = |line: MeltLine| {
        from(portion.worked) * (from(line.share) + from(line.slope) * from(portion.strength))
    };
    let worked = (worked(lines.melt_low), worked(lines.melt_high));
    let sign = match (glass, lines.end) {
        (Some(balance), Some(end)) => melted(balance, end, portion, worked),
        _ => (Interval::ZERO, Interval::ZERO),
    };
    let iced = match (glass, heat) {
        (None, _) | (_, Heat::Spares) => (Interval::ZERO, Interval::ZERO),
        (_, Heat::Melts) => sign,
        (_, Heat::Open) => (Interval::ZERO, sign.1.positive()),
    };
    let melt = (worked.0 + iced.0, worked.1 + iced.1);
    let volume = |bands: (f64, f64), melt: Interval| {
        let m = &portion.masses;
        let water = from(m.water) + melt * from(ethanol::WATER);
        from(bands.0) * (from(m.ethanol) + water)
            + from(lines.spirit.slope) * from(m.ethanol)
            + from(bands.1) * (from(m.solids) + water)
            + from(lines.syrup.slope) * from(m.solids)
            - water * one_over_water()
            + from(CITRIC_VOLUME) * from(m.acid)
            + from(portion.excess)
    };
    let (low, high) = ((lines.spirit.low, lines.syrup.low), (lines.spirit.high, lines.syrup.high));
    // A ml from the ice in the glass takes up less than the ice that it was: the most melt is the lowest.
    let level = |volume: Interval, iced: Interval| (volume - iced * from(ice::PER_MELT)) * unit;
    let wet = |melt: Interval| (from(portion.masses.water) + melt * from(ethanol::WATER)) * unit;
    Bounds {
        volume: (volume(low, melt.0) * unit, volume(high, melt.1) * unit),
        melt: (melt.0 * unit, melt.1 * unit),
        level: (
            level(volume(low, worked.0 + iced.1), iced.1),
            level(volume(high, worked.1 + iced.0), iced.0),
        ),
        sign: (sign.0 * unit, sign.1 * unit),
        water: (wet(melt.0), wet(melt.1)),
    }
}

/// Lines below and above what melts in the glass, ml: `L·m + M·F = Q` with `M = e + w + m` and F in its band.
fn melted(
    balance: Balance,
    end: Band,
    portion: &Portion,
    worked: (Interval, Interval),
) -> (Interval, Interval) {
    let from = Interval::from;
    let m = &portion.masses;
    let line = |at: f64, (low, high): (Interval, Interval)| {
        let at = from(at);
        let by_water = from(balance.worked_water()) - at;
        // The bound that moves the line outwards; where the sign is not sure, both.
        let water = if by_water.low >= 0.0 {
            low
        } else if by_water.high <= 0.0 {
            high
        } else {
            low.hull(high)
        };
        let rest = from(balance.brought(portion))
            - at * (from(m.ethanol) + from(m.water))
            - from(end.slope) * from(m.ethanol);
        (rest + by_water * water * from(ethanol::WATER)) / (from(FUSION) + at) / from(ethanol::WATER)
    };
    (line(end.high, worked), line(end.low, (worked.1, worked.0)))
}
