//! The answer to a brief, and a given spec held against it.

use super::brings::brings;
use super::choice::Choice;
use super::choices::choices;
use super::fill::Palette;
use super::hangs::hangs;
use super::page::{Heading, Page, Part, Tone};
use super::strips::Strays;
use super::{lists, mind, track};
use crate::answer::{CheckAnswer, Miss, SpecAnswer, SpecLine, steadier_specs};
use crate::quantity::UnitSystem;
use crate::quantity::number::fixed;
use crate::render::words;
use crate::solve::Ending;

/// The page of an answer that is no conflict.
pub fn page(answer: &SpecAnswer, units: UnitSystem) -> Page<'_> {
    let all = specs(answer);
    let palette = Palette::of(all.iter().map(|choice| choice.spec));
    let first = choices(&answer.frame, &all, &palette, units);
    let best = answer.best.as_ref();
    let hangs = best.and_then(|best| hangs(answer, best, units));
    let brings = best.and_then(|best| brings(&answer.frame, best, &palette, units));
    let parts = [
        hangs.map(|body| Part::new("hangs", "Limits and prices", body)),
        brings.map(|body| Part::new("brings", "What brings what", body)),
        track::figure(&answer.frame, &answer.track, units)
            .map(|body| Part::new("track", "The track of the drink", body)),
        sure(answer, units),
        mind(&answer.cautions),
    ];
    let found = answer.outcome == Ending::Found;
    Page {
        heading: Heading {
            kind: if best.is_some() { "Spec" } else { "No spec" }.to_owned(),
            title: &answer.title,
            said: said(answer, units),
            tone: if found && best.is_some() { Tone::Answered } else { Tone::Warned },
        },
        palette,
        first,
        parts: parts.into_iter().flatten().collect(),
        script: None,
    }
}

/// The best, what is steadier, the alternatives, the reference; where there is none, the free amounts.
pub fn specs(answer: &SpecAnswer) -> Vec<Choice<'_>> {
    let strays = Strays { reference: answer.reference.as_ref(), ..Strays::default() };
    let Some(best) = &answer.best else {
        return answer.unrounded.iter().map(|free| Choice::of("in free amounts", free)).collect();
    };
    let mut all = vec![Choice {
        strays: Strays { service: answer.service.as_ref(), certainty: answer.certainty.as_ref(), ..strays },
        ..Choice::of("the best", best)
    }];
    all.extend(steadier_specs(&answer.steadier).into_iter().map(|(levels, spec)| {
        let levels: Vec<String> = levels.iter().map(|level| fixed(*level, 0)).collect();
        Choice { strays, ..Choice::of(&format!("steadier, for {} of 100", levels.join(" and ")), spec) }
    }));
    all.extend(
        answer
            .alternatives
            .iter()
            .enumerate()
            .map(|(at, spec)| Choice { strays, ..Choice::of(&format!("alternative {}", at + 1), spec) }),
    );
    all.extend(answer.reference.iter().map(|spec| Choice::of("the reference", spec)));
    all
}

/// What to pour and what it costs; in how many serves it holds, and why not in all.
pub fn said(answer: &SpecAnswer, units: UnitSystem) -> Vec<String> {
    let Some(best) = &answer.best else { return vec![words::outcome_sentences(answer, units)] };
    let mut said = vec![headline(answer, best, units)];
    said.extend(answer.service.as_ref().map(|s| words::service_sentence(&answer.frame, s)));
    if answer.outcome == Ending::Stopped {
        said.push(words::outcome_sentences(answer, units));
    }
    said
}

fn headline(answer: &SpecAnswer, best: &SpecLine, units: UnitSystem) -> String {
    let names: Vec<&str> = best.pours.iter().map(|p| p.ingredient.as_str()).collect();
    let names = words::upper_first(&words::listed(&names));
    let aim = words::aim_sentence(answer, best.score, units);
    // The aim's own sentence tells the cost where that is the aim.
    if let Some(cost) = aim.strip_prefix("Cost: ") {
        return format!("{names} for {cost}");
    }
    let cost = answer.frame.gauge("cost").map(|g| words::with_unit(g, best.served.get("cost"), units));
    let cost =
        cost.filter(|_| !best.served.get("cost").is_nan()).map_or_else(String::new, |c| format!(" for {c}"));
    format!("{names}{cost}. {aim}")
}

/// What is proved, what was drawn and what was held.
pub fn sure(answer: &SpecAnswer, units: UnitSystem) -> Option<Part> {
    let mut said = Vec::new();
    if answer.outcome == Ending::Found {
        said.push(words::outcome_sentences(answer, units));
    }
    said.extend(words::without_steps(answer, units));
    said.extend(answer.in_play.iter().flat_map(|found| words::in_play_sentences(answer, found)));
    said.extend(answer.certainty.iter().flat_map(|c| words::certainty_sentences(answer, c, units)));
    said.extend(answer.service.iter().flat_map(words::service_basis));
    said.extend(answer.swap.iter().flat_map(|swap| words::swap_sentences(&answer.frame, swap, units)));
    let noted = answer.best.as_ref().is_some_and(|best| !best.notes.is_empty());
    said.extend(noted.then(|| words::COUNTED.to_owned()));
    (!said.is_empty()).then(|| Part::new("sure", "How sure it is", lists::sentences(&said)))
}

/// The page of a given spec.
pub fn checked(answer: &CheckAnswer, units: UnitSystem) -> Page<'_> {
    let (frame, spec) = (&answer.frame, &answer.spec);
    let palette = Palette::of([spec]);
    let strays = Strays { service: Some(&answer.service), ..Strays::default() };
    let first = choices(frame, &[Choice { strays, ..Choice::of("the spec given", spec) }], &palette, units);
    let broken: Vec<String> = answer
        .misses
        .iter()
        .filter_map(|m| match m {
            Miss::Rule { rule } => Some(words::upper_first(rule)),
            Miss::Target { .. } => None,
        })
        .collect();
    let parts = [
        (!broken.is_empty()).then(|| Part::new("rules", "Rules it breaks", lists::sentences(&broken))),
        brings(frame, spec, &palette, units).map(|body| Part::new("brings", "What brings what", body)),
        Some(Part::new("sure", "How sure it is", lists::sentences(&words::service_basis(&answer.service)))),
        mind(&answer.cautions),
    ];
    let change = (!spec.change.is_empty())
        .then(|| format!("Against the reference: {}.", words::moves(&spec.change, units)));
    let said = [Some(words::verdict(answer)), Some(words::service_sentence(frame, &answer.service)), change];
    Page {
        heading: Heading {
            kind: "A given spec, measured".to_owned(),
            title: &answer.title,
            said: said.into_iter().flatten().collect(),
            tone: if answer.meets { Tone::Answered } else { Tone::Warned },
        },
        palette,
        first,
        parts: parts.into_iter().flatten().collect(),
        script: None,
    }
}
