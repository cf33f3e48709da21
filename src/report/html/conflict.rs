//! Why there is no spec: what clashes, what would be enough.

use maud::{Markup, html};

use super::picture::{Room, Said, Told, across, behind, coordinate as c, name, picture, table};
use super::ranges::{Axis, channel};
use super::section::Section;
use super::{card, glass, lists, ranges};
use crate::quantity::{UnitSystem, number};
use crate::report::gather::{ConflictLine, Frame, Gauge, ReachLine, SpecAnswer};
use crate::report::words;

/// The sections of a conflict.
pub fn sections(answer: &SpecAnswer, conflict: &ConflictLine, units: UnitSystem) -> Vec<Section> {
    let frame = &answer.frame;
    let mut all = vec![];
    let reached = reached(frame, conflict);
    if !reached.is_empty() {
        all.push(Section {
            slug: "reach",
            question: "Can these ingredients reach what is asked for?".to_owned(),
            answer: reach_answer(frame, conflict, units),
            body: reach(&reached, units),
        });
    }
    if !conflict.cores.is_empty() {
        all.push(clashes(frame, conflict, units));
    }
    all.push(enough(frame, conflict, units));
    if let Some(spec) = &conflict.spec {
        let needs: Vec<String> = conflict.relax.iter().map(|n| words::need(frame, n, units)).collect();
        let total = number::percent(conflict.total, 0);
        all.push(Section {
            slug: "smallest",
            question: "What is the smallest change in all, and what would stand in the glass?".to_owned(),
            answer: vec![format!("{} ({total} of what was asked for, all changes added up).", needs.join("; "))],
            body: html! { div.pair { (glass::figure(frame, spec, "glass", units)) (card::card(frame, spec, units)) } },
        });
        all.push(Section::new(
            "ranges",
            "What would that measure?",
            String::new(),
            ranges::figure(frame, spec, "range", units),
        ));
    }
    all
}

/// Sentences that say why, for the heading.
pub fn why(answer: &SpecAnswer, conflict: &ConflictLine, units: UnitSystem) -> Vec<String> {
    let frame = &answer.frame;
    let reach = words::reach_sentences(frame, conflict, units);
    let mut why = if reach.is_empty() {
        words::conflict_sentence(frame, conflict, units).into_iter().collect()
    } else {
        reach
    };
    why.extend(words::steps_sentence(conflict, units));
    why
}

fn reach_answer(frame: &Frame, conflict: &ConflictLine, units: UnitSystem) -> Vec<String> {
    let sentences = words::reach_sentences(frame, conflict, units);
    if sentences.is_empty() {
        vec!["Each by itself, yes: every target can be met as long as the others are let go. Together they cannot.".to_owned()]
    } else {
        sentences
    }
}

fn reached<'a>(frame: &'a Frame, conflict: &'a ConflictLine) -> Vec<(&'a Gauge, &'a ReachLine)> {
    let known = conflict.reach.iter().filter(|r| r.min.is_some() || r.max.is_some());
    known.filter_map(|r| Some((frame.gauge(&r.target)?, r))).collect()
}

/// Each target's channel, and under it how far the ingredients reach.
fn reach(reached: &[(&Gauge, &ReachLine)], units: UnitSystem) -> Markup {
    html! {
        figure.ranges {
            ul.strips {
                @for (at, (gauge, line)) in reached.iter().enumerate() {
                    @let words = reach_words(gauge, line, units);
                    @let told = Told {
                        id: format!("reach-{at}"),
                        title: format!("{}: what is asked for and what can be reached", gauge.label),
                        text: format!("Asked for: {}; within reach: {words}.", words::range_words(gauge, units)),
                    };
                    li.strip {
                        span.what { (name(&gauge.label)) " " small { (name(words::unit(gauge, units))) } }
                        (picture("pic-range", Room::Strip(62.0), &told, &reach_drawing(gauge, line, units)))
                        span.margin { "within reach: " (Said(&words)) }
                    }
                }
            }
            figcaption {
                "Between the posts is what the brief asks for. The bar under it is what these ingredients and rules can \
                 reach when no other target is kept; an arrow says that it goes on."
            }
            (behind(&reach_table(reached, units)))
        }
    }
}

fn reach_words(gauge: &Gauge, line: &ReachLine, units: UnitSystem) -> String {
    let figure = |value: f64| words::figure(gauge, value, units);
    match (line.min, line.max) {
        (Some(min), Some(max)) => format!("{} to {}", figure(min), figure(max)),
        (Some(min), None) => format!("{} and more", figure(min)),
        (None, Some(max)) => format!("up to {}", figure(max)),
        (None, None) => "not known".to_owned(),
    }
}

fn reach_drawing(gauge: &Gauge, line: &ReachLine, units: UnitSystem) -> Markup {
    // An end that is far away would press the posts together: the strip ends sooner, with an arrow.
    let scale = gauge.max.or(gauge.min).map_or(1.0, f64::abs);
    let near = |end: Option<f64>| end.filter(|e| e.abs() <= 2.5 * scale);
    let ends: Vec<f64> = [near(line.min), near(line.max)].into_iter().flatten().collect();
    let axis = Axis::of(gauge, &ends);
    let left = line.min.map_or(0.0, |m| axis.place(m));
    let right = line.max.map_or(1.0, |m| axis.place(m));
    let y = 52.0;
    html! {
        (channel(gauge, &axis, units))
        line.reach x1=(across(left)) x2=(across(right)) y1=(c(y)) y2=(c(y)) {}
        @for (end, place) in [(line.min, left), (line.max, right)] {
            @if end.is_some() && place > 0.0 && place < 1.0 {
                line.reach x1=(across(place)) x2=(across(place)) y1=(c(y - 6.0)) y2=(c(y + 6.0)) {}
            }
        }
        @if line.max.is_none() || right >= 1.0 {
            svg.afloat x="100%" y=(c(y)) overflow="visible" { path.tip d="M0 0L-10-6V6Z" {} }
        }
    }
}

fn reach_table(reached: &[(&Gauge, &ReachLine)], units: UnitSystem) -> Markup {
    let row = |(gauge, line): &(&Gauge, &ReachLine)| {
        let label = format!("{} {}", gauge.label, words::unit(gauge, units));
        vec![label, words::range_words(gauge, units), reach_words(gauge, line, units)]
    };
    let rows: Vec<Vec<String>> = reached.iter().map(row).collect();
    table("What each target can reach", &["target", "asked for", "within reach"], &rows)
}

fn clashes(frame: &Frame, conflict: &ConflictLine, units: UnitSystem) -> Section {
    let body = html! {
        ol.clashes {
            @for core in &conflict.cores {
                li { ul { @for item in core { li { (Said(&words::item(frame, item, units))) } } } }
            }
        }
        @if !conflict.complete { p.note { "There may be more." } }
    };
    let sets = words::counted(conflict.cores.len(), "set");
    let answer = format!(
        "{} of demands. Each set has no drink, but leave out any one of its lines and there is one.",
        words::upper_first(&sets)
    );
    Section::new("clash", "What does not go together?", answer, body)
}

fn enough(frame: &Frame, conflict: &ConflictLine, units: UnitSystem) -> Section {
    let all: Vec<String> = conflict.enough.iter().map(|n| words::need(frame, n, units)).collect();
    let (answer, body) = if all.is_empty() {
        ("None: no single change was found to be enough.".to_owned(), html! {})
    } else {
        let changes = words::counted(all.len(), "change");
        (format!("{}, each by itself:", words::upper_first(&changes)), lists::sentences(&all))
    };
    Section::new("enough", "Which single change would be enough?", answer, body)
}
