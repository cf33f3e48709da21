//! Four masses make a volume; ingredients and melt water make a drink.

use super::melt::Melting;
use super::{Portion, ethanol, sucrose};

/// Apparent specific volume of citric acid in water, ml/g (CRC Handbook, 102nd ed., concentrative
/// properties, as an average over dilute solutions).
pub const CITRIC_VOLUME: f64 = 0.597;

/// What a liquid is made of, in grams.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Masses {
    /// Ethanol, g.
    pub ethanol: f64,
    /// Water, g.
    pub water: f64,
    /// Dissolved sweet solids (sugars, polyols), g.
    pub solids: f64,
    /// Acid, as citric, g.
    pub acid: f64,
}

impl Masses {
    /// Adds `amount` times `other`.
    pub fn add(&mut self, amount: f64, other: &Self) {
        self.ethanol += amount * other.ethanol;
        self.water += amount * other.water;
        self.solids += amount * other.solids;
        self.acid += amount * other.acid;
    }

    /// The sum of the masses, g.
    pub fn total(&self) -> f64 {
        self.ethanol + self.water + self.solids + self.acid
    }

    /// Mass fraction of ethanol in ethanol and water; 0 where there is neither.
    pub fn strength_by_mass(&self) -> f64 {
        let wet = self.ethanol + self.water;
        if wet > 0.0 { self.ethanol / wet } else { 0.0 }
    }

    /// Volume at 20 °C, ml:
    ///
    /// `(m_e + m_w)/ρ_EW(p) + (m_s + m_w)/ρ_S(b) - m_w/ρ_S(0) + φ_a m_a`, p and b the mass fractions
    /// of ethanol in ethanol and water and of sugar in sugar and water.
    ///
    /// Exact at both edges (no sugar; no ethanol); in between within about 0.3 kg/m³ up to 20 % vol
    /// and 200 g/L, and 1 to 4 kg/m³ for a liqueur of 40 % vol and 250 g/L.
    pub fn volume(&self) -> f64 {
        let spirit = self.ethanol + self.water;
        let syrup = self.solids + self.water;
        let mut volume = CITRIC_VOLUME * self.acid - self.water / ethanol::WATER;
        if spirit > 0.0 {
            volume += spirit / ethanol::density(self.ethanol / spirit);
        }
        if syrup > 0.0 {
            volume += syrup / sucrose::density(self.solids / syrup);
        }
        volume
    }
}

impl Masses {
    /// The volumes ([`Self::volume`], to the last bit) of many mixtures at once: their ethanol, water, solids and acid.
    pub fn volumes((ethanol, water, solids, acid): (&[f64], &[f64], &[f64], &[f64]), volumes: &mut [f64]) {
        let mut at = 0;
        for volumes in volumes.chunks_mut(super::MANY) {
            let part = at..at + volumes.len();
            at = part.end;
            let (ethanol, water) = (&ethanol[part.clone()], &water[part.clone()]);
            let (solids, acid) = (&solids[part.clone()], &acid[part]);
            let share = |part: f64, whole: f64| if whole > 0.0 { part / whole } else { 0.0 };
            let (mut spirits, mut syrups) = ([0.0; super::MANY], [0.0; super::MANY]);
            for at in 0..volumes.len() {
                spirits[at] = share(ethanol[at], ethanol[at] + water[at]);
                syrups[at] = share(solids[at], solids[at] + water[at]);
            }
            ethanol::densities(&mut spirits[..volumes.len()]);
            sucrose::densities(&mut syrups[..volumes.len()]);
            for (at, volume) in volumes.iter_mut().enumerate() {
                let (spirit, syrup) = (ethanol[at] + water[at], solids[at] + water[at]);
                *volume = CITRIC_VOLUME * acid[at] - water[at] / ethanol::WATER;
                *volume += if spirit > 0.0 { spirit / spirits[at] } else { 0.0 };
                *volume += if syrup > 0.0 { syrup / syrups[at] } else { 0.0 };
            }
        }
    }
}

/// A drink as it stands in the glass, melt water included.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Drink {
    /// Measured (jigger) volume of the liquids, ml.
    pub poured: f64,
    /// Measured volume of what meets the working ice, ml.
    pub worked: f64,
    /// Strength of what meets the working ice, before it: volume fraction, 0 to 1.
    pub worked_strength: f64,
    /// Water from the ice, ml.
    pub melt: f64,
    /// That part of it which comes from the ice in the glass, ml.
    pub glass_melt: f64,
    /// Heat that the liquids bring as they are poured, J.
    pub heat: f64,
    /// What is in the glass, g.
    pub masses: Masses,
    /// Served volume at 20 °C, ml.
    pub volume: f64,
    /// Sugars, g (polyols not counted).
    pub sugars: f64,
    /// Sweetness, g as sucrose.
    pub sweet: f64,
    /// Energy, kcal.
    pub energy: f64,
}

impl Drink {
    /// Puts `(portion, amount)` pairs together and lets the ice melt in.
    pub fn of<'a>(parts: impl IntoIterator<Item = (&'a Portion, f64)>, melting: impl Into<Melting>) -> Self {
        let melting = melting.into();
        let mut drink = Self::default();
        let mut brought = 0.0;
        let mut excess = 0.0;
        let mut ethanol_volume = 0.0;
        for (portion, amount) in parts {
            drink.masses.add(amount, &portion.masses);
            drink.poured += amount * portion.poured;
            drink.sugars += amount * portion.sugars;
            drink.sweet += amount * portion.sweet;
            drink.energy += amount * portion.energy;
            drink.heat += amount * portion.heat;
            brought += melting.glass.map_or(0.0, |glass| amount * glass.brought(portion));
            excess += amount * portion.excess;
            drink.worked += amount * portion.worked;
            ethanol_volume += amount * portion.worked * portion.strength;
        }
        if drink.worked > 0.0 {
            drink.worked_strength = ethanol_volume / drink.worked;
        }
        drink.melt = melting.working.at(drink.worked_strength) * drink.worked;
        drink.masses.water += drink.melt * ethanol::WATER;
        if let Some(glass) = melting.glass {
            let heat = brought + glass.worked_water() * drink.melt * ethanol::WATER;
            let melt = glass.melt(&drink.masses, heat) / ethanol::WATER + glass.more * drink.poured;
            drink.glass_melt = melt.max(0.0);
            drink.melt += drink.glass_melt;
            drink.masses.water += drink.glass_melt * ethanol::WATER;
        }
        drink.volume = drink.masses.volume() + excess;
        drink
    }

    /// Water from the working ice, ml.
    pub fn worked_melt(&self) -> f64 {
        self.melt - self.glass_melt
    }

    /// Strength as served, % vol at 20 °C.
    pub fn strength(&self) -> f64 {
        self.per_volume(100.0 * self.masses.ethanol / ethanol::PURE)
    }

    /// `mass` over the served volume; undefined (NaN) for an empty glass.
    pub fn per_volume(&self, mass: f64) -> f64 {
        if self.volume > 0.0 { mass / self.volume } else { f64::NAN }
    }
}

/// How the volume of a mixture answers to one gram more of each kind, in ml/g.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PartialVolumes {
    /// By the mass of ethanol.
    pub ethanol: f64,
    /// By the mass of water.
    pub water: f64,
    /// By the mass of sweet solids.
    pub solids: f64,
    /// By the mass of acid.
    pub acid: f64,
}

impl PartialVolumes {
    /// Volume (ml) of `masses` at these partial volumes. The volume is homogeneous of degree one, so
    /// at the masses from which the partial volumes were taken this is the volume itself (Euler).
    pub fn of(&self, masses: &Masses) -> f64 {
        self.ethanol * masses.ethanol
            + self.water * masses.water
            + self.solids * masses.solids
            + self.acid * masses.acid
    }
}

impl Masses {
    /// Partial volumes at these masses: with the specific volume `v(p) = 1/ρ_EW(p)` the first term of
    /// [`Self::volume`] has the derivatives `v + (1 - p) v'` by ethanol and `v - p v'` by water; the
    /// sugar term likewise.
    pub fn partial_volumes(&self) -> PartialVolumes {
        let share = |part: f64, whole: f64| if whole > 0.0 { part / whole } else { 0.0 };
        let p = share(self.ethanol, self.ethanol + self.water);
        let b = share(self.solids, self.solids + self.water);
        let (v, dv) = ethanol::specific_volume(p);
        let (u, du) = sucrose::specific_volume(b);
        PartialVolumes {
            ethanol: v + (1.0 - p) * dv,
            water: v - p * dv + u - b * du - 1.0 / ethanol::WATER,
            solids: u + (1.0 - b) * du,
            acid: CITRIC_VOLUME,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every mixture of a grid, the empty one and the edges among them.
    #[test]
    fn many_volumes_are_those_of_each() {
        let steps = [0.0, 0.3, 4.0, 31.0];
        let mut all: Vec<Masses> = vec![];
        for ethanol in steps {
            for water in steps {
                for solids in steps {
                    all.extend(steps.map(|acid| Masses { ethanol, water, solids, acid }));
                }
            }
        }
        let of = |figure: fn(&Masses) -> f64| all.iter().map(figure).collect::<Vec<f64>>();
        let (ethanol, water, solids, acid) =
            (of(|m| m.ethanol), of(|m| m.water), of(|m| m.solids), of(|m| m.acid));
        let mut volumes = vec![0.0; all.len()];
        Masses::volumes((&ethanol, &water, &solids, &acid), &mut volumes);
        for (masses, volume) in all.iter().zip(volumes) {
            assert_eq!(masses.volume().to_bits(), volume.to_bits(), "{masses:?}");
        }
    }

    #[test]
    fn partial_volumes_are_the_derivatives_and_sum_to_the_volume() {
        let masses = Masses { ethanol: 12.0, water: 80.0, solids: 9.0, acid: 0.8 };
        let partial = masses.partial_volumes();
        assert!((partial.of(&masses) - masses.volume()).abs() < 1e-12);
        let h = 1e-5;
        let by_ethanol = (Masses { ethanol: 12.0 + h, ..masses }.volume()
            - Masses { ethanol: 12.0 - h, ..masses }.volume())
            / (2.0 * h);
        let by_water = (Masses { water: 80.0 + h, ..masses }.volume()
            - Masses { water: 80.0 - h, ..masses }.volume())
            / (2.0 * h);
        let by_solids = (Masses { solids: 9.0 + h, ..masses }.volume()
            - Masses { solids: 9.0 - h, ..masses }.volume())
            / (2.0 * h);
        assert!((by_ethanol - partial.ethanol).abs() < 1e-8);
        assert!((by_water - partial.water).abs() < 1e-8);
        assert!((by_solids - partial.solids).abs() < 1e-8);
    }
}
