//! Is there an end to the specs? The search needs one, and so does a glass: every amount is bounded, and where each spec is
//! judged by a share of its serves it is poured in steps.

use crate::brief::{Brief, Candidate, HoldFor, Measure, Step};
use crate::quantity::Unit;
use crate::read::codes;
use crate::read::file::{At, File, listed};
use crate::read::findings::Findings;
use crate::read::shape::shown;

/// Checks amounts and steps.
pub fn check(file: &File, brief: &Brief, findings: &mut Findings) {
    bounds(file, brief, findings);
    steps(file, brief, findings);
}

/// Checks that the volume target, the glass or its own `max` bounds every usable candidate.
fn bounds(file: &File, brief: &Brief, findings: &mut Findings) {
    let volume = brief.target(Measure::Volume).is_some_and(|target| target.max.is_some());
    let held = brief.reference.is_some() && brief.hold.iter().any(|h| h.measure == Measure::Volume);
    let volume = volume || held || brief.serve.glass.is_some();
    let unknown = findings.is_spoiled("targets") || findings.is_spoiled("serve.glass");
    let written = listed(file.candidate.as_ref());
    for at in brief.usable() {
        let (Some(candidate), Some(written)) = (brief.candidates.get(at), written.get(at)) else { continue };
        let takes_room = candidate.portion.masses.total() > 0.0;
        let stated = written.max.is_some() || findings.is_spoiled(&format!("candidate.{at}.max"));
        if stated || unknown || (volume && takes_room) || otherwise(brief, at, candidate) {
            continue;
        }
        let place = written.name_place();
        let name = shown(&candidate.name);
        if takes_room {
            let what = format!("nothing bounds how much \"{name}\" is poured");
            let help = "give the volume target a max, a glass, or each ingredient a max";
            findings.error(codes::NO_BOUND, place, what, help);
            return;
        }
        let what = format!("\"{name}\" takes no room in the glass, so nothing bounds it");
        findings.error(codes::NO_BOUND, place, what, "give it a max: max = \"1 g\"");
    }
}

/// Whether a powder that takes no room is bounded by what it carries.
fn otherwise(brief: &Brief, at: usize, candidate: &Candidate) -> bool {
    candidate.unit() == Unit::G
        && candidate.portion.masses.total() <= 0.0
        && brief.targets.iter().any(|target| {
            let carried = match target.measure {
                Measure::Property(property) => brief.candidates[at].carried(property),
                Measure::Cost | Measure::PourCost => candidate.cost_per_unit.unwrap_or(0.0),
                Measure::Energy => candidate.portion.energy,
                _ => 0.0,
            };
            target.max.is_some() && carried > 0.0
        })
}

/// Checks that everything is poured in steps where a share of serves is asked for.
fn steps(file: &File, brief: &Brief, findings: &mut Findings) {
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
