//! A share of serves is judged spec by spec, so there has to be an end to the specs: pour steps.

use crate::brief::{Brief, HoldFor, Step};
use crate::read::codes;
use crate::read::file::{At, File};
use crate::read::findings::Findings;
use crate::read::shape::shown;

/// Checks that everything is poured in steps where a share of serves is asked for.
pub fn check(file: &File, brief: &Brief, findings: &mut Findings) {
    let HoldFor::Share(_) = brief.variation.hold else { return };
    let hold = file.variation.as_ref().and_then(|variation| variation.hold.as_ref());
    let free = brief.usable().find(|at| brief.candidates[*at].step == Step::Free);
    let (Some(hold), Some(free)) = (hold.map(At::place), free) else { return };
    let what = format!(
        "a share of serves needs pour steps, and \"{}\" is poured in any amount",
        shown(&brief.candidates[free].name)
    );
    findings.error(codes::NO_STEPS, hold, what, "give it a step, however small: pour = \"0.5 ml\"");
}
