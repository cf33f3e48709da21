//! Why there is no spec: what clashes and the smallest change first, then the drink that it gives.

use maud::{Markup, html};

use super::choice::Choice;
use super::choices::choices;
use super::fill::Palette;
use super::page::{Heading, Page, Part, Tone};
use super::picture::Said;
use super::table::table;
use super::{lists, mind};
use crate::answer::{ConflictLine, Gauge, SpecAnswer};
use crate::explain::conflict::Reach;
use crate::quantity::{UnitSystem, number};
use crate::render::words;

/// The page of a conflict.
pub fn page<'a>(answer: &'a SpecAnswer, conflict: &'a ConflictLine, units: UnitSystem) -> Page<'a> {
    let frame = &answer.frame;
    let all: Vec<Choice> =
        conflict.spec.iter().map(|spec| Choice::of("with the smallest change", spec)).collect();
    let palette = Palette::of(all.iter().map(|choice| choice.spec));
    let first = html! {
        (clashes(answer, conflict, units))
        (choices(frame, &all, &palette, units))
    };
    let certain = answer.certainty.iter().flat_map(|c| words::certainty_sentences(answer, c, units));
    let swap = answer.swap.iter().flat_map(|swap| words::swap_sentences(frame, swap, units));
    let sure: Vec<String> = certain.chain(swap).collect();
    let parts = [
        enough(answer, conflict, units),
        reach(answer, conflict, units),
        (!sure.is_empty()).then(|| Part::new("sure", "How sure it is", lists::sentences(&sure))),
        mind(&answer.cautions),
    ];
    Page {
        heading: Heading {
            kind: "No spec".to_owned(),
            title: &answer.title,
            said: said(answer, conflict, units),
            tone: Tone::Warned,
        },
        palette,
        first,
        parts: parts.into_iter().flatten().collect(),
        script: None,
    }
}

/// Why nothing can be poured, and the smallest change with which something can.
fn said(answer: &SpecAnswer, conflict: &ConflictLine, units: UnitSystem) -> Vec<String> {
    let mut why = why(answer, conflict, units);
    let needs: Vec<String> = conflict.relax.iter().map(|n| words::need(&answer.frame, n, units)).collect();
    if !needs.is_empty() {
        let needs: Vec<&str> = needs.iter().map(String::as_str).collect();
        why.push(format!("The smallest change in all: {}.", words::listed(&needs)));
    }
    why
}

/// Why nothing can be poured.
pub fn why(answer: &SpecAnswer, conflict: &ConflictLine, units: UnitSystem) -> Vec<String> {
    let frame = &answer.frame;
    let mut why = words::reach_sentences(frame, conflict, units);
    if why.is_empty() {
        why.extend(words::conflict_sentence(frame, conflict, units));
    }
    if why.is_empty() && conflict.cores.is_empty() {
        why.push(words::outcome_sentences(answer, units));
    }
    why.extend(words::steps_sentence(conflict, units));
    why
}

/// The sets that cannot be kept together, side by side.
pub fn clashes(answer: &SpecAnswer, conflict: &ConflictLine, units: UnitSystem) -> Markup {
    html! {
        @if !conflict.cores.is_empty() {
            section.clash id="clash" aria-labelledby="clash-h" {
                h2 id="clash-h" { "What does not go together" }
                ul.clashes {
                    @for core in &conflict.cores {
                        li { ul { @for item in core { li { (Said(&words::item(&answer.frame, item, units))) } } } }
                    }
                }
                p.note {
                    "No drink keeps all of a set; without any one line of it the rest can be kept."
                    @if !conflict.complete { " There may be more sets." }
                }
            }
        }
    }
}

/// The changes of which any one is enough.
fn enough(answer: &SpecAnswer, conflict: &ConflictLine, units: UnitSystem) -> Option<Part> {
    let rows: Vec<Vec<String>> = conflict
        .enough
        .iter()
        .map(|need| {
            let (change, asked) = words::need_parts(&answer.frame, need, units);
            vec![change, asked.unwrap_or_else(|| "–".to_owned())]
        })
        .collect();
    let caption = match conflict.total {
        total if total.is_finite() => format!(
            "Each alone would be enough. The smallest change in all comes to {} of what was asked for.",
            number::percent(total, 0)
        ),
        _ => "Each alone would be enough.".to_owned(),
    };
    (!rows.is_empty())
        .then(|| Part::new("enough", "One change would do", table(&caption, &["change", "asked for"], &rows)))
}

/// What each target can reach while the others are let go.
fn reach(answer: &SpecAnswer, conflict: &ConflictLine, units: UnitSystem) -> Option<Part> {
    let known = conflict.reach.iter().filter(|r| r.min.found.is_some() || r.max.found.is_some());
    let rows: Vec<Vec<String>> = known
        .filter_map(|line| {
            let gauge = answer.frame.gauge(&line.target)?;
            let label = format!("{} {}", gauge.label, words::unit(gauge, units));
            Some(vec![label, words::range_words(gauge, units), within(gauge, line, units)])
        })
        .collect();
    let caption = "With these ingredients and rules, each target alone.";
    (!rows.is_empty()).then(|| {
        Part::new("reach", "Within reach", table(caption, &["target", "asked for", "within reach"], &rows))
    })
}

fn within(gauge: &Gauge, line: &Reach, units: UnitSystem) -> String {
    let figure = |value: f64| words::figure(gauge, value, units);
    match (line.min.found, line.max.found) {
        (Some(min), Some(max)) => format!("{} to {}", figure(min), figure(max)),
        (Some(min), None) => format!("{} and more", figure(min)),
        (None, Some(max)) => format!("up to {}", figure(max)),
        (None, None) => "not known".to_owned(),
    }
}
