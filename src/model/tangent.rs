//! The first-order expansion of volume and melt at one point: exact there.

use super::Model;
use crate::liquid::{Dilution, Drink, PartialVolumes, Portion, ethanol};

/// Volume and melt per search unit of every column. Both are homogeneous of degree one, so there is
/// no constant term (Euler), and at the point itself the sums are the exact volume and melt.
#[derive(Debug, Clone, PartialEq)]
pub struct Tangent {
    /// ∂V/∂x, ml per unit.
    pub volume: Vec<f64>,
    /// ∂w/∂x, ml per unit.
    pub melt: Vec<f64>,
}

impl Tangent {
    /// The expansion as an envelope whose lines meet.
    pub fn envelope(&self) -> super::Envelope {
        let (volume_low, volume_high) = (self.volume.clone(), self.volume.clone());
        let (melt_low, melt_high) = (self.melt.clone(), self.melt.clone());
        super::Envelope { volume_low, volume_high, melt_low, melt_high }
    }

    /// The expansion at a drink of the model's dilution, for portions of which it may be made.
    pub fn at(model: &Model, portions: &[Portion], drink: &Drink) -> Self {
        let partials = Self::partials(model.brief.serve.dilution, drink);
        let mut tangent = Self { volume: vec![], melt: vec![] };
        for (portion, column) in portions.iter().zip(&model.columns) {
            let (volume, melt) = partials.of(portion);
            tangent.volume.push(volume * column.unit);
            tangent.melt.push(melt * column.unit);
        }
        tangent
    }

    /// What a little more of anything does to the volume and the melt of a drink.
    pub fn partials(dilution: Dilution, drink: &Drink) -> Partials {
        let strength = drink.poured_strength;
        let (share, slope) = (dilution.at(strength), dilution.slope(strength));
        Partials { partial: drink.masses.partial_volumes(), share, slope, strength }
    }
}

/// First-order effects on the volume and the melt of a drink.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Partials {
    partial: PartialVolumes,
    share: f64,
    slope: f64,
    strength: f64,
}

impl Partials {
    /// Ml of volume and of melt that one unit of a portion adds.
    pub fn of(&self, portion: &Portion) -> (f64, f64) {
        // w = S·D(E/S): ∂w/∂S = D - A·D', ∂w/∂E = D'.
        let melt = portion.poured * (self.share + self.slope * (portion.strength - self.strength));
        let volume =
            self.partial.of(&portion.masses) + portion.excess + self.partial.water * ethanol::WATER * melt;
        (volume, melt)
    }
}
