//! Is there what a target or the aim needs: a menu, a reference, a range?

use std::ops::Range;

use crate::brief::{Aim, Brief, Goal, Measure, Nearest};
use crate::read::codes;
use crate::read::file::{At, File};
use crate::read::findings::Findings;
use crate::read::shape::shown;

/// Checks what targets, holds and the aim need.
pub fn check(file: &File, brief: &Brief, findings: &mut Findings) {
    menu(file, brief, findings);
    reference(file, brief, findings);
    held(file, brief, findings);
    middle(file, brief, findings);
    goal(file, brief, findings);
}

/// Every place that speaks of the pour cost.
fn menu(file: &File, brief: &Brief, findings: &mut Findings) {
    if brief.menu.is_some() || findings.is_spoiled("menu") {
        return;
    }
    let key = Measure::PourCost.keyword();
    let targets = file.targets.as_ref().map_or(&[][..], |t| t.value.0.0.as_slice());
    let held = file.hold.as_ref().map_or(&[][..], |h| h.value.0.0.as_slice());
    let aims: Vec<At<String>> = file.aim.iter().flat_map(|aim| aim.names()).collect();
    let places = targets
        .iter()
        .map(|(name, _)| name)
        .chain(held.iter().map(|(name, _)| name))
        .chain(&aims)
        .filter(|name| name.as_str() == key)
        .map(At::place);
    for place in places.collect::<Vec<Range<usize>>>() {
        let what = "the pour cost is a share of the menu price, and there is none";
        findings.error(codes::NO_MENU, place, what, "add [menu] with price = … (and tax = …)");
    }
}

fn reference(file: &File, brief: &Brief, findings: &mut Findings) {
    let pours = brief.reference.as_ref().map(|reference| reference.pours.as_slice());
    if findings.is_spoiled("reference") || pours.is_some_and(|pours| !pours.is_empty()) {
        return;
    }
    if let (Some(written), Some([])) = (&file.reference, pours) {
        if !findings.stops() {
            let what = "the reference pours nothing";
            let help = "list its spec: \"lime juice\" = \"25 ml\"; or leave [reference] out";
            findings.error(codes::NO_REFERENCE, written.place(), what, help);
        }
        return;
    }
    let nearest = file.aim.as_ref().and_then(|aim| aim.nearest.as_ref());
    let nearest = nearest.filter(|word| word.0 == Nearest::Reference).map(At::place);
    for place in nearest.into_iter().chain(file.hold.as_ref().map(At::place)) {
        let what = "this needs the spec that the drink comes from";
        findings.error(codes::NO_REFERENCE, place, what, "add [reference] with its pours");
    }
}

/// What is to be held at the reference's own value needs one: no acid, no sugar per acid.
fn held(file: &File, brief: &Brief, findings: &mut Findings) {
    let written = file.hold.as_ref().map_or(&[][..], |h| h.value.0.0.as_slice());
    if findings.stops() {
        return;
    }
    for held in brief.held().iter().filter(|held| !held.max.is_some_and(f64::is_finite)) {
        let name = brief.measure_name(held.measure);
        let Some((key, _)) = written.iter().find(|(key, _)| key.as_str() == name) else { continue };
        let what = format!("the reference has no {} to be held", shown(name));
        findings.error(codes::NOT_HELD, key.place(), what, "leave it out of [hold]");
    }
}

fn middle(file: &File, brief: &Brief, findings: &mut Findings) {
    let wide = brief.targets.iter().any(|t| matches!((t.min, t.max), (Some(min), Some(max)) if min < max));
    let nearest = file.aim.as_ref().and_then(|aim| aim.nearest.as_ref());
    let Some(place) = nearest.filter(|word| word.0 == Nearest::Middle).map(At::place) else { return };
    if !wide && !findings.is_spoiled("targets") {
        let what = "there is no range to be in the middle of";
        findings.error(codes::NO_MIDDLE, place, what, "give at least one target a min and a greater max");
    }
}

/// An aim at an ingredient that may not be used decides nothing.
fn goal(file: &File, brief: &Brief, findings: &mut Findings) {
    let (Aim::Lowest(Goal::Ingredient(at)) | Aim::Highest(Goal::Ingredient(at))) = brief.aim else { return };
    let Some(candidate) = brief.candidates.get(at).filter(|c| c.out) else { return };
    let word = file.aim.as_ref().and_then(|aim| aim.names().next());
    if let Some(word) = word {
        let what = format!("the aim is \"{}\", which is out", shown(&candidate.name));
        findings.error(codes::MUST_AND_OUT, word.place(), what, "let it in, or aim at something else");
    }
}
