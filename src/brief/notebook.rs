//! What was found out about a drink: what tasters said of a glass, and what was weighed and read.

use super::words::words;
use super::{Measure, Pour};
use crate::liquid::Method;

words! {
    /// What a taster judges.
    Facet {
        /// How sweet.
        Sweet = "sweet",
        /// How sour.
        Sour = "sour",
        /// How strong.
        Strong = "strong",
        /// How long: how much there is in the glass.
        Long = "long",
    }
}

impl Facet {
    /// The measure that it speaks of.
    pub fn measure(self) -> Measure {
        match self {
            Self::Sweet => Measure::Sugar,
            Self::Sour => Measure::Acid,
            Self::Strong => Measure::Strength,
            Self::Long => Measure::Volume,
        }
    }
}

words! {
    /// What a taster said.
    Said {
        /// There should be more of it.
        TooLittle = "too little",
        /// It is as it should be.
        Right = "right",
        /// There should be less of it.
        TooMuch = "too much",
    }
}

impl Tasted {
    /// What was said of one facet.
    pub fn of(&self, facet: Facet) -> Option<Said> {
        self.said.iter().find(|word| word.facet == facet).map(|word| word.said)
    }
}

/// A word on one facet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
pub struct Word {
    /// Which facet.
    pub facet: Facet,
    /// What was said of it.
    pub said: Said,
}

/// A glass that was tasted.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Tasted {
    /// What was in it.
    #[serde(skip)]
    pub pours: Vec<Pour>,
    /// The name of the kept spec that it was, such as the code of a glass of a flight.
    #[serde(skip)]
    pub glass: Option<String>,
    /// What was said, one a facet at most.
    pub said: Vec<Word>,
    /// In the taster's own words.
    pub words: Option<String>,
    /// When, as the brief writes it.
    pub date: Option<String>,
}

/// A titration: how much base a sample used up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Titration {
    /// Base, ml.
    pub base: f64,
    /// Its molarity, mol/L.
    pub molar: f64,
    /// The sample, ml.
    pub sample: f64,
}

/// Something that was weighed, read or titrated.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighed {
    /// What was poured, as the jigger says.
    pub pours: Vec<Pour>,
    /// How it was made; nothing: as the brief makes its drink.
    pub method: Option<Method>,
    /// What the pours weighed before the ice, g.
    pub grams_in: Option<f64>,
    /// What was strained off the ice, g.
    pub grams_out: Option<f64>,
    /// The temperature at which the density was read, °C.
    pub celsius: f64,
    /// The refractometer's reading, °Brix.
    pub brix: Option<f64>,
    /// The density, g/ml.
    pub density: Option<f64>,
    /// The titration.
    pub titration: Option<Titration>,
    /// When, as the brief writes it.
    pub date: Option<String>,
}
