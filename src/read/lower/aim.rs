//! The aim: exactly one.

use crate::brief::{Aim, Candidate, Goal, Measure, Nearest, Resolution};
use crate::quantity::Currency;
use crate::read::codes;
use crate::read::file::{At, File};
use crate::read::findings::Findings;
use crate::read::names::Names;

/// Reads `[aim]`.
pub fn aim(file: &File, names: &Names, findings: &mut Findings) -> Option<Aim> {
    let Some(written) = file.aim.as_ref() else {
        if !findings.is_spoiled("aim") {
            let help =
                "aim: what makes one spec better than another: exactly one of lowest, highest and nearest";
            findings.placeless(codes::MISSING_KEY, "there is no `aim`", help);
        }
        return None;
    };
    let help = "give exactly one of lowest, highest and nearest: lowest = \"cost\"";
    let places = [
        written.lowest.as_ref().map(At::place),
        written.highest.as_ref().map(At::place),
        written.nearest.as_ref().map(At::place),
    ];
    let mut given: Vec<_> = places.into_iter().flatten().collect();
    given.sort_by_key(|place| place.start);
    if let Some(second) = given.get(1) {
        findings.error(codes::ONE_AIM, second.clone(), "there is a second aim", help);
    }
    if given.is_empty() && !findings.is_spoiled("aim") {
        findings.error(codes::ONE_AIM, written.place(), "the aim is empty", help);
    }
    let lowest = written.lowest.as_ref().and_then(|w| names.goal(w, findings)).map(Aim::Lowest);
    let highest = written.highest.as_ref().and_then(|w| names.goal(w, findings)).map(Aim::Highest);
    lowest.or(highest).or(written.nearest.as_ref().map(|n| Aim::Nearest(n.0)))
}

/// A property is told to a hundredth: finer differences do not matter. Common practice, no source.
const PROPERTY: f64 = 0.01;
/// The distance from the middle of ranges is told in hundredths of their half widths.
const MIDDLE: f64 = 0.01;
/// So many millilitres more or less of the reference do not matter.
const REFERENCE: f64 = 1.0;

/// Which differences do not matter: as the brief says, else what can be poured, tasted or seen (common practice,
/// no source).
pub fn resolution(file: &File, aim: Aim, candidates: &[Candidate], currency: &Currency) -> Resolution {
    if let Some(to) = file.aim.as_ref().and_then(|aim| aim.to.as_ref()) {
        return Resolution::By(to.value);
    }
    match aim {
        Aim::Lowest(Goal::Measure(measure)) | Aim::Highest(Goal::Measure(measure)) => {
            usual(measure, currency)
        }
        Aim::Lowest(Goal::Ingredient(at)) | Aim::Highest(Goal::Ingredient(at)) => {
            Resolution::By(candidates.get(at).and_then(|candidate| candidate.step.unit()).unwrap_or(1.0))
        }
        Aim::Nearest(Nearest::Reference) => Resolution::By(REFERENCE),
        Aim::Nearest(Nearest::Middle) => Resolution::By(MIDDLE),
    }
}

fn usual(measure: Measure, currency: &Currency) -> Resolution {
    Resolution::By(match measure {
        // The smallest coin.
        Measure::Cost => 0.1_f64.powi(i32::try_from(currency.digits()).unwrap_or(0)),
        Measure::PourCost | Measure::Strength | Measure::Acid | Measure::SugarAcid | Measure::Ethanol => 0.1,
        Measure::Volume
        | Measure::Level
        | Measure::Sugar
        | Measure::Sweetness
        | Measure::Energy
        | Measure::Melt => 1.0,
        Measure::Property(_) => return Resolution::Share(PROPERTY),
    })
}
