//! What a refractometer sees: the refractive index of a mixture, and the Brix that its scale reads.
//!
//! Refractions add by mass (Lorentz and Lorenz): `(n² - 1)/(n² + 2) = Σ m_k r_k / V`. The specific refraction
//! `r` of ethanol in water and of sucrose in water comes from tables, so that the sum is right for both; a
//! drink that holds alcohol *and* sugar lies between, as its volume does. A refractometer's scale is sugar's
//! alone: alcohol bends light too, and in a drink the scale reads too much.
//!
//! Source of the tables: CRC Handbook of Chemistry and Physics, 102nd ed. (2021), concentrative properties of
//! aqueous solutions (20 °C, 589 nm, relative to air), read in a public copy. Four decimals: the reading is
//! good to ±0.04 °Brix for sucrose in water.

use super::{Masses, ethanol, sucrose};

/// Refractive index of water, CRC Handbook.
const WATER: f64 = 1.3330;

/// Ethanol in water: g in 100 g, refractive index. CRC Handbook.
const ETHANOL: [(f64, f64); 27] = [
    (0.0, WATER),
    (2.0, 1.3342),
    (4.0, 1.3354),
    (6.0, 1.3367),
    (8.0, 1.3381),
    (10.0, 1.3395),
    (12.0, 1.3410),
    (14.0, 1.3425),
    (16.0, 1.3440),
    (18.0, 1.3455),
    (20.0, 1.3469),
    (24.0, 1.3498),
    (28.0, 1.3524),
    (32.0, 1.3546),
    (36.0, 1.3566),
    (40.0, 1.3583),
    (44.0, 1.3598),
    (48.0, 1.3610),
    (52.0, 1.3621),
    (56.0, 1.3630),
    (60.0, 1.3638),
    (66.0, 1.3647),
    (72.0, 1.3654),
    (80.0, 1.3658),
    (86.0, 1.3655),
    (92.0, 1.3646),
    (100.0, 1.3614),
];

/// Sucrose in water: g in 100 g, refractive index. CRC Handbook.
const SUCROSE: [(f64, f64); 18] = [
    (0.0, WATER),
    (5.0, 1.3403),
    (10.0, 1.3478),
    (15.0, 1.3557),
    (20.0, 1.3639),
    (24.0, 1.3706),
    (28.0, 1.3776),
    (32.0, 1.3848),
    (36.0, 1.3922),
    (40.0, 1.3999),
    (42.0, 1.4038),
    (44.0, 1.4078),
    (46.0, 1.4118),
    (50.0, 1.4201),
    (60.0, 1.4419),
    (70.0, 1.4654),
    (80.0, 1.4906),
    (84.0, 1.5010),
];

/// Citric acid, 10 g in 100 g of its solution: refractive index and density, CRC Handbook. Its specific
/// refraction is taken from here for every acid.
const CITRIC: (f64, f64) = (1.3459, 1.0402);

/// `(n² - 1)/(n² + 2)`.
fn refraction(index: f64) -> f64 {
    let square = index * index;
    (square - 1.0) / (square + 2.0)
}

/// The refractive index of a refraction: the way back.
fn index(refraction: f64) -> f64 {
    ((1.0 + 2.0 * refraction) / (1.0 - refraction)).sqrt()
}

/// Specific refraction (ml/g) of a solution by its mass fraction, straight between the rows of a table.
fn specific(table: &[(f64, f64)], density: fn(f64) -> f64, mass_fraction: f64) -> f64 {
    let at = |(percent, n): (f64, f64)| (percent / 100.0, refraction(n) / density(percent / 100.0));
    let x = mass_fraction.clamp(0.0, table[table.len() - 1].0 / 100.0);
    let next = table.partition_point(|row| row.0 / 100.0 < x).clamp(1, table.len() - 1);
    let ((x0, r0), (x1, r1)) = (at(table[next - 1]), at(table[next]));
    r0 + (r1 - r0) * (x - x0) / (x1 - x0)
}

/// Specific refraction of citric acid in water, ml/g: what a gram adds to that of its water.
fn citric() -> f64 {
    let (n, density) = CITRIC;
    (refraction(n) / density - 0.9 * refraction(WATER) / ethanol::WATER) / 0.1
}

impl Masses {
    /// Refractive index at 20 °C and 589 nm of these masses in `volume` ml; that of water for an empty glass.
    pub fn refractive_index(&self, volume: f64) -> f64 {
        let (spirit, syrup) = (self.ethanol + self.water, self.solids + self.water);
        let mut sum = citric() * self.acid - self.water * refraction(WATER) / ethanol::WATER;
        if spirit > 0.0 {
            sum += spirit * specific(&ETHANOL, ethanol::density, self.ethanol / spirit);
        }
        if syrup > 0.0 {
            sum += syrup * specific(&SUCROSE, sucrose::density, self.solids / syrup);
        }
        if volume > 0.0 { index(sum / volume) } else { WATER }
    }
}

/// What a Brix scale reads at a refractive index (20 °C): g of sucrose in 100 g of the solution that bends
/// light as much. Under that of water 0, over that of the last row of the table its own 84.
pub fn brix(index: f64) -> f64 {
    let (mut low, mut high) = (0.0, 84.0);
    // 60 halvings take the bracket below the spacing of floats.
    for _ in 0..60 {
        let middle: f64 = 0.5 * (low + high);
        if sucrose_index(middle / 100.0) < index {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// Refractive index of sucrose in water (20 °C) by mass fraction.
fn sucrose_index(mass_fraction: f64) -> f64 {
    index(specific(&SUCROSE, sucrose::density, mass_fraction) * sucrose::density(mass_fraction))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rows of the CRC Handbook that are not in the tables above: half a last digit, and a straight line
    /// between two rows.
    #[test]
    fn rows_between_those_of_the_tables_are_met() {
        for (percent, n) in [(1.0, 1.3336), (7.0, 1.3374), (22.0, 1.3484), (30.0, 1.3535), (38.0, 1.3575)] {
            let masses = Masses { ethanol: percent, water: 100.0 - percent, ..Masses::default() };
            let found = masses.refractive_index(masses.volume());
            assert!((found - n).abs() < 0.000_12, "ethanol {percent}: {found}");
        }
        for (percent, n) in [(1.0, 1.3344), (8.0, 1.3448), (17.0, 1.3589), (30.0, 1.3812), (48.0, 1.4159)] {
            let masses = Masses { solids: percent, water: 100.0 - percent, ..Masses::default() };
            let found = masses.refractive_index(masses.volume());
            assert!((found - n).abs() < 0.000_12, "sucrose {percent}: {found}");
        }
    }

    /// Citric acid in water, CRC Handbook: another concentration than the one that the figure is from.
    #[test]
    fn citric_acid_bends_light_as_the_handbook_says() {
        for (percent, n) in [(2.0, 1.3356), (5.0, 1.3394), (20.0, 1.3598)] {
            let masses = Masses { acid: percent, water: 100.0 - percent, ..Masses::default() };
            let found = masses.refractive_index(masses.volume());
            assert!((found - n).abs() < 0.000_6, "{percent}: {found}");
        }
    }

    /// The ICUMSA scale (SPS-3, 2000) at 589 nm: 10 °Brix 1.34782, 50 °Brix 1.42009, 65 °Brix 1.45348 (the three
    /// figures from memory). Four decimals of ours are 0.04 °Brix.
    #[test]
    fn the_scale_is_the_sugar_trades() {
        for (n, scale) in [(1.34782, 10.0), (1.42009, 50.0), (1.45348, 65.0)] {
            assert!((brix(n) - scale).abs() < 0.1, "{}", brix(n));
        }
        assert!(brix(1.33) < 1e-9 && brix(2.0) > 83.99);
    }

    /// Alcohol reads as sugar: 40 % vol in water (33.3 % mass) holds none. From the CRC rows its index stands
    /// between 1.3546 and 1.3557, which sucrose reaches between 14 and 15 %.
    #[test]
    fn a_spirit_reads_as_if_it_were_sweet() {
        let masses = Masses { ethanol: 33.3, water: 66.7, ..Masses::default() };
        let read = brix(masses.refractive_index(masses.volume()));
        assert!((14.3..15.0).contains(&read), "{read}");
    }
}
