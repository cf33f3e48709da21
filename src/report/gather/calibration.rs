//! What was weighed, read and titrated, as figures of the house.

use super::{Asked, FORMAT};
use crate::brief::Brief;
use crate::calibrate::{Calibration, Content, Estimate};

/// Figures of the house.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct CalibrationAnswer {
    /// Version of this object.
    pub format: u32,
    /// What the drink, or the house, is called.
    pub title: String,
    /// How many measurements there are.
    pub weighed: usize,
    /// A figure each.
    pub figures: Vec<FigureLine>,
    /// What was asked, where that is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub asked: Option<Asked>,
}

/// Which figure it is.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "snake_case", tag = "figure")]
pub enum FigureOf {
    /// Water from the ice, % of what is poured.
    Melt,
    /// How much single serves differ in it, points (standard deviation).
    MeltSpread,
    /// Points of melt beyond the rule per point of strength.
    MeltTilt,
    /// Sugar of an ingredient, g/L.
    Sugar {
        /// Whose.
        ingredient: String,
    },
    /// Acid of an ingredient as citric, g/L.
    Acid {
        /// Whose.
        ingredient: String,
    },
    /// Error of one pour, ml (standard deviation).
    PourError,
    /// What a pour is more than the jigger says, ml.
    PourBias,
}

/// One figure.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct FigureLine {
    /// Which.
    #[serde(flatten)]
    pub of: FigureOf,
    /// Its unit.
    pub unit: &'static str,
    /// What the brief or the rule has.
    pub before: Option<f64>,
    /// What was measured.
    pub value: f64,
    /// Its 95 % interval, where it has one.
    pub between: Option<(f64, f64)>,
    /// From how many measurements.
    pub count: usize,
    /// By which share one more would narrow the interval.
    pub gain: Option<f64>,
    /// Measurements that do not fit the others, as the brief counts them from 1.
    pub odd: Vec<usize>,
    /// The line to write into the brief or the house, and where.
    pub line: Option<String>,
}

/// Builds the answer.
pub fn calibration_answer(brief: &Brief, found: &Calibration) -> CalibrationAnswer {
    let mut figures = vec![];
    if let Some(melt) = &found.melt {
        let spread = melt.spread.map_or_else(String::new, |spread| format!(", spread = {spread:.1}"));
        let line = format!("[serve] melt = {{ typical = {:.1}{spread} }}", melt.share.value);
        figures.push(figure(FigureOf::Melt, "%", Some(melt.rule), &melt.share, Some(line)));
        figures.extend(melt.spread.map(|spread| FigureLine {
            of: FigureOf::MeltSpread,
            unit: "%",
            before: None,
            value: spread,
            between: None,
            count: melt.share.count,
            gain: None,
            odd: vec![],
            line: None,
        }));
        figures.extend(melt.tilt.as_ref().map(|tilt| figure(FigureOf::MeltTilt, "% per % vol", None, tilt, None)));
    }
    for held in &found.contents {
        let ingredient = brief.candidates[held.candidate].name.clone();
        let (of, key) = match held.content {
            Content::Sugar => (FigureOf::Sugar { ingredient: ingredient.clone() }, "sugar"),
            Content::Acid => (FigureOf::Acid { ingredient: ingredient.clone() }, "acid"),
        };
        let Estimate { value, low, high, .. } = held.estimate;
        let line = format!("{ingredient}: {key} = {{ typical = {value:.1}, min = {low:.1}, max = {high:.1} }}");
        figures.push(figure(of, "g/L", Some(held.before.0), &held.estimate, Some(line)));
    }
    if let Some(hand) = &found.hand {
        let line = format!("[variation] pour_error = \"{:.1} ml\"", hand.error.value);
        figures.push(figure(FigureOf::PourError, "ml", brief.variation.pour_error, &hand.error, Some(line)));
        figures.push(figure(FigureOf::PourBias, "ml", None, &hand.bias, None));
    }
    CalibrationAnswer {
        format: FORMAT,
        title: brief.title.clone(),
        weighed: brief.weighed.len(),
        figures,
        asked: None,
    }
}

fn figure(
    of: FigureOf,
    unit: &'static str,
    before: Option<f64>,
    estimate: &Estimate,
    line: Option<String>,
) -> FigureLine {
    FigureLine {
        of,
        unit,
        before,
        value: estimate.value,
        between: Some((estimate.low, estimate.high)),
        count: estimate.count,
        gain: Some(estimate.gain),
        odd: estimate.odd.iter().map(|at| at + 1).collect(),
        line,
    }
}
