//! Linear bounds on the volume and the melt over a range of compositions.

use super::Model;
use super::contraction::Band;
use crate::brief::Side;
use crate::liquid::heat::FUSION;
use crate::liquid::ice::{self, Balance};
use crate::liquid::{CITRIC_VOLUME, Dilution, Portion, ethanol, sucrose};

/// A range of compositions within which an [`Envelope`] holds. Pairs are (least, greatest).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ranges {
    /// Strength of what meets the working ice, before it (volume fraction).
    pub before: (f64, f64),
    /// Mass fraction of ethanol in ethanol and water, as served.
    pub spirit: (f64, f64),
    /// Mass fraction of sweet solids in those and water, as served.
    pub syrup: (f64, f64),
    /// Whether the ice in the glass melts.
    pub heat: Heat,
}

/// Whether what is poured brings enough heat to melt ice in the glass.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Heat {
    /// That is open; so it is where there is no balance.
    Open,
    /// It does.
    Melts,
    /// It does not.
    Spares,
}

impl Ranges {
    /// Everything that mixtures of these portions could give: a mixture is never outside its parts, and
    /// melt water only lowers the greatest mass fractions.
    pub fn of(portions: &[Portion]) -> Self {
        let mut before = (f64::INFINITY, 0.0_f64);
        let (mut spirit, mut syrup) = (0.0_f64, 0.0_f64);
        for portion in portions {
            let m = &portion.masses;
            if portion.worked > 0.0 {
                before = (before.0.min(portion.strength), before.1.max(portion.strength));
            }
            if m.ethanol > 0.0 {
                spirit = spirit.max(m.ethanol / (m.ethanol + m.water));
            }
            if m.solids > 0.0 {
                syrup = syrup.max(m.solids / (m.solids + m.water));
            }
        }
        Self {
            before: (before.0.min(before.1), before.1),
            spirit: (0.0, spirit),
            syrup: (0.0, syrup),
            heat: Heat::Open,
        }
    }
}

/// Figures per search unit of every column, between which the physics lies.
#[derive(Debug, Clone, PartialEq)]
pub struct Envelope {
    /// At least this served volume, ml.
    pub volume_low: Vec<f64>,
    /// At most this served volume, ml.
    pub volume_high: Vec<f64>,
    /// At least this melt, ml.
    pub melt_low: Vec<f64>,
    /// At most this melt, ml.
    pub melt_high: Vec<f64>,
    /// At least this level in the glass, ml.
    pub level_low: Vec<f64>,
    /// At most this level in the glass, ml.
    pub level_high: Vec<f64>,
    /// Of the range's own sign of the heat: at least nothing where ice melts, at most where none does; empty
    /// where that is open.
    pub sign: Vec<f64>,
}

/// `share·S + slope·E` ml of melt, S the volume on the working ice and E the ethanol's share of it, in ml.
#[derive(Debug, Clone, Copy)]
struct MeltLine {
    share: f64,
    slope: f64,
}

impl MeltLine {
    /// Ml of melt that one unit of a portion brings.
    fn of(self, portion: &Portion) -> f64 {
        portion.worked * (self.share + self.slope * portion.strength)
    }
}

/// The chord and the middle tangent of a melt rule: the rules are concave in the strength, so over
/// `[a, b]` the chord lies below and any tangent above; times S, both are linear in (S, E).
fn melt_lines(dilution: Dilution, (a, b): (f64, f64)) -> (MeltLine, MeltLine) {
    let line = |slope: f64, at: f64| MeltLine { share: dilution.at(at) - slope * at, slope };
    let middle = 0.5 * (a + b);
    let chord = if b > a { (dilution.at(b) - dilution.at(a)) / (b - a) } else { dilution.slope(a) };
    (line(chord, a), line(dilution.slope(middle), middle))
}

/// Lines below and above the melt of the ice in the glass.
///
/// Where ice melts, `L·m + M·F(p) = Q`, and over a range of p the enthalpy lies in a [`Band`]:
/// `low·M + slope·e ≤ M·F(p) ≤ high·M + slope·e`. With `M = e + w + m`, w the water from elsewhere,
/// `(Q - high·(e + w) - slope·e) / (L + high) ≤ m ≤ (Q - low·(e + w) - slope·e) / (L + low)`,
/// as `L + low` is more than nothing: both sides are linear in the amounts. w has bounds of its own, of
/// which the one is taken that moves the line outwards. Where no ice melts, `Q ≤ M·F(p)` without any, so
/// that the lower line is at most nothing. Where either may be, the melt is at least nothing, and at most
/// the upper line without what it takes off, as amounts are never less than nothing.
struct GlassLines {
    balance: Balance,
    band: Band,
}

impl GlassLines {
    fn new(balance: Balance, (from, to): (f64, f64)) -> Self {
        Self { balance, band: Band::of(|p| balance.end(p).0, from, to, ice::CURVATURE) }
    }

    /// Ml of melt by one unit of a portion, at least and at most, where ice melts; `worked` are the bounds of
    /// what the working ice brings, ml.
    fn of(&self, portion: &Portion, worked: (f64, f64)) -> (f64, f64) {
        let m = &portion.masses;
        let line = |end: f64, (low, high): (f64, f64)| {
            let by_water = self.balance.worked_water() - end;
            let water = ethanol::WATER * if by_water >= 0.0 { low } else { high };
            let rest =
                self.balance.brought(portion) - end * (m.ethanol + m.water) - self.band.slope * m.ethanol;
            (rest + by_water * water) / (FUSION + end) / ethanol::WATER
        };
        (line(self.band.high, worked), line(self.band.low, (worked.1, worked.0)))
    }
}

/// What one unit of a portion brings, between two bounds each, ml.
#[derive(Debug, Clone, Copy)]
struct Waters {
    worked: (f64, f64),
    glass: (f64, f64),
}

impl Envelope {
    /// The bounds that hold for every mixture within `ranges`.
    pub fn new(model: &Model, portions: &[Portion], ranges: &Ranges) -> Self {
        let (melt_below, melt_above) = melt_lines(model.brief.serve.dilution, ranges.before);
        let glass = model.brief.serve.melting().glass.map(|balance| GlassLines::new(balance, ranges.spirit));
        let volumes = Volumes::over(ranges);
        let mut envelope = Self {
            volume_low: vec![],
            volume_high: vec![],
            melt_low: vec![],
            melt_high: vec![],
            level_low: vec![],
            level_high: vec![],
            sign: vec![],
        };
        for (portion, column) in portions.iter().zip(&model.columns) {
            let worked = (melt_below.of(portion), melt_above.of(portion));
            let lines = glass.as_ref().map(|glass| glass.of(portion, worked));
            let waters = Waters { worked, glass: melted(lines, ranges.heat) };
            envelope.push(portion, column.unit, waters, &volumes);
            match (lines, ranges.heat) {
                (Some((_, high)), Heat::Melts) => envelope.sign.push(high * column.unit),
                (Some((low, _)), Heat::Spares) => envelope.sign.push(low * column.unit),
                _ => {}
            }
        }
        envelope
    }

    fn push(&mut self, portion: &Portion, unit: f64, waters: Waters, volumes: &Volumes) {
        let Waters { worked, glass } = waters;
        let level = |volume: f64, glass: f64| (volume - glass * ice::PER_MELT) * unit;
        self.melt_low.push((worked.0 + glass.0) * unit);
        self.melt_high.push((worked.1 + glass.1) * unit);
        self.volume_low.push(volumes.low(portion, worked.0 + glass.0) * unit);
        self.volume_high.push(volumes.high(portion, worked.1 + glass.1) * unit);
        // A ml from the ice in the glass takes up less than the ice that it was: the most melt is the lowest.
        self.level_low.push(level(volumes.low(portion, worked.0 + glass.1), glass.1));
        self.level_high.push(level(volumes.high(portion, worked.1 + glass.0), glass.0));
    }

    /// The row that keeps a program to the sign of the heat that its ranges name: figures a column, and from
    /// which side they are bounded by nothing.
    pub fn sign_row(&self, heat: Heat) -> Option<(Vec<f64>, Side)> {
        let side = if heat == Heat::Melts { Side::Min } else { Side::Max };
        (!self.sign.is_empty()).then(|| (self.sign.clone(), side))
    }
}

/// The bounds on the melt of the ice in the glass, as far as it is known whether any melts.
fn melted(lines: Option<(f64, f64)>, heat: Heat) -> (f64, f64) {
    match (lines, heat) {
        (None, _) | (_, Heat::Spares) => (0.0, 0.0),
        (Some(lines), Heat::Melts) => lines,
        (Some((_, high)), Heat::Open) => (0.0, high.max(0.0)),
    }
}

/// Lines below and above the volume.
struct Volumes {
    spirit: Band,
    syrup: Band,
}

impl Volumes {
    fn over(ranges: &Ranges) -> Self {
        let (p0, p1) = ranges.spirit;
        let (b0, b1) = ranges.syrup;
        Self {
            spirit: Band::of(|p| ethanol::specific_volume(p).0, p0, p1, ethanol::CURVATURE),
            syrup: Band::of(|b| sucrose::specific_volume(b).0, b0, b1, sucrose::CURVATURE),
        }
    }

    fn low(&self, portion: &Portion, melt: f64) -> f64 {
        self.at(portion, melt, (self.spirit.low, self.syrup.low))
    }

    fn high(&self, portion: &Portion, melt: f64) -> f64 {
        self.at(portion, melt, (self.spirit.high, self.syrup.high))
    }

    /// It rises with the melt.
    fn at(&self, portion: &Portion, melt: f64, (spirit_at, syrup_at): (f64, f64)) -> f64 {
        let m = &portion.masses;
        let water = m.water + melt * ethanol::WATER;
        spirit_at * (m.ethanol + water)
            + self.spirit.slope * m.ethanol
            + syrup_at * (m.solids + water)
            + self.syrup.slope * m.solids
            - water / ethanol::WATER
            + CITRIC_VOLUME * m.acid
            + portion.excess
    }
}

impl Model<'_> {
    /// The signs of the heat that have to be looked at one by one: both where some of what may be poured
    /// melts ice in the glass and some spares it.
    pub fn heats(&self) -> Vec<Heat> {
        let Some(balance) = self.brief.serve.melting().glass else { return vec![Heat::Open] };
        let ranges = Ranges::of(&self.typical);
        let lines = GlassLines::new(balance, ranges.spirit);
        let (below, above) = melt_lines(self.brief.serve.dilution, ranges.before);
        let of = |p: &Portion| lines.of(p, (below.of(p), above.of(p)));
        if self.typical.iter().all(|p| of(p).0 >= 0.0) {
            vec![Heat::Melts]
        } else if self.typical.iter().all(|p| of(p).1 <= 0.0) {
            vec![Heat::Spares]
        } else {
            vec![Heat::Melts, Heat::Spares]
        }
    }
}
