//! Is every amount bounded? The search needs an end, and so does a glass.

use crate::brief::{Brief, Candidate, Measure};
use crate::quantity::Unit;
use crate::read::codes;
use crate::read::file::{At, File};
use crate::read::findings::Findings;
use crate::read::shape::shown;

/// Checks that the volume target, the glass or its own `max` bounds every usable candidate.
pub fn check(file: &File, brief: &Brief, findings: &mut Findings) {
    let volume = brief.target(Measure::Volume).is_some_and(|target| target.max.is_some());
    let held = brief.reference.is_some() && brief.hold.iter().any(|h| h.measure == Measure::Volume);
    let volume = volume || held || brief.serve.glass.is_some();
    let unknown = findings.is_spoiled("targets") || findings.is_spoiled("serve.glass");
    let written = file.candidate.as_ref().map_or(&[][..], |list| list.value.as_slice());
    for at in brief.usable() {
        let (Some(candidate), Some(written)) = (brief.candidates.get(at), written.get(at)) else { continue };
        let takes_room = candidate.portion.masses.total() > 0.0;
        let stated = written.max.is_some() || findings.is_spoiled(&format!("candidate.{at}.max"));
        if stated || unknown || (volume && takes_room) || otherwise(brief, at, candidate) {
            continue;
        }
        let place =
            written.name.as_ref().or(written.larder.as_ref()).map_or_else(|| written.place(), At::place);
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
