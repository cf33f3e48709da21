//! Sucrose and water: density by mass fraction and temperature.
//!
//! Source: Bubník, Kadlec, Urban, Bruhns, *Sugar Technologists Manual* (Bartens 1995), p. 164.
//! The polynomial's own water term is replaced by OIML R 22's, so that both edges of the four-mass
//! volume meet (they differ by 2 g/m³).

use super::ethanol;

/// `a_{0,k}`, kg/m³, for powers 1 to 6 of the mass fraction.
pub const A: [f64; 6] = [385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890];

/// `a_{j,k}`, kg/m³: row j - 1 for τ^j, τ = (t - 20 °C)/100; powers 1.. of the mass fraction.
const WARMER: [&[f64]; 4] = [
    &[-46.2720, -7.1720, 1.1597, 5.1126, 17.5254],
    &[59.7712, 7.2491, 12.3630, -35.4791],
    &[-47.2207, -21.6977, 27.6301],
    &[18.3184, 12.3081],
];

/// Solubility of sucrose in water at 20 °C as a mass fraction (Bubník and Kadlec in Mathlouthi and
/// Reiser, *Sucrose*, 1995: 66.7 % mass). A syrup above it is supersaturated.
pub const SOLUBILITY: f64 = 0.667;

/// `Σ c_k x^(k+1)` by Horner's rule.
fn polynomial(coefficients: &[f64], x: f64) -> f64 {
    x * coefficients.iter().rev().fold(0.0, |sum, c| sum * x + c)
}

/// Density (g/ml) of sucrose in water at 20 °C, by mass fraction of sucrose (0 to 1).
pub fn density(mass_fraction: f64) -> f64 {
    ethanol::WATER + polynomial(&A, mass_fraction) / 1000.0
}

/// The density at 20 °C of many at once, each in the place of its mass fraction.
pub(super) fn densities(mass_fractions: &mut [f64]) {
    let mut sums = [0.0; super::MANY];
    for part in mass_fractions.chunks_mut(super::MANY) {
        let sums = &mut sums[..part.len()];
        sums.copy_from_slice(part);
        super::horner(&A, sums);
        part.iter_mut().zip(sums).for_each(|(x, sum)| *x = ethanol::WATER + *x * *sum / 1000.0);
    }
}

/// Density (g/ml) of sucrose in water at `celsius` (0 to 40 °C, where OIML R 22's water is good), by mass
/// fraction of sucrose (0 to 1).
pub fn density_at(mass_fraction: f64, celsius: f64) -> f64 {
    let tau = (celsius - 20.0) / 100.0;
    let warmer = WARMER.iter().rev().fold(0.0, |sum, row| tau * (sum + polynomial(row, mass_fraction)));
    ethanol::density_at(0.0, celsius) + (polynomial(&A, mass_fraction) + warmer) / 1000.0
}

/// Specific volume 1/ρ (ml/g) of sucrose in water at 20 °C and its derivative, by mass fraction.
pub fn specific_volume(mass_fraction: f64) -> (f64, f64) {
    let (value, slope) = A
        .iter()
        .rev()
        .fold((0.0, 0.0), |(value, slope), c| (value * mass_fraction + c, slope * mass_fraction + value));
    // The stored coefficients start at the first power: ρ = ρ_w + w·q(w), so ρ' = q + w·q'.
    let rho = ethanol::WATER + mass_fraction * value / 1000.0;
    let volume = 1.0 / rho;
    (volume, -volume * (value + mass_fraction * slope) / 1000.0 / rho)
}

/// Grams of sucrose per litre of a solution of the given Brix (g sucrose in 100 g) at 20 °C.
pub fn grams_per_litre(brix: f64) -> f64 {
    let b = brix / 100.0;
    1000.0 * b * density(b)
}

/// Largest magnitude of the second derivative, by mass fraction, of the specific volume 1/ρ over
/// [0, 1], in ml/g, rounded up; see [`ethanol::CURVATURE`].
pub const CURVATURE: f64 = 0.25;
