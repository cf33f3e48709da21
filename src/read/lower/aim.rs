//! The aim: exactly one.

use std::ops::Range;

use crate::brief::{Aim, Candidate, Goal, Measure, Nearest, Notes, Resolution, same_note};
use crate::quantity::Currency;
use crate::read::codes;
use crate::read::file::{At, File, listed};
use crate::read::findings::Findings;
use crate::read::names::Names;
use crate::read::shape::shown;

use super::groups;

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
    let highest = written.highest.as_ref().and_then(|w| match w.name() {
        Some(name) => names.goal(&name, findings).map(Aim::Highest),
        None => Some(Aim::Notes),
    });
    lowest.or(highest).or(written.nearest.as_ref().map(|n| Aim::Nearest(n.0)))
}

/// Reads which notes a brief asks for: those of the aim, of `[[choose]]` and of what was brought in for a note.
pub fn notes(file: &File, candidates: &[Candidate], findings: &mut Findings) -> Notes {
    let wanted = file.aim.as_ref().and_then(|aim| aim.highest.as_ref()).filter(|w| w.of.is_none());
    let aimed = match wanted.map(|wanted| wanted.notes.as_slice()) {
        Some([]) if !findings.is_spoiled("aim.highest.notes") => {
            let place = file.aim.as_ref().map_or(0..0, At::place);
            let help = "name at least one: highest = { notes = [\"honey\", \"citrus\"] }";
            findings.error(codes::ONE_AIM, place, "the aim names no notes", help);
            vec![]
        }
        Some(written) => aimed(written, candidates, findings),
        None => vec![],
    };
    let choose = listed(file.choose.as_ref());
    let chosen = choose.iter().filter_map(|rule| rule.note.as_ref());
    let bring = listed(file.bring.as_ref());
    let brought = bring.iter().filter_map(|wish| wish.note.as_ref());
    let mut asked: Vec<String> = aimed.clone();
    for note in chosen.chain(brought) {
        if !asked.iter().any(|known| same_note(known, note)) {
            asked.push(note.trim().to_owned());
        }
    }
    Notes { aimed, asked }
}

/// The notes of the aim, each once. One that nobody carries cannot be covered, which is told; where nobody carries any,
/// there is nothing to aim for.
fn aimed(written: &[At<String>], candidates: &[Candidate], findings: &mut Findings) -> Vec<String> {
    let mut aimed: Vec<String> = vec![];
    let mut unknown: Vec<&At<String>> = vec![];
    for note in written {
        if aimed.iter().any(|known| same_note(known, note)) {
            let what = format!("the note \"{}\" stands twice in the aim", shown(note));
            findings.error(codes::DUPLICATE_NAME, note.place(), what, "name it once");
            continue;
        }
        aimed.push(note.trim().to_owned());
        if !candidates.iter().any(|candidate| candidate.has_note(note)) {
            unknown.push(note);
        }
    }
    if findings.is_spoiled("candidate") {
        return aimed;
    }
    if unknown.len() == aimed.len() {
        for note in &unknown {
            let (what, help) = groups::without_carrier(note, candidates, findings);
            findings.error(codes::UNKNOWN_NOTE, note.place(), what, help);
        }
    } else if let Some(first) = unknown.first() {
        uncovered(first.place(), &unknown, candidates, findings);
    }
    aimed
}

/// Some notes cannot be covered: the others can, so that is no error; and all are told at once.
fn uncovered(
    place: Range<usize>,
    unknown: &[&At<String>],
    candidates: &[Candidate],
    findings: &mut Findings,
) {
    let known = || candidates.iter().flat_map(|c| &c.notes).map(String::as_str);
    let meant = |note: &&&At<String>| {
        findings.closest(note, known()).map(|meant| format!("did you mean \"{meant}\"?"))
    };
    let meant: Vec<String> = unknown.iter().filter_map(|note| meant(&note)).collect();
    let names: Vec<String> = unknown.iter().map(|note| format!("\"{}\"", shown(note))).collect();
    let (notes, them) = if names.len() == 1 { ("note", "it") } else { ("notes", "they") };
    let what = format!("no ingredient carries the {notes} {}, so {them} cannot be covered", names.join(", "));
    let help = match meant.as_slice() {
        [] => "give an ingredient notes = [\"…\"] with it, or leave it out".to_owned(),
        all => all.join(" "),
    };
    findings.warning(codes::UNKNOWN_NOTE, place, what, help);
}

/// Notes are covered or not: half of one is nobody's difference, and among specs with as many the steadiest comes first.
const NOTES: f64 = 0.5;
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
        Aim::Notes => Resolution::By(NOTES),
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
