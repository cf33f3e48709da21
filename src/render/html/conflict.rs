//! Why there is no spec: what clashes and the smallest change first, then the drink that it gives.

use maud::{Markup, html};

use super::choice::Choice;
use super::choices::choices;
use super::fill::Palette;
use super::page::{Page, Part};
use super::picture::Said;
use super::sections::body;
use super::{lists, mind};
use crate::answer::{ConflictLine, SpecAnswer};
use crate::quantity::{UnitSystem, number};
use crate::render::document::{Block, Cell, Kind, Row, Table, columns};
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
        kind: "No spec".to_owned(),
        title: &answer.title,
        said: said(answer, conflict, units),
        warned: true,
        palette,
        first,
        parts: parts.into_iter().flatten().collect(),
        script: None,
    }
}

/// Why nothing can be poured, and the smallest change with which something can.
fn said(answer: &SpecAnswer, conflict: &ConflictLine, units: UnitSystem) -> Vec<String> {
    let mut why = why(answer, conflict, units);
    let needs = words::needs(&answer.frame, &conflict.relax, units);
    if !needs.is_empty() {
        why.push(format!("The smallest change in all: {}.", words::listed(&needs)));
    }
    why
}

/// Why nothing can be poured.
pub fn why(answer: &SpecAnswer, conflict: &ConflictLine, units: UnitSystem) -> Vec<String> {
    let frame = &answer.frame;
    let mut why = words::clash_sentences(frame, conflict, units);
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
    let mut said = words::needs(&answer.frame, &conflict.enough, units);
    if said.is_empty() {
        return None;
    }
    if conflict.total.is_finite() {
        let total = number::percent(conflict.total, 0);
        said.push(format!("The smallest change in all comes to {total} of what was asked for."));
    }
    Some(Part::new("enough", "Any one of these changes alone would be enough", lists::sentences(&said)))
}

/// What each target can reach while the others are let go.
fn reach(answer: &SpecAnswer, conflict: &ConflictLine, units: UnitSystem) -> Option<Part> {
    let known = conflict.reach.iter().filter(|r| r.min.found.is_some() || r.max.found.is_some());
    let rows = known.filter_map(|line| {
        let gauge = answer.frame.gauge(&line.target)?;
        let label = format!("{} {}", gauge.label, words::unit(gauge, units));
        let figure = |value: f64| words::figure(gauge, value, units);
        let within = words::between(line.min.found.map(figure), line.max.found.map(figure), "");
        let told = [label, words::range_words(gauge, units), within];
        Some(Row::plain(told.map(Cell::words).to_vec()))
    });
    let heads = [(Kind::Words, "target"), (Kind::Short, "asked for"), (Kind::Short, "within reach")];
    let found = [
        Table::headed(columns(heads), rows).block()?,
        Block::plain("With these ingredients and rules, each target alone."),
    ];
    Some(Part::new("reach", "Within reach", body(&found, &[], &Palette::default())?))
}
