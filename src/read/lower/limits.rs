//! Targets, holds and the reference.

use super::quantity;
use crate::brief::{Brief, Candidate, Hold, Measure, Pour, Reference, Target, serve};
use crate::read::codes;
use crate::read::figures::Near;
use crate::read::file::{File, entries};
use crate::read::findings::Findings;
use crate::read::names::Names;

/// Reads `[targets]`.
pub fn targets(file: &File, names: &Names, findings: &mut Findings) -> Vec<Target> {
    let mut targets = Vec::new();
    let written = file.targets.as_ref().map_or(&[][..], |targets| targets.value.0.0.as_slice());
    for (key, limits) in written {
        let (min, max) = (limits.min.as_ref().map(|l| l.value.0), limits.max.as_ref().map(|l| l.value.0));
        if min.is_none() && max.is_none() && !findings.is_spoiled(&format!("targets.{}", key.value)) {
            let what = format!("the target `{}` has no side", key.value);
            findings.error(codes::NO_SIDE, key.place(), what, "give min, max or both");
        }
        if let Some((min, max)) = min.zip(max).filter(|(min, max)| min > max) {
            let what = format!("`{}` is to be at least {min} and at most {max}", key.value);
            findings.error(codes::MIN_OVER_MAX, limits.place(), what, "put min at or below max");
        }
        if let Some(measure) = names.measure_key(key, "[targets]", findings) {
            targets.push(Target { measure, min, max });
        }
    }
    targets.sort_by_key(|target| target.measure);
    targets
}

/// Reads `[hold]`.
pub fn hold(file: &File, names: &Names, findings: &mut Findings) -> Vec<Hold> {
    let mut held = Vec::new();
    let written = file.hold.as_ref().map_or(&[][..], |held| held.value.0.0.as_slice());
    for (key, within) in written {
        if let Some(measure) = names.measure_key(key, "[hold]", findings) {
            held.push(Hold { measure, within: within.value });
        }
    }
    held.sort_by_key(|hold| hold.measure);
    held
}

/// What a swap and a new brief hold where nothing else is said, and by how much it may move: margins that a guest
/// hardly notices; common practice, no source.
pub const CUSTOMARY: [(Measure, f64); 4] =
    [(Measure::Volume, 8.0), (Measure::Strength, 0.5), (Measure::Sweetness, 5.0), (Measure::Acid, 0.5)];

/// The same where a guest may notice and still knows the drink: common practice, no source.
const LOOSE: [(Measure, f64); 4] =
    [(Measure::Volume, 15.0), (Measure::Strength, 1.5), (Measure::Sweetness, 15.0), (Measure::Acid, 1.5)];

/// The customary holds. A measure that the brief itself wants elsewhere than the reference has it is not
/// held: the target says where it is to go.
pub fn customary(brief: &Brief, near: Near) -> Vec<Hold> {
    let Some(reference) = &brief.reference else { return Vec::new() };
    let served = serve(brief, &reference.pours);
    let elsewhere = |measure: Measure| {
        let value = served.value(measure);
        let misses = |t: &Target| t.sides().any(|(side, limit)| !side.met(value, limit));
        brief.target(measure).is_some_and(misses)
    };
    let moved = |measure: Measure| {
        elsewhere(measure)
            || (measure == Measure::Sweetness && elsewhere(Measure::Sugar))
            || (measure == Measure::Strength && elsewhere(Measure::Ethanol))
    };
    let widths = match near {
        Near::Close => CUSTOMARY,
        Near::Loose => LOOSE,
    };
    let held = widths.into_iter().filter(|(measure, _)| !moved(*measure));
    held.map(|(measure, within)| Hold { measure, within }).collect()
}

/// Reads `[reference]`: any amounts, in the order of the candidates.
pub fn reference(
    file: &File,
    names: &Names,
    candidates: &[Candidate],
    findings: &mut Findings,
) -> Option<Reference> {
    file.reference.as_ref()?;
    let mut pours = Vec::new();
    for (name, amount) in entries(file.reference.as_ref()) {
        let Some(candidate) = names.candidate(name, findings) else { continue };
        let Some(unit) = candidates.get(candidate).map(Candidate::unit) else { continue };
        let Some(amount) = quantity::amount(amount, unit, &format!("\"{}\"", name.value), findings) else {
            continue;
        };
        if amount > 0.0 {
            pours.push(Pour { candidate, amount });
        }
    }
    pours.sort_by_key(|pour| pour.candidate);
    Some(Reference { pours })
}
