//! Ethanol and water: density by mass fraction and temperature.
//!
//! Source: OIML R 22, *International alcoholometric tables* (1975), general formula; the same
//! formula stands in Council Directive 76/766/EEC. Valid from -20 °C to +40 °C.

/// Density of pure ethanol at 20 °C in g/ml (the formula at mass fraction 1).
pub const PURE: f64 = 0.789_239_123_3;
/// Density of pure water at 20 °C in g/ml (the formula at mass fraction 0).
pub const WATER: f64 = 0.998_201_23;

/// `A_k`, kg/m³, for powers 0 to 11 of the mass fraction.
pub const A: [f64; 12] = [
    9.982_012_300e2,
    -1.929_769_495e2,
    3.891_238_958e2,
    -1.668_103_923e3,
    1.352_215_441e4,
    -8.829_278_388e4,
    3.062_874_042e5,
    -6.138_381_234e5,
    7.470_172_998e5,
    -5.478_461_354e5,
    2.234_460_334e5,
    -3.903_285_426e4,
];
/// `B_k` for powers 1 to 6 of (t - 20 °C).
const B: [f64; 6] =
    [-2.061_851_3e-1, -5.268_254_2e-3, 3.613_001_3e-5, -3.895_770_2e-7, 7.169_354_0e-9, -9.973_923_1e-11];
/// `C_{i,k}`: row i for (t - 20 °C)^i, powers 1.. of the mass fraction.
const C: [&[f64]; 5] = [
    &[
        1.693_443_461_530_087e-1,
        -1.046_914_743_455_169e1,
        7.196_353_469_546_523e1,
        -7.047_478_054_272_792e2,
        3.924_090_430_035_045e3,
        -1.210_164_659_068_747e4,
        2.248_646_550_400_788e4,
        -2.605_562_982_188_164e4,
        1.852_373_922_069_467e4,
        -7.420_201_433_430_137e3,
        1.285_617_841_998_974e3,
    ],
    &[
        -1.193_013_005_057_010e-2,
        2.517_399_633_803_461e-1,
        -2.170_575_700_536_993,
        1.353_034_988_843_029e1,
        -5.029_988_758_547_014e1,
        1.096_355_666_577_570e2,
        -1.422_753_946_421_155e2,
        1.080_435_942_856_230e2,
        -4.414_153_236_817_392e1,
        7.442_971_530_188_783,
    ],
    &[
        -6.802_995_733_503_803e-4,
        1.876_837_790_289_664e-2,
        -2.002_561_813_734_156e-1,
        1.022_992_966_719_220,
        -2.895_696_483_903_638,
        4.810_060_584_300_675,
        -4.672_147_440_794_683,
        2.458_043_105_903_461,
        -5.411_227_621_436_812e-1,
    ],
    &[
        4.075_376_675_622_027e-6,
        -8.763_058_573_471_110e-6,
        6.515_031_360_099_368e-6,
        -1.515_784_836_987_210e-6,
    ],
    &[-2.788_074_354_782_409e-8, 1.345_612_883_493_354e-8],
];

/// `Σ c_k x^k` by Horner's rule.
fn polynomial(coefficients: &[f64], x: f64) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, c| sum * x + c)
}

/// Density (g/ml) of ethanol-water at 20 °C, by mass fraction of ethanol (0 to 1). OIML R 22.
pub fn density(mass_fraction: f64) -> f64 {
    polynomial(&A, mass_fraction) / 1000.0
}

/// The same of many at once, each in the place of its mass fraction.
pub(super) fn densities(mass_fractions: &mut [f64]) {
    super::horner(&A, mass_fractions);
    mass_fractions.iter_mut().for_each(|value| *value /= 1000.0);
}

/// Specific volume 1/ρ (ml/g) of ethanol-water at 20 °C and its derivative, by mass fraction.
pub fn specific_volume(mass_fraction: f64) -> (f64, f64) {
    let (rho, slope) = A
        .iter()
        .rev()
        .fold((0.0, 0.0), |(value, slope), c| (value * mass_fraction + c, slope * mass_fraction + value));
    let volume = 1000.0 / rho;
    (volume, -volume * slope / rho)
}

/// Density (g/ml) at `celsius`, from -20 °C to 40 °C. OIML R 22, general formula.
pub fn density_at(mass_fraction: f64, celsius: f64) -> f64 {
    let t = celsius - 20.0;
    let water = t * polynomial(&B, t);
    let mixed =
        C.iter().rev().fold(0.0, |sum, row| t * (sum + mass_fraction * polynomial(row, mass_fraction)));
    (polynomial(&A, mass_fraction) + water + mixed) / 1000.0
}

/// Strength as a volume fraction (0 to 1) at `celsius`: the volume of the ethanol, were it pure and
/// at that temperature, over the volume of the mixture at that temperature.
pub fn strength_at(mass_fraction: f64, celsius: f64) -> f64 {
    mass_fraction * density_at(mass_fraction, celsius) / density_at(1.0, celsius)
}

/// Mass fraction (0 to 1) of ethanol-water of the given strength (volume fraction, 0 to 1) at
/// `celsius`; the inverse of [`strength_at`], which rises steadily.
pub fn mass_fraction_at(strength: f64, celsius: f64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    // 60 halvings take the bracket below the spacing of floats.
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if strength_at(middle, celsius) < strength {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// Largest magnitude of the second derivative, by mass fraction, of the specific volume 1/ρ over
/// [0, 1], in ml/g, rounded up. The bound that makes the search's chords safe; see
/// `model::contraction`, whose test confirms it on a fine grid with a pad for what lies between.
pub const CURVATURE: f64 = 2.0;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rounded_constants_are_the_formula() {
        assert!((density(0.0) - WATER).abs() < 1e-9);
        assert!((density(1.0) - PURE).abs() < 1e-12);
    }

    #[test]
    fn mass_fraction_inverts_strength() {
        for percent in 1..100 {
            let p = f64::from(percent) / 100.0;
            assert!((mass_fraction_at(strength_at(p, 15.56), 15.56) - p).abs() < 1e-12);
        }
    }
}
