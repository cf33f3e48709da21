//! What a given spec does not meet, in words.

use super::{limit, with_unit};
use crate::answer::{Frame, Miss, With};
use crate::brief::Side;
use crate::quantity::UnitSystem;

/// `acid: 8.41 g/L, over the most of 8`
pub fn miss(frame: &Frame, miss: &Miss, units: UnitSystem) -> String {
    match miss {
        Miss::Rule { rule } => rule.clone(),
        Miss::Target { target, side, limit: bound, value, with, .. } => {
            let Some(gauge) = frame.gauge(target) else { return target.clone() };
            let value = with_unit(gauge, *value, units);
            let beyond = if *side == Side::Min { "under the least" } else { "over the most" };
            let worst = match with {
                With::Typical => "",
                With::Worst => " at the worst composition",
            };
            format!("{}: {value}{worst}, {beyond} of {}", gauge.label, limit(gauge, *bound, units))
        }
    }
}
