//! Heat in liquids: what cools, what warms by being mixed, and what freezes.
//!
//! Enthalpies are in J per gram of ethanol and water, of which pure water and pure ethanol have none at 0 °C.
//! The mixture's is its heat of mixing at 25 °C, and its heat capacity from there on:
//! `h(p, T) = H(p) + c(p)·(T - 25) + 25·c(0) - p·25·(c(0) - c(1))`, p the mass fraction of ethanol.

/// Heat of fusion of ice at 0 °C, J/g (CRC Handbook of Chemistry and Physics, enthalpy of fusion: 333.6;
/// IAPWS-06 has 333.43).
pub const FUSION: f64 = 333.55;
/// Density of ice at 0 °C, g/ml (CRC Handbook, properties of ice and supercooled water: 0.9167).
pub const ICE: f64 = 0.9167;
/// Heat capacity of dissolved sucrose, J/(g K): that of a 50 % solution at 20 °C, 2.8, has its water taken
/// off. From memory; a drink has a few grams of it.
pub const SOLIDS: f64 = 1.4;
/// Heat capacity of water, J/(g K), the mean of 0 to 20 °C (CRC Handbook, water from 0 to 100 °C: 4.2176,
/// 4.1921 at 10 °C, 4.1818).
pub const WATER: f64 = 4.196;
/// At this temperature heats of mixing are known, °C.
pub const KNOWN: f64 = 25.0;

/// Heat capacity of ethanol and water less that of water, powers 1 to 4 of the mass fraction: a least-squares
/// fit to the table of ethyl alcohol in *Perry's Chemical Engineers' Handbook*, 7th ed., section 2, the mean of
/// 3 and 23 °C. It is off by less than 0.02 J/(g K) at each of the points.
pub const CAPACITY: [f64; 4] = [2.340_32, -10.034_14, 8.604_61, -2.771_19];
/// `H(p) = -220.5·p·(1 - p)·(1 + a p + b p² + c p³)`: the heat of mixing at 25 °C, J/g. From memory of the
/// calorimetry of Boyne and Williamson (*J. Chem. Eng. Data* 12, 318, 1967) and Lama and Lu (ibid. 10, 216,
/// 1965), -10.16 kJ/mol at infinite dilution: good to some 5 %.
pub const MIXING: [f64; 5] = [-220.5, 1.0, -0.341_515, -2.248_76, 1.891_489];
/// Freezing point of ethanol and water, °C, powers 1 to 4 of the mass fraction: a least-squares fit to *Lange's
/// Handbook of Chemistry*, 15th ed., table 5.13, up to 39 % by mass; off by less than 0.4 there.
const FREEZING: [f64; 4] = [-45.304_8, 105.871, -930.467_3, 1_211.124_2];
/// Up to here the freezing point was fitted; beyond, the curve goes straight on.
const FITTED: f64 = 0.39;
/// Freezing point of sugar in water, °C per gram of sucrose and gram of water: 1.86 K kg/mol over 342.3 g/mol,
/// and a tenth more, as a syrup of 40 % by mass has (CRC Handbook, concentrative properties: 4.45 K).
const SUGAR_FREEZES: f64 = -1.86 / 0.3423 * 1.1;

/// A polynomial without a constant, and its derivative.
fn powers<const N: usize>(coefficients: [f64; N], x: f64) -> (f64, f64) {
    coefficients.iter().rev().fold((0.0, 0.0), |(value, slope), k| {
        // One power more: (k + value)·x.
        (x * (k + value), k + value + x * slope)
    })
}

/// Heat capacity of ethanol and water, J/(g K), near 10 °C, and its derivative by the mass fraction of ethanol.
pub fn capacity(p: f64) -> (f64, f64) {
    let (more, slope) = powers(CAPACITY, p);
    (WATER + more, slope)
}

/// Heat of mixing at 25 °C, J/g, and its derivative.
fn mixing(p: f64) -> (f64, f64) {
    let [size, rest @ ..] = MIXING;
    let (value, slope) = powers(rest, p);
    (size * value * (1.0 - p), size * (slope * (1.0 - p) - value))
}

/// Freezing point of ethanol and water, °C, and its derivative.
pub fn freezing(p: f64) -> (f64, f64) {
    let (value, slope) = powers(FREEZING, p.min(FITTED));
    (value + slope * (p - FITTED).max(0.0), slope)
}

/// Freezing point of a liquid, °C: that of its ethanol and water, lowered by its sugar.
pub fn freezing_point(masses: &super::Masses) -> f64 {
    let wet = masses.ethanol + masses.water;
    if wet <= 0.0 || masses.water <= 0.0 {
        return f64::NEG_INFINITY;
    }
    freezing(masses.strength_by_mass()).0 + SUGAR_FREEZES * (masses.solids + masses.acid) / masses.water
}

/// Enthalpy of ethanol and water at a temperature (°C), J/g, and its derivative by the mass fraction.
pub fn enthalpy(p: f64, temperature: f64) -> (f64, f64) {
    let (heat, by) = mixing(p);
    let (capacity, slope) = capacity(p);
    let pure = KNOWN * (WATER - self::capacity(1.0).0);
    (
        heat + capacity * (temperature - KNOWN) + KNOWN * WATER - p * pure,
        by + slope * (temperature - KNOWN) - pure,
    )
}

/// Heat that one ml (or g) brings when it is poured at a temperature, J.
pub fn brought(masses: &super::Masses, temperature: f64) -> f64 {
    let wet = masses.ethanol + masses.water;
    wet * enthalpy(masses.strength_by_mass(), temperature).0
        + SOLIDS * (masses.solids + masses.acid) * temperature
}

/// Temperature of liquids poured together, °C, and how much of it comes from their being mixed: the sum of
/// what each brings (`heat`, J, of [`brought`]) over the heat capacity of the whole.
pub fn together(masses: &super::Masses, heat: f64) -> f64 {
    let wet = masses.ethanol + masses.water;
    let p = masses.strength_by_mass();
    let capacity = wet * capacity(p).0 + SOLIDS * (masses.solids + masses.acid);
    (heat - wet * enthalpy(p, 0.0).0) / capacity
}
