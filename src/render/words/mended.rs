//! The nearest spec that holds, and the ways out of a conflict: one sentence each.

use super::{listed, moves, needs, pours, upper_first};
use crate::answer::{CheckAnswer, Frame, RouteLine};
use crate::quantity::{UnitSystem, number};

/// `The nearest that holds: 2.5 ml less bay syrup. Nothing that holds is nearer.`
pub fn mended(answer: &CheckAnswer, units: UnitSystem) -> String {
    let Some(mended) = &answer.mended else {
        return "No spec that holds was found near it: `washline spec` says what stands in the way."
            .to_owned();
    };
    let proved = if mended.proved {
        "Nothing that holds is nearer."
    } else {
        "Something nearer may hold: not all was searched."
    };
    format!("The nearest that holds: {}. {proved}", moves(&mended.change, units))
}

/// `Strength at least 18 (asked: 20): 40 ml smoky spirit, 60 ml juice`, a way out and its drink.
pub fn route(frame: &Frame, route: &RouteLine, units: UnitSystem) -> String {
    let changes = needs(frame, &route.changes, units);
    let lost = if route.keeps { "" } else { "; the drink does not stay itself" };
    let all = number::percent(route.total, usize::from(route.total < 0.1));
    upper_first(&format!("{} ({all} in all{lost}): {}", listed(&changes), pours(&route.spec, units)))
}
