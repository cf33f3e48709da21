//! How a measure is made of the amounts: a sum, or a sum over the volume, or over the acid.

use super::Model;
use crate::brief::{Goal, Measure, Per};
use crate::liquid::{Portion, ethanol};

/// A measure as figures per search unit of every column.
#[derive(Debug, Clone, PartialEq)]
pub enum Gauge {
    /// A plain sum.
    Sum(Vec<f64>),
    /// The served volume.
    Volume,
    /// The melt water.
    Melt,
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
        match measure {
            Measure::Volume => Self::Volume,
            Measure::Melt => Self::Melt,
            Measure::Strength => Self::PerVolume(portion(|p| 100.0 * p.masses.ethanol / ethanol::PURE)),
            Measure::Sugar => Self::PerVolume(portion(|p| 1000.0 * p.sugars)),
            Measure::Sweetness => Self::PerVolume(portion(|p| 1000.0 * p.sweet)),
            Measure::Acid => Self::PerVolume(portion(|p| 1000.0 * p.masses.acid)),
            Measure::SugarAcid => Self::PerSum(portion(|p| p.sugars), portion(|p| p.masses.acid)),
            Measure::Energy => Self::Sum(portion(|p| p.energy)),
            Measure::Ethanol => Self::Sum(portion(|p| p.masses.ethanol)),
            Measure::Cost => Self::Sum(cost(model, 1.0)),
            Measure::PourCost => {
                let net = model.brief.menu.map_or(f64::NAN, |menu| menu.net());
                Self::Sum(cost(model, 100.0 / net))
            }
            Measure::Property(at) => match model.brief.properties[at].per {
                Per::Serve => Self::Sum(model.per_unit(|c| c.carried(at))),
                Per::Litre => Self::PerVolume(model.per_unit(|c| 1000.0 * c.carried(at))),
            },
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

/// Cost per search unit, times a factor; ingredients without a price count nothing (the reader sees
/// to it that they have one where cost decides).
fn cost(model: &Model, factor: f64) -> Vec<f64> {
    model.per_unit(|c| c.cost_per_unit.unwrap_or(0.0) * factor)
}
