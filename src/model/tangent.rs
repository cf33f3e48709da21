//! The first-order expansion of volume and melt at one point: exact there.

use super::Model;
use crate::liquid::ice::{self, Answers, Balance};
use crate::liquid::{Drink, Melting, PartialVolumes, Portion, ethanol};

/// Volume, melt and level per search unit of every column. All are homogeneous of degree one, so there is
/// no constant term (Euler), and at the point itself the sums are the exact volume, melt and level.
#[derive(Debug, Clone, PartialEq)]
pub struct Tangent {
    /// ∂V/∂x, ml per unit.
    pub volume: Vec<f64>,
    /// ∂w/∂x, ml per unit.
    pub melt: Vec<f64>,
    /// The same of the level, ml per unit.
    pub level: Vec<f64>,
}

impl Tangent {
    /// The expansion as an envelope whose lines meet.
    pub fn envelope(&self) -> super::Envelope {
        let (volume_low, volume_high) = (self.volume.clone(), self.volume.clone());
        let (melt_low, melt_high) = (self.melt.clone(), self.melt.clone());
        let (level_low, level_high) = (self.level.clone(), self.level.clone());
        let sign = vec![];
        super::Envelope { volume_low, volume_high, melt_low, melt_high, level_low, level_high, sign }
    }

    /// The expansion at a drink of the model's melt, for portions of which it may be made.
    pub fn at(model: &Model, portions: &[Portion], drink: &Drink) -> Self {
        let partials = Self::partials(model.brief.serve.melting(), drink);
        let mut tangent = Self { volume: vec![], melt: vec![], level: vec![] };
        for (portion, column) in portions.iter().zip(&model.columns) {
            let adds = partials.of(portion);
            tangent.volume.push(adds.volume * column.unit);
            tangent.melt.push(adds.melt * column.unit);
            tangent.level.push(adds.level * column.unit);
        }
        tangent
    }

    /// What a little more of anything does to the volume and the melt of a drink.
    pub fn partials(melting: Melting, drink: &Drink) -> Partials {
        let strength = drink.worked_strength;
        let (share, slope) = (melting.working.at(strength), melting.working.slope(strength));
        let glass = melting.glass.filter(|_| drink.glass_melt > 0.0).map(|balance| {
            let (e, w) = (drink.masses.ethanol, drink.masses.water);
            (balance, balance.answers(e / (e + w)))
        });
        Partials { partial: drink.masses.partial_volumes(), share, slope, strength, glass }
    }
}

/// First-order effects on the volume and the melt of a drink.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Partials {
    partial: PartialVolumes,
    share: f64,
    slope: f64,
    strength: f64,
    /// The ice in the glass, where any of it melts.
    glass: Option<(Balance, Answers)>,
}

/// What one unit of a portion adds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Adds {
    /// To the volume, ml.
    pub volume: f64,
    /// To the melt, ml.
    pub melt: f64,
    /// To the level, ml.
    pub level: f64,
}

impl Partials {
    /// What one unit of a portion adds.
    pub fn of(&self, portion: &Portion) -> Adds {
        // w = S·D(E/S): ∂w/∂S = D - A·D', ∂w/∂E = D'.
        let worked = portion.worked * (self.share + self.slope * (portion.strength - self.strength));
        let glass = self.glass.map_or(0.0, |(balance, answers)| {
            let water = worked * ethanol::WATER;
            let heat = balance.brought(portion) + balance.worked_water() * water;
            let m = &portion.masses;
            (answers.heat * heat + answers.ethanol * m.ethanol + answers.water * (m.water + water))
                / ethanol::WATER
        });
        let melt = worked + glass;
        let volume =
            self.partial.of(&portion.masses) + portion.excess + self.partial.water * ethanol::WATER * melt;
        Adds { volume, melt, level: volume - glass * ice::PER_MELT }
    }
}
