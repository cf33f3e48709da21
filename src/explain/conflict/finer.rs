//! Whether pour steps are all that is in the way, and which smaller step would do.

use crate::brief::{Brief, Step};
use crate::explain::oracle::Effort;
use crate::model::Model;
use crate::quantity::Unit;

/// Steps that a bar can measure, ml: jigger lines, and what a syringe or a scale gives. Common
/// practice, no source.
const LADDER: [f64; 7] = [10.0, 5.0, 2.5, 1.25, 1.0, 0.5, 0.25];

/// What smaller pour steps would do.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Steps {
    /// Whether free amounts that keep every rule were found to meet the brief.
    pub in_the_way: bool,
    /// One of the usual smaller steps that would do as well, ml (powders in as much smaller steps).
    pub smaller: Option<f64>,
}

/// Looks for a step that would do.
pub fn steps(brief: &Brief, effort: &Effort) -> Steps {
    let liquids = || brief.usable().filter(|at| brief.candidates[*at].unit() == Unit::Ml);
    let largest = liquids().map(|at| brief.candidates[at].step.least()).fold(0.0, f64::max);
    let freed = stepped(brief, |_, _| Step::Free);
    if !pourable(&freed, effort) {
        return Steps { in_the_way: false, smaller: None };
    }
    let does = |smaller: &f64| {
        let finer = stepped(brief, |own, unit| match unit {
            Unit::Ml => Step::Every(own.min(*smaller)),
            Unit::G => Step::Every(own * smaller / largest),
        });
        pourable(&finer, effort)
    };
    Steps { in_the_way: true, smaller: LADDER.into_iter().filter(|s| *s < largest).find(does) }
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
    effort.anything(&Model::new(brief)).0.is_some()
}
