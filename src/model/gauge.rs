//! How a measure is made of the amounts: a sum, or a sum over the volume, or over the acid.

use super::Model;
use crate::brief::{Goal, Measure, Numerator, Over};
use crate::liquid::Portion;

/// A measure as figures per search unit of every column.
#[derive(Debug, Clone, PartialEq)]
pub enum Gauge {
    /// A plain sum.
    Sum(Vec<f64>),
    /// The served volume.
    Volume,
    /// The melt water.
    Melt,
    /// How high the drink stands in its glass, less what its ice took up.
    Level,
    /// A sum over the served volume.
    PerVolume(Vec<f64>),
    /// A sum over another sum.
    PerSum(Vec<f64>, Vec<f64>),
}

impl Gauge {
    /// How a measure of the model's drink is made.
    pub fn of(model: &Model, measure: Measure) -> Self {
        Self::with(model, &model.typical, measure)
    }

    /// The same with other portions than the typical ones.
    pub fn with(model: &Model, portions: &[Portion], measure: Measure) -> Self {
        let portion = |figure: fn(&Portion) -> f64| -> Vec<f64> {
            portions.iter().zip(&model.columns).map(|(p, c)| figure(p) * c.unit).collect()
        };
        let (part, over) = measure.formula(model.brief);
        let sum = match part {
            Numerator::Volume => return Self::Volume,
            Numerator::Melt => return Self::Melt,
            Numerator::Level => return Self::Level,
            Numerator::Portion(figure) => portion(figure),
            // Ingredients without a price count nothing: the reader sees to it that they have one where cost decides.
            Numerator::Cost(times) => model.per_unit(|c| c.cost_per_unit.unwrap_or(0.0) * times),
            Numerator::Carried(at, times) => model.per_unit(|c| times * c.carried(at)),
        };
        match over {
            Over::One => Self::Sum(sum),
            Over::Volume => Self::PerVolume(sum),
            Over::Acid => Self::PerSum(sum, portion(|p| p.masses.acid)),
        }
    }

    /// How a goal is made: a measure, or the amount of one ingredient.
    pub fn of_goal(model: &Model, goal: Goal) -> Self {
        match goal {
            Goal::Measure(measure) => Self::of(model, measure),
            Goal::Ingredient(at) => Self::Sum(
                model.columns.iter().map(|c| if c.candidate == at { c.unit } else { 0.0 }).collect(),
            ),
        }
    }
}
