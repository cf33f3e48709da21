//! What was weighed, read and titrated, as figures of the house.

use super::{Asked, FORMAT};
use crate::brief::{Brief, JIGGER, Poured};
use crate::calibrate::{Calibration, Content, Estimate, Hand, Held, Melt};
use crate::draft;
use crate::liquid::Method;
use crate::read::NewFigure;

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
    /// What `--keep` writes.
    #[serde(skip)]
    pub keep: Vec<NewFigure>,
    /// What was asked, where that is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub asked: Option<Asked>,
}

/// Which figure it is.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
#[serde(rename_all = "snake_case", tag = "figure")]
pub enum FigureOf {
    /// Water from the ice, % of what is poured.
    Melt {
        /// How it was made.
        method: &'static str,
        /// The mean strength before the ice, % vol, that it was weighed at.
        at: f64,
    },
    /// How much single serves differ in it, points (standard deviation).
    MeltSpread {
        /// How they were made.
        method: &'static str,
    },
    /// Points of melt beyond the rule per point of strength.
    MeltTilt {
        /// How it was made.
        method: &'static str,
    },
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
    /// Whether the measurements differ by more than their instruments do, so that the interval grew with them.
    pub scattered: bool,
    /// What `--keep` writes of it.
    pub line: Option<String>,
}

/// A method, and what serves made like that tell.
pub type OfMethod = (Method, Calibration);

/// Builds the answer of what was weighed: the ingredients and the hand are the same however a drink is made, the
/// melt is not.
pub fn calibration_answer(brief: &Brief, found: &[OfMethod]) -> CalibrationAnswer {
    let mut answer = CalibrationAnswer {
        format: FORMAT,
        title: brief.title.clone(),
        weighed: brief.weighed.len(),
        figures: vec![],
        keep: vec![],
        asked: None,
    };
    for (method, calibration) in found {
        if let Some(melt) = &calibration.melt {
            answer.melt(*method, melt);
        }
    }
    let Some((_, calibration)) = found.first() else { return answer };
    calibration.contents.iter().for_each(|held| answer.content(brief, held));
    if let Some(hand) = &calibration.hand {
        answer.hand(brief, hand);
    }
    answer
}

impl CalibrationAnswer {
    fn melt(&mut self, method: Method, melt: &Melt) {
        let word = draft::method_word(method);
        let typical = decimals(melt.share.value, 1);
        // The spread of a brief is half a width over which all are as likely: its standard deviation is 1/√3 of it.
        let spread = melt.spread.map(|spread| decimals(spread * 3.0_f64.sqrt(), 1));
        let at = decimals(melt.strength, 1);
        let told = spread.map_or_else(String::new, |spread| format!(", spread = {spread}"));
        let line = format!("melt, {word}: {{ typical = {typical}{told}, at = {at} }}");
        let of = FigureOf::Melt { method: word, at: melt.strength };
        self.figures.push(figure(of, "%", Some(melt.now), &melt.share, Some(line)));
        self.figures.extend(melt.spread.map(|spread| FigureLine {
            of: FigureOf::MeltSpread { method: word },
            unit: "%",
            before: None,
            value: spread,
            between: None,
            count: melt.share.count,
            gain: None,
            odd: vec![],
            scattered: false,
            line: None,
        }));
        let tilt = |tilt| figure(FigureOf::MeltTilt { method: word }, "%", None, tilt, None);
        self.figures.extend(melt.tilt.as_ref().map(tilt));
        self.keep.push(NewFigure::Melt { method, typical, spread, at });
    }

    fn content(&mut self, brief: &Brief, held: &Held) {
        let ingredient = brief.candidates[held.candidate].name.clone();
        let (of, key) = match held.content {
            Content::Sugar => (FigureOf::Sugar { ingredient: ingredient.clone() }, "sugar"),
            Content::Acid => (FigureOf::Acid { ingredient: ingredient.clone() }, "acid"),
        };
        let Estimate { value, low, high, .. } = held.estimate;
        let range @ [typical, min, max] = [value, low, high].map(|figure| decimals(figure, 1));
        let line = format!("{ingredient}: {key} = {{ typical = {typical}, min = {min}, max = {max} }}");
        let told = figure(of, "g/L", Some(held.before.0), &held.estimate, Some(line));
        self.figures.push(FigureLine { scattered: held.scattered, ..told });
        self.keep.push(NewFigure::Content { ingredient, key, range });
    }

    fn hand(&mut self, brief: &Brief, hand: &Hand) {
        let error = decimals(hand.error.value, 2);
        let line = format!("pour_error = \"{error} ml\"");
        let before = match brief.variation.pour_error {
            None | Some(Poured::Jigger) => Some(JIGGER),
            Some(Poured::Stated(stated)) if stated.share == 0.0 => Some(stated.fixed),
            Some(_) => None,
        };
        self.figures.push(figure(FigureOf::PourError, "ml", before, &hand.error, Some(line)));
        self.figures.push(figure(FigureOf::PourBias, "ml", Some(0.0), &hand.bias, None));
        self.keep.push(NewFigure::PourError(error));
    }
}

/// As many decimals as a figure that is written deserves.
fn decimals(value: f64, digits: i32) -> f64 {
    let scale = 10_f64.powi(digits);
    (value * scale).round() / scale
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
        scattered: false,
        line,
    }
}
