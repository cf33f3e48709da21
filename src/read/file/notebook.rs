//! What was tasted and what was weighed, as it is written.

use schemars::JsonSchema;
use serde::Deserialize;

use super::{At, Code, PouredAs, Short, Titrated, Word};
use crate::brief::Said;
use crate::liquid::Method;

/// A glass that was tasted, and what was said of it.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend("anyOf" = [
    { "required": ["sweet"] }, { "required": ["sour"] }, { "required": ["strong"] }, { "required": ["long"] },
    { "required": ["words"] },
]))]
pub struct Tasted {
    /// What was in it: "50 ml aged rum, 25 ml lime juice", or a table of amounts
    pub poured: Option<At<Short<String, PouredAs>>>,
    /// The same as poured
    pub pours: Option<At<Short<String, PouredAs>>>,
    /// The name of a kept spec that was in it, instead: the code of a glass of a flight
    pub glass: Option<At<Code>>,
    /// The same as glass
    pub code: Option<At<Code>>,
    /// How sweet it was
    pub sweet: Option<At<Word<Said>>>,
    /// How sour it was
    pub sour: Option<At<Word<Said>>>,
    /// How strong it was
    pub strong: Option<At<Word<Said>>>,
    /// How long it was: how much there was of it
    pub long: Option<At<Word<Said>>>,
    /// Anything else, in the taster's own words
    pub words: Option<At<String>>,
    /// When
    pub date: Option<At<String>>,
}

/// Something that was weighed, read or titrated.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Weighed {
    /// What was poured, as the jigger says: "25 ml lime juice"
    #[schemars(required)]
    pub poured: Option<At<Short<String, PouredAs>>>,
    /// How it was made (default: as the brief makes its drink)
    pub method: Option<At<Word<Method>>>,
    /// What the pours weighed before the ice, g
    #[schemars(range(min = 0, max = 1_000_000))]
    pub grams_in: Option<At<f64>>,
    /// What was strained off the ice, g
    #[schemars(range(min = 0, max = 1_000_000))]
    pub grams_out: Option<At<f64>>,
    /// Temperature at which the density was read, °C (default 20)
    #[schemars(range(min = 0, max = 40))]
    pub temperature: Option<At<f64>>,
    /// Reading of a refractometer, °Brix
    #[schemars(range(min = 0, max = 84))]
    pub brix: Option<At<f64>>,
    /// Density, g/ml
    #[schemars(range(min = 0.7, max = 1.6))]
    pub density: Option<At<f64>>,
    /// Titration: ml of 0.1 mol/L base on 10 ml, or { base, molar, sample }
    pub titration: Option<At<Short<f64, Titrated>>>,
    /// When
    pub date: Option<At<String>>,
}
