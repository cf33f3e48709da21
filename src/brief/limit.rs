//! A limit on a measure of the served drink.

use super::{Brief, Measure, Served, Side};
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

    /// How much room a served drink of a brief leaves, in the figures of the limit's row: grams and their like of a
    /// concentration, the measure's own unit of the others.
    pub fn left(&self, brief: &Brief, served: &Served) -> f64 {
        let over = self.measure.over(brief).of(&served.drink);
        let left = (served.value(self.measure) - self.value) * over;
        if self.side == Side::Min { left } else { -left }
    }
}

impl Brief {
    /// Every limit on a measure by itself: from targets, from what is held of the reference, from the glass.
    pub fn each_limit(&self) -> Vec<Limit> {
        let target = |measure, (side, value)| Limit { measure, side, value, source: Source::Target };
        let mut limits: Vec<Limit> =
            self.targets.iter().flat_map(|t| t.sides().map(move |side| target(t.measure, side))).collect();
        for held in self.held() {
            let (Some(min), Some(max)) = (held.min, held.max) else { continue };
            let at = |side, value| Limit { measure: held.measure, side, value, source: Source::Hold };
            // No measure is negative, and a row's volume line loosens only for limits that are not.
            limits.extend([at(Side::Min, min.max(0.0)), at(Side::Max, max)]);
        }
        if let Some(glass) = self.serve.glass {
            let measure = if self.serve.ice.is_some() { Measure::Level } else { Measure::Volume };
            limits.push(Limit { measure, side: Side::Max, value: glass.holds(), source: Source::Glass });
        }
        limits
    }
}
