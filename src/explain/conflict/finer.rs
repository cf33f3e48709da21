//! Whether pour steps are all that is in the way, and which smaller step would do.

use crate::brief::{Brief, Goal, Measure, Step};
use crate::explain::oracle::Effort;
use crate::model::{Model, Objective, Sense};
use crate::quantity::Unit;
use crate::solve::SearchMode;

/// Steps that a bar can measure, ml: jigger lines, and what a syringe or a scale gives. Common
/// practice, no source.
const LADDER: [f64; 7] = [10.0, 5.0, 2.5, 1.25, 1.0, 0.5, 0.25];

/// What smaller pour steps would do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Steps {
    /// Free amounts that keep every rule do not meet the brief either, or none were found.
    NotInTheWay,
    /// Free amounts would do, and so would this step, ml (powders in as much smaller steps).
    Smaller(f64),
    /// Free amounts would do; none of the usual smaller steps was found to.
    InTheWay,
}

/// Looks for a step that would do.
pub fn steps(brief: &Brief, effort: &Effort) -> Steps {
    let liquids = || brief.usable().filter(|at| brief.candidates[*at].unit() == Unit::Ml);
    let largest = liquids().map(|at| brief.candidates[at].step.least()).fold(0.0, f64::max);
    let freed = stepped(brief, |_, _| Step::Free);
    if !pourable(&freed, effort) {
        return Steps::NotInTheWay;
    }
    for smaller in LADDER.into_iter().filter(|s| *s < largest) {
        let finer = stepped(brief, |own, unit| match unit {
            Unit::Ml => Step::Every(own.min(smaller)),
            Unit::G => Step::Every(own * smaller / largest),
        });
        if pourable(&finer, effort) {
            return Steps::Smaller(smaller);
        }
    }
    Steps::InTheWay
}

/// The brief with other steps; smallest and largest pours stay as they are.
fn stepped(brief: &Brief, step: impl Fn(f64, Unit) -> Step) -> Brief {
    let mut brief = brief.clone();
    for candidate in &mut brief.candidates {
        if candidate.step != Step::Free {
            candidate.step = step(candidate.step.least(), candidate.unit());
        }
    }
    brief
}

fn pourable(brief: &Brief, effort: &Effort) -> bool {
    let model = Model::new(brief);
    let objective = Objective::goal(&model, Goal::Measure(Measure::Volume), Sense::Low);
    !effort.seek(&model, &objective, SearchMode::Any, None).entries.is_empty()
}
