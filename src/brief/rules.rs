//! Targets and the rules on what may stand together.

use super::Measure;
use crate::tolerance;

/// Which end of a range.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Side {
    /// The lower end.
    Min,
    /// The upper end.
    Max,
}

impl Side {
    /// `min` or `max`.
    pub fn keyword(self) -> &'static str {
        match self {
            Self::Min => "min",
            Self::Max => "max",
        }
    }

    /// Whether a value meets a limit on this side.
    pub fn met(self, value: f64, limit: f64) -> bool {
        match self {
            Self::Min => tolerance::meets_min(value, limit),
            Self::Max => tolerance::meets_max(value, limit),
        }
    }
}

/// Limits on one measure of the served drink; at least one side is given, `min <= max`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Target {
    /// What is limited.
    pub measure: Measure,
    /// Lower limit, in the measure's unit.
    pub min: Option<f64>,
    /// Upper limit, in the measure's unit.
    pub max: Option<f64>,
}

impl Target {
    /// The limit on a side.
    pub fn limit(&self, side: Side) -> Option<f64> {
        match side {
            Side::Min => self.min,
            Side::Max => self.max,
        }
    }

    /// Both sides that are given.
    pub fn sides(&self) -> impl Iterator<Item = (Side, f64)> {
        [(Side::Min, self.min), (Side::Max, self.max)].into_iter().filter_map(|(s, l)| l.map(|l| (s, l)))
    }
}

/// How many of a group are used.
#[derive(Debug, Clone, PartialEq)]
pub struct Choose {
    /// What the group is called in messages: a role, or the names joined.
    pub label: String,
    /// Its members, usable or not.
    pub members: Vec<usize>,
    /// At least so many.
    pub min: Option<usize>,
    /// At most so many.
    pub max: Option<usize>,
}

impl Choose {
    /// The count on a side.
    pub fn limit(&self, side: Side) -> Option<usize> {
        match side {
            Side::Min => self.min,
            Side::Max => self.max,
        }
    }
}

/// A ratio of poured volumes, `of` over `to`. With none of `to`, there may be none of `of` where a
/// `max` is given.
#[derive(Debug, Clone, PartialEq)]
pub struct Proportion {
    /// Numerator: a candidate.
    pub of: usize,
    /// Denominator: a candidate.
    pub to: usize,
    /// Least ratio.
    pub min: Option<f64>,
    /// Greatest ratio.
    pub max: Option<f64>,
}

impl Proportion {
    /// The ratio on a side.
    pub fn limit(&self, side: Side) -> Option<f64> {
        match side {
            Side::Min => self.min,
            Side::Max => self.max,
        }
    }
}
