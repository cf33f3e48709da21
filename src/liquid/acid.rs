//! Acids: every acidity is stated as titratable acid in g/L of citric.
//!
//! Equal titratable acid is not equal sourness, and the end point of the titration matters: AOAC
//! 942.15 titrates to pH 8.1, OIV-MA-AS313-01 to pH 7.

/// An acid and the mass that neutralizes one mole of base, g/eq (molar mass over protons).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Acid {
    /// Citric acid, three protons.
    Citric,
    /// Malic acid, two protons.
    Malic,
    /// Tartaric acid, two protons.
    Tartaric,
    /// Lactic acid, one proton.
    Lactic,
    /// Acetic acid, one proton.
    Acetic,
    /// Phosphoric acid, counted with two protons.
    Phosphoric,
}

impl Acid {
    /// g per equivalent.
    pub fn equivalent(self) -> f64 {
        match self {
            Self::Citric => 64.04,
            Self::Malic => 67.04,
            Self::Tartaric => 75.04,
            Self::Lactic => 90.08,
            Self::Acetic => 60.05,
            Self::Phosphoric => 49.00,
        }
    }

    /// How many protons a titration to pH 8.1 counts.
    pub fn protons(self) -> f64 {
        match self {
            Self::Citric => 3.0,
            Self::Malic | Self::Tartaric | Self::Phosphoric => 2.0,
            Self::Lactic | Self::Acetic => 1.0,
        }
    }

    /// g/L as citric from g/L of this acid.
    pub fn as_citric(self, grams_per_litre: f64) -> f64 {
        grams_per_litre / self.equivalent() * Self::Citric.equivalent()
    }
}

/// Titratable acid in g/L from a titration: `base_ml` of `molar` base on `sample_ml`, stated as an
/// acid of `equivalent` g/eq.
pub fn titrated(base_ml: f64, molar: f64, sample_ml: f64, equivalent: f64) -> f64 {
    base_ml * molar * equivalent / sample_ml
}
