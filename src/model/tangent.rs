//! The first-order expansion of volume and melt at one point: exact there.

use super::Model;
use crate::liquid::{Drink, ethanol};

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

    /// The expansion at a drink of the model's dilution.
    pub fn at(model: &Model, drink: &Drink) -> Self {
        let dilution = model.brief.serve.dilution;
        let partial = drink.masses.partial_volumes();
        let (share, slope) = (dilution.at(drink.poured_strength), dilution.slope(drink.poured_strength));
        let mut tangent = Self { volume: vec![], melt: vec![] };
        for (index, column) in model.columns.iter().enumerate() {
            let portion = &model.candidate(index).portion;
            // w = S·D(E/S): ∂w/∂S = D - A·D', ∂w/∂E = D'.
            let melt = portion.poured * (share + slope * (portion.strength - drink.poured_strength));
            let volume = partial.of(&portion.masses) + portion.excess + partial.water * ethanol::WATER * melt;
            tangent.melt.push(melt * column.unit);
            tangent.volume.push(volume * column.unit);
        }
        tangent
    }
}
