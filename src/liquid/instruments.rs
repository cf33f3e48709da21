//! What instruments would read in a drink: scales, pycnometer, hydrometer, refractometer, alcoholmeter and
//! burette. Every reading is of the drink without gas and without ice.

use super::{Drink, Masses, acid, ethanol, refraction, sucrose};

/// Cubic expansion of the glass of a hydrometer, per °C. ISO 649-1 takes 0.000 025 (from memory).
const GLASS: f64 = 25e-6;

/// How a drink is titrated: the usual burette of a small laboratory. Common practice, no source.
pub const SAMPLE_ML: f64 = 10.0;
/// Molarity of the base (sodium hydroxide), mol/L. Common practice, no source.
pub const BASE: f64 = 0.1;

/// What instruments would read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Readings {
    /// The temperature at which volume, density and hydrometer are read, °C.
    pub celsius: f64,
    /// Mass of the serve, g: what a vessel gains.
    pub mass: f64,
    /// Volume at that temperature, ml.
    pub volume: f64,
    /// Density at that temperature, g/ml: what a pycnometer gives.
    pub density: f64,
    /// A hydrometer made for density at 20 °C, read at that temperature, g/ml.
    pub hydrometer: f64,
    /// A Brix hydrometer (20 °C), read at that temperature: g of sucrose in 100 g of a solution as dense. Under
    /// the density of water it is off its scale: nothing.
    pub hydrometer_brix: Option<f64>,
    /// The Brix that a refractometer with automatic temperature correction reads: alcohol counts as sugar.
    pub refractometer_brix: f64,
    /// The strength that an alcoholmeter reads in the drink itself at 20 °C, % vol: sugar hides alcohol. Denser
    /// than water it is off its scale: nothing.
    pub alcoholmeter: Option<f64>,
    /// The strength that it reads after distillation, made up to the same volume: the drink's own, % vol.
    pub distilled: f64,
    /// Base (0.1 mol/L) that 10 ml use up to pH 8.1 (AOAC 942.15), ml.
    pub titration: f64,
}

impl Masses {
    /// Volume at `celsius` (0 to 40 °C), ml: the volume at 20 °C with both of its densities at that
    /// temperature.
    pub fn volume_at(&self, celsius: f64) -> f64 {
        let (spirit, syrup) = (self.ethanol + self.water, self.solids + self.water);
        let mut volume = super::CITRIC_VOLUME * self.acid - self.water / ethanol::density_at(0.0, celsius);
        if spirit > 0.0 {
            volume += spirit / ethanol::density_at(self.ethanol / spirit, celsius);
        }
        if syrup > 0.0 {
            volume += syrup / sucrose::density_at(self.solids / syrup, celsius);
        }
        volume
    }
}

/// What instruments would read in a drink at `celsius` (0 to 40 °C); nothing for an empty glass.
pub fn readings(drink: &Drink, celsius: f64) -> Option<Readings> {
    let mass = drink.masses.total();
    if !(mass > 0.0 && drink.volume > 0.0) {
        return None;
    }
    // What the densities of ingredients put beyond the masses does not stretch with them.
    let excess = drink.volume - drink.masses.volume();
    let volume = drink.masses.volume_at(celsius) + excess;
    let (density, cold) = (mass / volume, mass / drink.volume);
    let hydrometer = density * (1.0 + GLASS * (celsius - 20.0));
    Some(Readings {
        celsius,
        mass,
        volume,
        density,
        hydrometer,
        hydrometer_brix: brix_of_density(hydrometer),
        refractometer_brix: refraction::brix(drink.masses.refractive_index(drink.volume)),
        alcoholmeter: strength_of_density(cold),
        distilled: drink.strength(),
        titration: base_for(drink.per_volume(1000.0 * drink.masses.acid)),
    })
}

/// Base that a sample of [`SAMPLE_ML`] uses up at so many g/L of titratable acid as citric, ml.
pub fn base_for(acid_per_litre: f64) -> f64 {
    acid_per_litre / acid::titrated(1.0, BASE, SAMPLE_ML, acid::Acid::Citric.equivalent())
}

/// g of sucrose in 100 g of a solution of this density (20 °C, g/ml); nothing under that of water.
pub fn brix_of_density(density: f64) -> Option<f64> {
    let rounding = 1e-9;
    (density >= ethanol::WATER - rounding).then(|| 100.0 * inverse(sucrose::density, density))
}

/// Strength in % vol of ethanol in water of this density (20 °C, g/ml); nothing over that of water.
pub fn strength_of_density(density: f64) -> Option<f64> {
    let rounding = 1e-9;
    (density <= ethanol::WATER + rounding)
        .then(|| 100.0 * ethanol::strength_at(inverse(|p| -ethanol::density(p), -density), 20.0))
}

/// Where a rising function of a mass fraction reaches a value, by halving.
fn inverse(rising: impl Fn(f64) -> f64, value: f64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    // 60 halvings take the bracket below the spacing of floats.
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if rising(middle) < value {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::liquid::{Dilution, Label};

    fn drink(strength: f64, sugar: f64, acid: f64) -> Drink {
        let portion = Label { strength, sugar, acid, ..Label::default() }.portion().expect("a liquid");
        Drink::of([(&portion, 100.0)], Dilution::Share(0.0))
    }

    /// OIML R 22 / European Pharmacopoeia table at 20 °C: 40 % vol is 948.05 kg/m³, 10 % vol 984.71.
    #[test]
    fn an_alcoholmeter_reads_a_spirit_and_misreads_a_liqueur() {
        for (kg, strength) in [(0.948_05, 40.0), (0.984_71, 10.0), (0.930_14, 50.0)] {
            assert!((strength_of_density(kg).expect("on the scale") - strength).abs() < 0.005);
        }
        let plain = readings(&drink(40.0, 0.0, 0.0), 20.0).expect("readings");
        assert!((plain.alcoholmeter.expect("on the scale") - 40.0).abs() < 1e-6);
        assert!((plain.distilled - 40.0).abs() < 1e-9);
        let sweet = readings(&drink(30.0, 40.0, 0.0), 20.0).expect("readings");
        assert!(sweet.alcoholmeter.expect("on the scale") < 20.0, "{sweet:?}");
        assert!(readings(&drink(15.0, 250.0, 0.0), 20.0).expect("readings").alcoholmeter.is_none());
    }

    /// CRC Handbook, sucrose in water at 20 °C: 10 % is 1.0381 g/ml, 50 % 1.2295.
    #[test]
    fn a_hydrometer_and_a_refractometer_agree_on_sugar_alone() {
        for (density, brix) in [(1.0381, 10.0), (1.2295, 50.0)] {
            assert!((brix_of_density(density).expect("on the scale") - brix).abs() < 0.05);
        }
        let syrup = readings(&drink(0.0, 614.8, 0.0), 20.0).expect("readings");
        assert!((syrup.hydrometer_brix.expect("on the scale") - 50.0).abs() < 0.01, "{syrup:?}");
        assert!((syrup.refractometer_brix - 50.0).abs() < 0.1, "{syrup:?}");
    }

    /// A Brix hydrometer made for 20 °C reads too little in a warm solution. A published correction (a fit to
    /// the table of NBS Circular C440, read on a wine laboratory's page) adds 0.292 at 25 °C and 10 °Brix; its
    /// own digits are hundredths, the fit's error is not told: 0.02.
    #[test]
    fn a_warm_hydrometer_reads_low_by_the_published_correction() {
        let warm = readings(&drink(0.0, 1000.0 * 0.1 * 1.038_12, 0.0), 25.0).expect("readings");
        let short = 10.0 - warm.hydrometer_brix.expect("on the scale");
        assert!((short - 0.292).abs() < 0.02, "{short}");
    }

    /// OIML R 22: pure ethanol at 40 °C is 771.93 kg/m³.
    #[test]
    fn warm_spirit_takes_more_room() {
        let pure = Masses { ethanol: 100.0, ..Masses::default() };
        assert!((100.0 / pure.volume_at(40.0) - 0.771_93).abs() < 0.000_006);
        let cold = Masses { ethanol: 12.0, water: 80.0, solids: 9.0, acid: 0.8 };
        assert!((cold.volume_at(20.0) - cold.volume()).abs() < 1e-6);
    }

    /// Titratable acidity worked example (public page): 20.5 ml of 0.085 N base on 10 ml are 11.152 g/L as
    /// citric, at 64 g/eq; ours is 64.04.
    #[test]
    fn the_burette_reads_what_the_worked_example_says() {
        let used = base_for(11.152);
        assert!((used * 0.1 - 20.5 * 0.085).abs() < 0.002, "{used}");
        assert!(readings(&Drink::default(), 20.0).is_none());
    }
}
