//! Energy by conversion factors: Regulation (EU) No 1169/2011, Annex XIV.

/// Ethanol, kcal/g.
pub const ETHANOL: f64 = 7.0;
/// Carbohydrate except polyols, kcal/g.
pub const CARBOHYDRATE: f64 = 4.0;
/// Organic acids, kcal/g.
pub const ORGANIC_ACID: f64 = 3.0;
/// Polyols, kcal/g (erythritol has 0).
pub const POLYOLS: f64 = 2.4;

/// Ethanol, kJ/g.
pub const ETHANOL_KJ: f64 = 29.0;
/// Carbohydrate except polyols, kJ/g.
pub const CARBOHYDRATE_KJ: f64 = 17.0;
/// Organic acids, kJ/g.
pub const ORGANIC_ACID_KJ: f64 = 13.0;
/// Polyols, kJ/g.
pub const POLYOLS_KJ: f64 = 10.0;

/// kcal from grams of ethanol, sugars and acid.
pub fn kcal(ethanol: f64, sugars: f64, acid: f64) -> f64 {
    ETHANOL * ethanol + CARBOHYDRATE * sugars + ORGANIC_ACID * acid
}

/// kJ from grams of ethanol, sugars and acid.
pub fn kilojoule(ethanol: f64, sugars: f64, acid: f64) -> f64 {
    ETHANOL_KJ * ethanol + CARBOHYDRATE_KJ * sugars + ORGANIC_ACID_KJ * acid
}
