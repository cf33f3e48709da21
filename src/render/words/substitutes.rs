//! A ranked list of what could come in, in words.

use super::{counted, listed, moves};
use crate::answer::{AimGoal, Gauge, NearMiss, SpecLine, Substitute, SubstitutesAnswer, SwapLine, Turn};
use crate::quantity::english::either;
use crate::quantity::{Unit, UnitSystem, number};
use crate::solve::Ending;

/// `In place of lime juice: every sour of the brief and the larder`
pub fn substitutes_heading(answer: &SubstitutesAnswer) -> String {
    format!("In place of {}: every {} of the brief and the larder", answer.out, answer.role)
}

/// What is held and aimed for, and what was left out.
pub fn question_sentences(answer: &SubstitutesAnswer, units: UnitSystem) -> Vec<String> {
    let swap = SwapLine {
        out: vec![answer.out.clone()],
        coming: Vec::new(),
        held: answer.held.clone(),
        held_by: answer.held_by,
        aim_set_aside: answer.aim_set_aside.clone(),
        proportions_left_out: answer.proportions_left_out.clone(),
    };
    super::swap_sentences(&answer.frame, &swap, units).into_iter().skip(1).collect()
}

/// The figures that a table of substitutes shows beside pour and score.
pub fn substitute_gauges(answer: &SubstitutesAnswer) -> Vec<&Gauge> {
    const SHOWN: [&str; 5] = ["cost", "strength", "sugar", "sweetness", "acid"];
    let priced = |s: &Substitute| s.spec.as_ref().is_some_and(|spec| spec.served.get("cost").is_finite());
    let priced = answer.aim.of != "cost" && answer.ranked.iter().any(priced);
    let shown = SHOWN.iter().filter(|key| **key != "cost" || priced);
    shown.filter_map(|key| answer.frame.gauge(key)).collect()
}

/// How many of the notes of what goes out are kept: `2 of 3`; nothing where it has none.
pub fn notes_kept(answer: &SubstitutesAnswer, substitute: &Substitute) -> Option<String> {
    let all = answer.notes_out.len();
    (all > 0).then(|| format!("{} of {all}", substitute.notes_kept.len()))
}

/// Which notes are counted, and how they rank.
fn notes_sentence(answer: &SubstitutesAnswer) -> Option<String> {
    (!answer.notes_out.is_empty()).then(|| {
        format!(
            "Notes kept are those of {}: {}. Between specs whose difference does not matter what keeps more of them \
             comes first. {}",
            answer.out,
            listed(&answer.notes_out),
            super::COUNTED
        )
    })
}

/// How much of the newcomer is poured: `15 ml`.
pub fn newcomer_pour(substitute: &Substitute, units: UnitSystem) -> String {
    let spec = substitute.spec.as_ref();
    spec.and_then(|spec| pour_of(spec, &substitute.coming, units)).unwrap_or_default()
}

fn pour_of(spec: &SpecLine, name: &str, units: UnitSystem) -> Option<String> {
    let own = spec.pours.iter().find(|pour| pour.ingredient == name)?;
    Some(number::pour(own.amount(), units))
}

/// What else changes, and allergens of what comes in; nothing where there is neither.
pub fn substitute_note(
    answer: &SubstitutesAnswer,
    substitute: &Substitute,
    units: UnitSystem,
) -> Option<String> {
    let spec = substitute.spec.as_ref()?;
    let swapped =
        |name: &str, turn: Turn| (name == substitute.coming && turn != Turn::Moved) || name == answer.out;
    let rest: Vec<_> = spec.change.iter().filter(|c| !swapped(&c.ingredient, c.turn)).cloned().collect();
    let rest = if rest.is_empty() { String::new() } else { moves(&rest, units) };
    let allergens = if substitute.allergens.is_empty() {
        String::new()
    } else {
        format!("allergens: {}", substitute.allergens.join(", "))
    };
    let stopped = if substitute.outcome == Ending::Stopped { "stopped, not proved" } else { "" };
    let parts: Vec<String> =
        [rest, allergens, stopped.to_owned()].into_iter().filter(|p| !p.is_empty()).collect();
    (!parts.is_empty()).then(|| parts.join("; "))
}

/// Where nothing works: what comes nearest, and the figures that would let it in.
pub fn near_sentences(answer: &SubstitutesAnswer, units: UnitSystem) -> Vec<String> {
    let one = |near: &NearMiss| {
        let needs = super::needs(&answer.frame, &near.needs, units);
        let pour = pour_of(&near.spec, &near.coming, units).map_or_else(String::new, |pour| pour + " ");
        format!("{pour}{} would do with {}.", near.coming, needs.join(" and "))
    };
    let mut sentences: Vec<String> = answer.nearest.iter().map(one).collect();
    if let Some(first) = sentences.first_mut() {
        *first = format!("The nearest: {first}");
    }
    sentences
}

/// What is proved, what cannot come in, what was not tried, and what to do next.
pub fn rest_sentences(answer: &SubstitutesAnswer) -> Vec<String> {
    let of = |outcome: Ending| -> Vec<&str> {
        let with = answer.ranked.iter().filter(|s| s.outcome == outcome);
        with.map(|s| s.coming.as_str()).collect()
    };
    let (found, conflict) = (of(Ending::Found), of(Ending::Conflict));
    let stopped: Vec<&str> = answer
        .ranked
        .iter()
        .filter(|s| s.outcome == Ending::Stopped && s.spec.is_none())
        .map(|s| s.coming.as_str())
        .collect();
    let mut sentences = Vec::new();
    if found.is_empty() {
        sentences.push("None of them can take its place within these limits.".to_owned());
    } else {
        let count = counted(found.len(), "ingredient");
        sentences.push(format!("{count} can take its place; each line is proved the best with it."));
    }
    if !conflict.is_empty() {
        sentences.push(format!("No spec within the limits has {}.", either(&conflict)));
    }
    if !stopped.is_empty() {
        sentences.push(format!("Stopped before anything was proved about {}.", listed(&stopped)));
    }
    let weighed =
        |s: &Substitute| s.spec.as_ref().is_some_and(|spec| spec.change.iter().any(|c| c.unit == Unit::G));
    if answer.aim.goal == AimGoal::Reference && answer.ranked.iter().any(weighed) {
        sentences.push("In what is moved a gram counts like a millilitre.".to_owned());
    }
    sentences.extend(notes_sentence(answer).filter(|_| !found.is_empty()));
    sentences.extend(untried(answer));
    if let Some(first) = found.first() {
        sentences.push(format!(
            "For the card, what each ingredient brings and what to mind: --swap \"{}={first}\".",
            answer.out
        ));
    }
    sentences
}

fn untried(answer: &SubstitutesAnswer) -> Vec<String> {
    let mut sentences = Vec::new();
    let unpriced: Vec<&str> =
        answer.untried.iter().filter(|u| u.code == "no-price").map(|u| u.coming.as_str()).collect();
    if !unpriced.is_empty() {
        sentences.push(format!(
            "Not tried, as the brief limits the cost and they have no price: {}. List them as candidates with \
             their prices.",
            listed(&unpriced)
        ));
    }
    for other in answer.untried.iter().filter(|u| u.code != "no-price") {
        sentences.push(format!("Not tried: {}: {}.", other.coming, other.why));
    }
    sentences
}
