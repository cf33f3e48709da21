//! What moves all serves together, what moves each, and what stands still, in the words of the brief.

use crate::brief::Brief;
use crate::explain::variation::{Lots, Off, Ranged};
use crate::larder::Figure;
use crate::liquid::Form;
use crate::quantity::Unit;

/// How far off one pour is.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct OffLine {
    /// The ingredient.
    pub ingredient: String,
    /// `jigger`, `free hand`, `dash`, `scale`; nothing where a figure is stated.
    pub poured: Option<&'static str>,
    /// Standard deviation of this pour.
    pub error: f64,
    /// `ml` or `g`.
    pub unit: Unit,
}

/// A figure with a range.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct RangeLine {
    /// The ingredient.
    pub ingredient: String,
    /// `strength`, `sugar` or `acid`.
    pub figure: &'static str,
    /// % vol, g/L, or g/kg of a powder.
    pub unit: &'static str,
    /// What it typically is.
    pub typical: f64,
    /// Between what it lies.
    pub range: [f64; 2],
    /// What the range is between: `serve`, `lot`, `season` or `make`.
    pub between: &'static str,
}

/// How a spec does from lot to lot.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct LotsLine {
    /// The ingredients of which all serves of a lot have the composition in common.
    pub ingredients: Vec<String>,
    /// The share within all targets with typical lots: what is left is the hand and the ice.
    pub typical: f64,
    /// Its 95 % interval.
    pub interval: [f64; 2],
    /// How many lots were simulated.
    pub lots: usize,
    /// Serves of each.
    pub serves: usize,
    /// For each level how many lots are good.
    pub good: Vec<GoodLine>,
    /// Between which shares of serves nine of ten lots lie.
    pub middle: [f64; 2],
}

/// How many lots are good.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct GoodLine {
    /// At least so many of 100 serves of the lot are within all targets.
    pub level: f64,
    /// The share of lots of which that is so.
    pub share: f64,
    /// Its 95 % interval.
    pub interval: [f64; 2],
}

/// How far off a pour is, in words.
pub fn off(brief: &Brief, off: &Off) -> OffLine {
    let candidate = &brief.candidates[off.candidate];
    OffLine {
        ingredient: candidate.name.clone(),
        poured: off.way.keyword(),
        error: off.error,
        unit: candidate.unit(),
    }
}

/// A range in words.
pub fn ranged(brief: &Brief, ranged: &Ranged) -> RangeLine {
    let candidate = &brief.candidates[ranged.candidate];
    RangeLine {
        ingredient: candidate.name.clone(),
        figure: ranged.figure.words(),
        unit: unit(candidate.label.form, ranged.figure),
        typical: ranged.typical,
        range: [ranged.range.min, ranged.range.max],
        between: ranged.varies.keyword(),
    }
}

/// Lots in words.
pub fn lots(brief: &Brief, lots: &Lots) -> LotsLine {
    let good = lots.good.iter().map(|(level, share)| GoodLine {
        level: 100.0 * level,
        share: share.found,
        interval: [share.low, share.high],
    });
    LotsLine {
        ingredients: lots.candidates.iter().map(|at| brief.candidates[*at].name.clone()).collect(),
        typical: lots.typical.found,
        interval: [lots.typical.low, lots.typical.high],
        lots: lots.drawn.0,
        serves: lots.drawn.1,
        good: good.collect(),
        middle: [lots.middle.0, lots.middle.1],
    }
}

/// The unit of a figure of a composition.
pub fn unit(form: Form, figure: Figure) -> &'static str {
    match (figure, form) {
        (Figure::Strength, _) => "% vol",
        (_, Form::Liquid) => "g/L",
        (_, Form::Powder) => "g/kg",
    }
}
