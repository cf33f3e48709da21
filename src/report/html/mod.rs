//! One self-contained page: every picture answers the question that stands over it.

mod batch;
mod brings;
mod card;
mod conflict;
mod curve;
mod glass;
mod lists;
mod look;
mod looser;
mod page;
mod pattern;
mod picture;
mod prices;
mod ranges;
mod section;
mod service;
mod soundings;
mod spread;
mod stretches;
mod substitutes;
mod sweep;
mod way;
mod worth;

use maud::html;

use super::gather::{
    BatchAnswer, CheckAnswer, Frame, Miss, Outcome, ServiceLine, SpecAnswer, SpecLine, SweepAnswer,
};
use super::words;
use crate::quantity::UnitSystem;
use page::{Heading, Tone};
use ranges::Strays;
use section::Section;

/// The answer to a brief as a page.
pub fn spec(answer: &SpecAnswer, units: UnitSystem) -> String {
    let shown = answer.best.as_ref().filter(|_| answer.outcome != Outcome::Conflict);
    match shown {
        Some(best) => found(answer, best, units),
        None => not_found(answer, units),
    }
}

/// A given spec, measured, as a page.
pub fn check(answer: &CheckAnswer, units: UnitSystem) -> String {
    let (frame, spec) = (&answer.frame, &answer.spec);
    let strays = Strays { service: Some(&answer.service), ..Strays::default() };
    let mut sections = vec![poured(frame, spec, units), measured(frame, spec, strays, units)];
    sections.extend(brought(frame, spec, units));
    let broken: Vec<String> = answer
        .misses
        .iter()
        .filter_map(|m| match m {
            Miss::Rule { rule } => Some(rule.clone()),
            Miss::Target { .. } => None,
        })
        .collect();
    if !broken.is_empty() {
        let rules = words::counted(broken.len(), "rule");
        let answer = format!("{} of the brief:", words::upper_first(&rules));
        sections.push(Section::new("rules", "Which rules does it break?", answer, lists::sentences(&broken)));
    }
    sections.push(in_service(frame, &answer.service, vec![]));
    sections.extend(mind(&answer.cautions));
    let mut said = vec![words::verdict(answer)];
    if !spec.change.is_empty() {
        said.push(format!("Against the reference: {}.", words::moves(&spec.change, units)));
    }
    let tone = if answer.meets { Tone::Answered } else { Tone::Warned };
    let figures = known_by(frame, spec, units);
    page::page(
        &Heading { kind: "A given spec, measured".to_owned(), title: &answer.title, said, tone, figures },
        &sections,
    )
}

/// A batch as a page.
pub fn batch(answer: &BatchAnswer, units: UnitSystem) -> String {
    batch::page(answer, units)
}

/// What could take the place of an ingredient, as a page.
pub fn substitutes(answer: &super::gather::SubstitutesAnswer, units: UnitSystem) -> String {
    substitutes::page(answer, units)
}

/// A trade-off curve as a page.
pub fn sweep(answer: &SweepAnswer, units: UnitSystem) -> String {
    sweep::page(answer, units)
}

fn found(answer: &SpecAnswer, best: &SpecLine, units: UnitSystem) -> String {
    let frame = &answer.frame;
    let strays = Strays {
        service: answer.service.as_ref(),
        certainty: answer.certainty.as_ref(),
        reference: answer.reference.as_ref(),
    };
    let mut sections = vec![poured(frame, best, units), measured(frame, best, strays, units)];
    sections.extend(brought(frame, best, units));
    if let Some(service) = &answer.service {
        let certain = answer.certainty.as_ref();
        let certain = certain.map_or_else(Vec::new, |c| words::certainty_sentences(answer, c, units));
        sections.push(in_service(frame, service, certain));
    }
    sections.extend(swapped(answer, units));
    let next = looser::shown(answer, best, units);
    if !next.is_empty() {
        let said = looser::answer(answer, best, &next, units);
        let body = looser::figure(answer, best, &next, units);
        sections.push(Section::new("looser", "Which limit holds it back?", said, body));
    }
    if let Some(found) = answer.sensitivity.as_ref().filter(|_| worth::shown(answer)) {
        let said = worth::answer(answer, found, units);
        let body = worth::figure(answer, found, units);
        sections.push(Section::new("worth", "What is each limit worth?", said, body));
    }
    if let Some(found) = answer.sensitivity.as_ref().filter(|found| prices::shown(found)) {
        let body = prices::figure(found);
        let mut section = Section::new("prices", "Which price would change it?", String::new(), body);
        section.answer = prices::answer(answer, found);
        sections.push(section);
    }
    if !answer.alternatives.is_empty() {
        let said = soundings::answer(answer, best, units);
        let body = soundings::figure(answer, best, units);
        let mut section = Section::new("others", "What else could be poured?", said, body);
        section.answer.push(words::outcome_sentences(answer, units));
        sections.push(section);
    }
    if let Some(found) = &answer.in_play {
        let within = crate::quantity::number::trimmed(found.within, 2);
        let said = format!("Counted over every spec that is at most {within} % worse than the best.");
        sections.push(Section::new(
            "inplay",
            "Which ingredients does it hang on?",
            said,
            lists::in_play(found),
        ));
    }
    sections.extend(mind(&answer.cautions));
    let mut said = vec![words::aim_sentence(answer, best.score, units)];
    if !best.change.is_empty() {
        said.push(format!("Against the reference: {}.", words::moves(&best.change, units)));
    }
    if answer.outcome == Outcome::Stopped || answer.alternatives.is_empty() {
        said.push(words::outcome_sentences(answer, units));
    }
    said.extend(words::without_steps(answer, units));
    let tone = if answer.outcome == Outcome::Stopped { Tone::Warned } else { Tone::Answered };
    let figures = known_by(frame, best, units);
    page::page(&Heading { kind: "Spec".to_owned(), title: &answer.title, said, tone, figures }, &sections)
}

fn not_found(answer: &SpecAnswer, units: UnitSystem) -> String {
    let frame = &answer.frame;
    let mut said = vec![words::outcome_sentences(answer, units)];
    let mut sections: Vec<Section> = swapped(answer, units).into_iter().collect();
    if let Some(certain) = &answer.certainty {
        said.extend(words::certainty_sentences(answer, certain, units));
    }
    if let Some(clash) = &answer.conflict {
        said.extend(conflict::why(answer, clash, units));
        sections.extend(conflict::sections(answer, clash, units));
    } else if let Some(free) = &answer.unrounded {
        sections.push(Section {
            question: "What would free amounts pour?".to_owned(),
            ..poured(frame, free, units)
        });
        sections.push(measured(frame, free, Strays::default(), units));
    }
    sections.extend(mind(&answer.cautions));
    page::page(
        &Heading {
            kind: "No spec".to_owned(),
            title: &answer.title,
            said,
            tone: Tone::Warned,
            figures: vec![],
        },
        &sections,
    )
}

fn poured(frame: &Frame, spec: &SpecLine, units: UnitSystem) -> Section {
    let answer = format!(
        "{}, {} in the glass.",
        words::upper_first(&words::counted(spec.pours.len(), "ingredient")),
        crate::quantity::number::pour_about(crate::quantity::Amount::ml(spec.served.get("volume")), units)
    );
    let body =
        html! { div.pair { (glass::figure(frame, spec, "glass", units)) (card::card(frame, spec, units)) } };
    Section::new("glass", "What goes into the glass, and how high does it stand?", answer, body)
}

fn measured(frame: &Frame, spec: &SpecLine, strays: Strays, units: UnitSystem) -> Section {
    let answer = ranges::answer(frame, spec, units);
    let body = ranges::figure(frame, spec, strays, "range", units);
    Section::new("ranges", "Does it measure right in the glass?", answer, body)
}

fn brought(frame: &Frame, spec: &SpecLine, units: UnitSystem) -> Option<Section> {
    (!spec.contributions.is_empty()).then(|| {
        let said = brings::answer(frame, spec);
        Section::new("brings", "What does each ingredient bring?", said, brings::figure(frame, spec, units))
    })
}

fn in_service(frame: &Frame, service: &ServiceLine, certain: Vec<String>) -> Section {
    let answer = words::service_sentence(frame, service);
    let body = service::figure(frame, service);
    let mut section = Section::new("service", "How often does it come out right?", answer, body);
    section.answer.extend(certain);
    section
}

/// What was swapped, where anything was.
fn swapped(answer: &SpecAnswer, units: UnitSystem) -> Option<Section> {
    let swap = answer.swap.as_ref()?;
    let mut sentences = words::swap_sentences(&answer.frame, swap, units);
    let rest = sentences.split_off(sentences.len().min(1));
    let said = sentences.pop().unwrap_or_default();
    Some(Section::new("swap", "What was swapped, and what stays as it was?", said, lists::sentences(&rest)))
}

fn mind(cautions: &[String]) -> Option<Section> {
    let body = lists::sentences(cautions);
    (!cautions.is_empty()).then(|| Section::new("mind", "What is there to mind?", String::new(), body))
}

/// The figures by which people know a drink.
fn known_by(frame: &Frame, spec: &SpecLine, units: UnitSystem) -> Vec<(String, String)> {
    let known = ["volume", "strength", "sugar", "acid", "cost"];
    let shown =
        known.into_iter().filter_map(|key| frame.gauge(key)).filter(|g| !spec.served.get(&g.key).is_nan());
    shown.map(|g| (g.label.clone(), words::with_unit(g, spec.served.get(&g.key), units))).collect()
}
