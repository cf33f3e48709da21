//! A limit on a measure of the served drink.

use crate::brief::{Measure, Served, Side};
use crate::tolerance;

/// Where a limit on a measure comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Source {
    /// A target of the brief.
    Target,
    /// The reference's own value, give or take.
    Hold,
    /// The glass and its headroom.
    Glass,
}

/// One side of a limit on a measure of the served drink.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// What is limited.
    pub measure: Measure,
    /// From which side.
    pub side: Side,
    /// At what value, in the measure's unit.
    pub value: f64,
    /// Who says so.
    pub source: Source,
}

impl Limit {
    /// Whether a served drink meets it.
    pub fn met(&self, served: &Served) -> bool {
        self.met_by(served.value(self.measure))
    }

    /// Whether a value meets it.
    pub fn met_by(&self, value: f64) -> bool {
        match self.side {
            // A ratio over nothing is beyond every minimum: infinity compares as one expects.
            Side::Min => tolerance::meets_min(value, self.value),
            Side::Max => tolerance::meets_max(value, self.value),
        }
    }
}
