//! A model of which only good enough specs are left.

use crate::brief::{Limit, Side, Source};
use crate::model::{Model, Objective, Together};

/// The model with no spec in it that scores worse than this.
pub fn capped<'b>(model: &Model<'b>, objective: &Objective, most: f64) -> Model<'b> {
    let mut capped = model.clone();
    match objective {
        // No farther from the middles of ranges: the ranges are drawn in.
        Objective::Elastic { softs, together: Together::Largest, .. } => {
            capped.limits.extend(softs.iter().map(|soft| {
                let by = most * soft.size;
                let Limit { measure, side, value, .. } = soft.limit;
                let value = if side == Side::Min { value - by } else { value + by };
                Limit { measure, side, value, source: Source::Glass }
            }));
        }
        _ => capped.objective_bounds.push((objective.clone(), most)),
    }
    capped
}
