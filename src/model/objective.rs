//! What the search makes least: a score that is always to be low, and how it is read off a spec.

use super::{Gauge, Model};
use crate::brief::{Aim, Goal, Pour, Served};

/// Whether the goal's own value is to be low or high.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sense {
    /// The score is the value.
    Low,
    /// The score is the value with its sign turned.
    High,
}

/// What is made least.
#[derive(Debug, Clone, PartialEq)]
pub enum Objective {
    /// A goal, low or high.
    Goal {
        /// Which figure.
        goal: Goal,
        /// How it is made.
        gauge: Gauge,
        /// Low or high.
        sense: Sense,
    },
    /// The total amount poured differently from given amounts, ml and g.
    Change {
        /// The amount of every column, in search units.
        from: Vec<f64>,
        /// What is added for ingredients of the reference that may not be used, ml or g.
        lost: f64,
    },
}

impl Objective {
    /// The objective of the model's own aim; `None` for an aim that needs more than this search.
    pub fn of(model: &Model) -> Option<Self> {
        match model.brief.aim {
            Aim::Lowest(goal) => Some(Self::goal(model, goal, Sense::Low)),
            Aim::Highest(goal) => Some(Self::goal(model, goal, Sense::High)),
            Aim::Nearest(_) => None,
        }
    }

    /// A goal made low or high.
    pub fn goal(model: &Model, goal: Goal, sense: Sense) -> Self {
        Self::Goal { goal, gauge: Gauge::of_goal(model, goal), sense }
    }

    /// The search's score of a measured spec: lower is better. NaN where the figure is undefined.
    pub fn score(&self, model: &Model, pours: &[Pour], served: &Served) -> f64 {
        match self {
            Self::Goal { goal, sense, .. } => {
                let value = match goal {
                    Goal::Measure(measure) => served.value(*measure),
                    Goal::Ingredient(at) => {
                        pours.iter().filter(|p| p.candidate == *at).map(|p| p.amount).sum()
                    }
                };
                Self::turned(*sense, value)
            }
            Self::Change { from, lost } => {
                let poured =
                    |at: usize| pours.iter().filter(|p| p.candidate == at).map(|p| p.amount).sum::<f64>();
                let moved = model.columns.iter().zip(from);
                lost + moved.map(|(c, r)| (poured(c.candidate) - r * c.unit).abs()).sum::<f64>()
            }
        }
    }

    /// The value that people are shown for a score.
    pub fn value(&self, score: f64) -> f64 {
        match self {
            Self::Goal { sense, .. } => Self::turned(*sense, score),
            Self::Change { .. } => score,
        }
    }

    fn turned(sense: Sense, value: f64) -> f64 {
        match sense {
            Sense::Low => value,
            // Not `-value`: the negative of zero would show.
            Sense::High => 0.0 - value,
        }
    }
}
