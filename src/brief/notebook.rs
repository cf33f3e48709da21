//! What was found out about a drink: what tasters said of a glass, and what was weighed and read.

use super::{Measure, Pour};
use crate::liquid::Method;

/// What a taster judges.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Facet {
    /// How sweet.
    Sweet,
    /// How sour.
    Sour,
    /// How strong.
    Strong,
    /// How long: how much there is in the glass.
    Long,
}

impl Facet {
    /// All of them, in the order in which they are shown.
    pub const ALL: [Self; 4] = [Self::Sweet, Self::Sour, Self::Strong, Self::Long];

    /// The key in a brief and in JSON.
    pub fn keyword(self) -> &'static str {
        match self {
            Self::Sweet => "sweet",
            Self::Sour => "sour",
            Self::Strong => "strong",
            Self::Long => "long",
        }
    }

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

/// What a taster said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Said {
    /// There should be more of it.
    #[serde(rename = "too little")]
    TooLittle,
    /// It is as it should be.
    Right,
    /// There should be less of it.
    #[serde(rename = "too much")]
    TooMuch,
}

impl Tasted {
    /// What was said of one facet.
    pub fn of(&self, facet: Facet) -> Option<Said> {
        self.said.iter().find(|word| word.facet == facet).map(|word| word.said)
    }
}

impl Said {
    /// All of them, from less to more.
    pub const ALL: [Self; 3] = [Self::TooLittle, Self::Right, Self::TooMuch];

    /// The words in a brief and in JSON.
    pub fn keyword(self) -> &'static str {
        match self {
            Self::TooLittle => "too little",
            Self::Right => "right",
            Self::TooMuch => "too much",
        }
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
