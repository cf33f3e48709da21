//! Linear bounds on the volume and the melt over a range of compositions.

use super::Model;
use super::contraction::Band;
use crate::liquid::{CITRIC_VOLUME, Dilution, Portion, ethanol, sucrose};

/// A range of compositions within which an [`Envelope`] holds. Pairs are (least, greatest).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ranges {
    /// Strength of what is poured, before the ice (volume fraction).
    pub before: (f64, f64),
    /// Mass fraction of ethanol in ethanol and water, as served.
    pub spirit: (f64, f64),
    /// Mass fraction of sweet solids in those and water, as served.
    pub syrup: (f64, f64),
}

impl Ranges {
    /// Everything that mixtures of these portions could give: a mixture is never outside its parts, and
    /// melt water only lowers the greatest mass fractions.
    pub fn of(portions: &[Portion]) -> Self {
        let mut before = (f64::INFINITY, 0.0_f64);
        let (mut spirit, mut syrup) = (0.0_f64, 0.0_f64);
        for portion in portions {
            let m = &portion.masses;
            if portion.poured > 0.0 {
                before = (before.0.min(portion.strength), before.1.max(portion.strength));
            }
            if m.ethanol > 0.0 {
                spirit = spirit.max(m.ethanol / (m.ethanol + m.water));
            }
            if m.solids > 0.0 {
                syrup = syrup.max(m.solids / (m.solids + m.water));
            }
        }
        Self { before: (before.0.min(before.1), before.1), spirit: (0.0, spirit), syrup: (0.0, syrup) }
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
}

/// `share·S + slope·E` ml of melt, S the poured volume and E the ethanol's share of it, in ml.
#[derive(Debug, Clone, Copy)]
struct MeltLine {
    share: f64,
    slope: f64,
}

/// The chord and the middle tangent of a melt rule: the rules are concave in the strength, so over
/// `[a, b]` the chord lies below and any tangent above; times S, both are linear in (S, E).
fn melt_lines(dilution: Dilution, (a, b): (f64, f64)) -> (MeltLine, MeltLine) {
    let line = |slope: f64, at: f64| MeltLine { share: dilution.at(at) - slope * at, slope };
    let middle = 0.5 * (a + b);
    let chord = if b > a { (dilution.at(b) - dilution.at(a)) / (b - a) } else { dilution.slope(a) };
    (line(chord, a), line(dilution.slope(middle), middle))
}

impl Envelope {
    /// The bounds that hold for every mixture within `ranges`.
    pub fn new(model: &Model, portions: &[Portion], ranges: &Ranges) -> Self {
        let (melt_below, melt_above) = melt_lines(model.brief.serve.dilution, ranges.before);
        let (p0, p1) = ranges.spirit;
        let (b0, b1) = ranges.syrup;
        let spirit = Band::of(|p| ethanol::specific_volume(p).0, p0, p1, ethanol::CURVATURE);
        let syrup = Band::of(|b| sucrose::specific_volume(b).0, b0, b1, sucrose::CURVATURE);
        let mut envelope =
            Self { volume_low: vec![], volume_high: vec![], melt_low: vec![], melt_high: vec![] };
        for (portion, column) in portions.iter().zip(&model.columns) {
            let m = &portion.masses;
            let melt = |line: MeltLine| portion.poured * (line.share + line.slope * portion.strength);
            let (low, high) = (melt(melt_below), melt(melt_above));
            let volume = |melt: f64, spirit_at: f64, syrup_at: f64| {
                let water = m.water + melt * ethanol::WATER;
                spirit_at * (m.ethanol + water)
                    + spirit.slope * m.ethanol
                    + syrup_at * (m.solids + water)
                    + syrup.slope * m.solids
                    - water / ethanol::WATER
                    + CITRIC_VOLUME * m.acid
                    + portion.excess
            };
            envelope.melt_low.push(low * column.unit);
            envelope.melt_high.push(high * column.unit);
            envelope.volume_low.push(volume(low, spirit.low, syrup.low) * column.unit);
            envelope.volume_high.push(volume(high, spirit.high, syrup.high) * column.unit);
        }
        envelope
    }
}
