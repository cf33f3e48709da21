//! The aim: exactly one.

use crate::brief::Aim;
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
