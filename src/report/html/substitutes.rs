//! What could take the place of an ingredient, ranked, as a page.

use maud::{Markup, html};

use super::page::{self, Heading, Tone};
use super::picture::{Room, Said, Told, across, behind, name, picture, table};
use super::section::Section;
use super::{lists, ranges};
use crate::quantity::UnitSystem;
use crate::report::gather::{Outcome, Substitute, SubstitutesAnswer};
use crate::report::words;

/// So many are drawn; the table has them all.
const DRAWN: usize = 25;

/// The page of a ranked list.
pub fn page(answer: &SubstitutesAnswer, units: UnitSystem) -> String {
    let found: Vec<&Substitute> = answer.ranked.iter().filter(|s| s.spec.is_some()).collect();
    let mut sections = Vec::new();
    if !found.is_empty() {
        let body = figure(answer, &found, units);
        sections.push(Section::new("ranked", "Which comes nearest?", best(answer, &found, units), body));
    }
    if let Some(first) = found.first().and_then(|s| s.spec.as_ref()) {
        let said = ranges::answer(&answer.frame, first, units);
        let strays = ranges::Strays { reference: answer.reference.as_ref(), ..ranges::Strays::default() };
        let body = ranges::figure(&answer.frame, first, strays, "range", units);
        sections.push(Section::new("ranges", "Does the first of them measure right?", said, body));
    }
    let rest = lists::sentences(&words::rest_sentences(answer));
    sections.push(Section::new("rest", "What else is known?", String::new(), rest));
    let mut said = vec![format!("{}.", words::substitutes_heading(answer))];
    said.extend(words::question_sentences(answer, units));
    let tone = if found.is_empty() { Tone::Warned } else { Tone::Answered };
    let kind = "Substitutes".to_owned();
    page::page(&Heading { kind, title: &answer.title, said, tone, figures: vec![] }, &sections)
}

fn best(answer: &SubstitutesAnswer, found: &[&Substitute], units: UnitSystem) -> String {
    let count = words::counted(found.len(), "ingredient");
    let first = found
        .first()
        .map_or_else(String::new, |s| format!(" First is {}: {}.", s.coming, score(answer, s, units)));
    format!("{} can take the place of {}.{first}", words::upper_first(&count), answer.out)
}

/// The score with what it counts: `17.5 ml poured differently`.
fn score(answer: &SubstitutesAnswer, one: &Substitute, units: UnitSystem) -> String {
    one.score.map_or_else(String::new, |score| words::score_text(&answer.aim, &answer.frame, score, units))
}

/// A bar for each, as long as its score.
fn figure(answer: &SubstitutesAnswer, found: &[&Substitute], units: UnitSystem) -> Markup {
    let most = found.iter().filter_map(|s| s.score).filter(|s| s.is_finite()).fold(0.0, f64::max);
    html! {
        figure.substitutes {
            ul.strips {
                @for (at, one) in found.iter().take(DRAWN).enumerate() {
                    li.strip {
                        span.what { (at + 1) ". " (name(&one.coming)) }
                        (picture("pic-share", Room::Strip(24.0), &told(answer, one, at, units), &bar(one, most)))
                        span.figure { (Said(&score(answer, one, units))) }
                        span.margin { (Said(&beside(answer, one, units))) }
                    }
                }
            }
            figcaption {
                "The bar is the figure beside it"
                @if answer.aim.of == "reference" { ", what is poured differently from the reference" }
                @if answer.aim.direction == "highest" { ": the longer the better." } @else { ": the shorter the better." }
                " Then how much comes in and what else moves."
                @if found.len() > DRAWN { " The table has " (found.len() - DRAWN) " more." }
            }
            (behind(&as_table(answer, found, units)))
        }
    }
}

/// How much of it is poured and what else moves.
fn beside(answer: &SubstitutesAnswer, one: &Substitute, units: UnitSystem) -> String {
    let parts = [Some(words::newcomer_pour(one, units)), words::substitute_note(answer, one, units)];
    parts.into_iter().flatten().filter(|p| !p.is_empty()).collect::<Vec<_>>().join("; ")
}

fn bar(one: &Substitute, most: f64) -> Markup {
    let share = one.score.filter(|s| s.is_finite() && most > 0.0).map_or(0.0, |s| (s / most).clamp(0.0, 1.0));
    html! {
        rect.water x="0" y="4" width="100%" height="16" {}
        rect.within x="0" y="4" width=(across(share)) height="16" {}
    }
}

fn told(answer: &SubstitutesAnswer, one: &Substitute, at: usize, units: UnitSystem) -> Told {
    Told {
        id: format!("ranked-{at}"),
        title: format!("The score with {}", one.coming),
        text: format!("{}.", score(answer, one, units)),
    }
}

fn as_table(answer: &SubstitutesAnswer, found: &[&Substitute], units: UnitSystem) -> Markup {
    let gauges = words::substitute_gauges(answer);
    let (head, _) = words::score_column(&answer.aim, &answer.frame, units);
    let mut heads = vec!["comes in".to_owned(), "pour".to_owned(), head];
    heads.extend(
        gauges.iter().map(|g| format!("{} {}", g.label, words::unit(g, units)).trim_end().to_owned()),
    );
    heads.push("also".to_owned());
    let rows: Vec<Vec<String>> = found
        .iter()
        .map(|one| {
            let figure = |key: &str| one.spec.as_ref().map_or(f64::NAN, |spec| spec.served.get(key));
            let mut cells =
                vec![one.coming.clone(), words::newcomer_pour(one, units), score(answer, one, units)];
            cells.extend(gauges.iter().map(|g| words::figure(g, figure(&g.key), units)));
            let stopped = one.outcome == Outcome::Stopped;
            let note = words::substitute_note(answer, one, units).unwrap_or_default();
            cells.push(if stopped && note.is_empty() { "stopped, not proved".to_owned() } else { note });
            cells
        })
        .collect();
    let heads: Vec<&str> = heads.iter().map(String::as_str).collect();
    table("All that can come in", &heads, &rows)
}
