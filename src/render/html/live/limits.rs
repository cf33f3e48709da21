//! Limits as strips with two ends to drag, and what is possible along one of them.

use maud::{Markup, html};

use super::View;
use crate::answer::{ConflictLine, Frame, Gauge, Item, SweepAnswer};
use crate::brief::{Measure, Side};
use crate::quantity::UnitSystem;
use crate::quantity::number::trimmed;
use crate::render::html::choice::Choice;
use crate::render::html::picture::{across, coordinate as c, name, step};
use crate::render::html::strips::{Axis, Row, channel, class, drawing};
use crate::render::words;

/// So many places of a strip can be told apart by hand.
const PLACES: usize = 120;
/// A strip is scaled anew once what it shows fills less of it than this share.
const FILLED: f64 = 0.4;

/// The strips of everything that is limited, with the marks of each of these specs: those of the chosen one are shown.
pub fn limits(view: &View, all: &[Choice]) -> Markup {
    let frame = &view.answer.frame;
    let shared = all.first().is_some_and(|one| one.strays.service.is_some());
    html! {
        p.heads aria-hidden="true" {
            span {} span { "least" } span {} span { "most" } span { "served" } span { @if shared { "holds" } }
        }
        ul.limits {
            @for gauge in frame.gauges.iter().filter(|gauge| gauge.limited()) {
                @let rows: Vec<Row> = all.iter().map(|one| Row::of(gauge, one.spec, one.strays, view.units)).collect();
                (limit(view, gauge, &rows))
            }
        }
    }
}

fn limit(view: &View, gauge: &Gauge, rows: &[Row]) -> Markup {
    let none = Row::empty(gauge);
    let first = rows.first().unwrap_or(&none);
    let axis = axis(view, first);
    let unit = words::unit(gauge, view.units);
    let held = view.brief.hold.iter().any(|hold| hold.measure == gauge.measure);
    let class_of = if rows.is_empty() { "strip none" } else { class(first.standing) };
    html! {
        li class=(class_of) data-key=(gauge.key) data-low=(axis.low) data-high=(axis.high) data-grain=(grid(gauge, [axis.low, axis.high])) {
            span.what { (name(&gauge.label)) " " small { (name(unit)) @if held { ", held" } } }
            (typed(gauge, Side::Min))
            div.track {
                (drawing(&html! {
                    (channel(gauge, &axis, view.units))
                    @for (at, row) in rows.iter().enumerate() { g class=(of(at)) { (row.marks(&axis)) } }
                }))
                @for side in [Side::Min, Side::Max] { (end(view, first, &axis, side)) }
                div.along data-keep {}
            }
            (typed(gauge, Side::Max))
            span.figure {
                @for (at, row) in rows.iter().enumerate() {
                    span class=(of(at)) { (words::figure(gauge, row.value, view.units)) " " small { (name(unit)) } }
                }
            }
            @if let Some(target) = first.target {
                span.share { span.of.of-0 { (words::hundredths(target.within)) " of 100" span.unseen { " serves hold" } } }
            }
        }
    }
}

/// The class of what belongs to one of the specs.
fn of(at: usize) -> String {
    format!("of of-{at}")
}

/// The axis of a strip: the one that it has while an end is held, and as long as it serves.
fn axis(view: &View, row: &Row) -> Axis {
    let own = row.axis();
    let Some([low, high]) = view.axes.get(&row.gauge.key).copied().filter(|[low, high]| low < high) else {
        return own;
    };
    let held = Axis { low, high };
    let inner = 0.02 * (high - low);
    let limits = [row.gauge.min, row.gauge.max].into_iter().flatten().chain(std::iter::once(row.value));
    let inside =
        limits.filter(|figure| figure.is_finite()).all(|f| (low + inner..=high - inner).contains(&f));
    if view.held || (inside && own.high - own.low >= FILLED * (high - low)) { held } else { own }
}

/// The steps in which an end moves: round ones, and no finer than the figure is shown.
pub fn grid(gauge: &Gauge, [low, high]: [f64; 2]) -> f64 {
    step(high - low, PLACES).max(0.1_f64.powf(gauge.digits as f64))
}

fn limit_of(gauge: &Gauge, side: Side) -> Option<f64> {
    if side == Side::Min { gauge.min } else { gauge.max }
}

fn words_of(side: Side) -> &'static str {
    if side == Side::Min { "least" } else { "most" }
}

/// An end to drag. One without a limit waits at the edge.
fn end(view: &View, row: &Row, axis: &Axis, side: Side) -> Markup {
    let gauge = row.gauge;
    let limit = limit_of(gauge, side);
    let edge = if side == Side::Min { axis.low } else { axis.high };
    let now = limit.unwrap_or(edge);
    let unit = words::unit(gauge, view.units);
    let served = if row.value.is_finite() {
        format!("; served {}", words::with_unit(gauge, row.value, view.units))
    } else {
        "; nothing can be poured".to_owned()
    };
    let at = limit.map_or_else(
        || "no limit".to_owned(),
        |limit| format!("{} {unit}", words::limit(gauge, limit, view.units)),
    );
    let clashes = view.answer.conflict.as_ref().is_some_and(|found| in_the_way(found, &gauge.key, side));
    html! {
        div.end.(side.keyword()).open[limit.is_none()].clashes[clashes] role="slider" tabindex="0"
            data-side=(side.keyword()) data-at=(c(100.0 * axis.place(now)))
            aria-label=(format!("{} {}", words_of(side), gauge.label))
            aria-valuemin=(axis.low) aria-valuemax=(axis.high) aria-valuenow=(now)
            aria-valuetext=(format!("{at}{served}{}", if clashes { "; in the way" } else { "" })) { span.grip {} }
    }
}

/// Whether an end is one of those that do not go together.
fn in_the_way(found: &ConflictLine, key: &str, end: Side) -> bool {
    let is = |item: &Item| matches!(item, Item::Target { target, side, .. } if target == key && *side == end);
    found.cores.iter().flatten().any(is)
}

/// A limit to type; with its unit it may be any that the brief takes.
fn typed(gauge: &Gauge, side: Side) -> Markup {
    let edit = serde_json::json!({ "kind": "limit", "key": gauge.key, "side": side.keyword() }).to_string();
    let value = limit_of(gauge, side)
        .map_or_else(String::new, |limit| words::limit(gauge, limit, UnitSystem::Metric));
    html! {
        input.typed.(side.keyword()) type="text" inputmode="decimal" autocomplete="off" size="5" placeholder="–"
            aria-label=(format!("{} {}, {}", words_of(side), gauge.label, gauge.unit))
            data-edit=(edit) data-field=(format!("targets.{}.{}", gauge.key, side.keyword())) value=(value);
    }
}

/// Limits to begin with, round a value that a drink has: what is paid or cared for from above, the rest from both sides.
pub fn around(measure: Measure, value: f64) -> (Option<f64>, Option<f64>) {
    let round = |value: f64| {
        let unit = step(value.abs().max(0.1), 20);
        ((value / unit).round() * unit * 1e6).round() / 1e6
    };
    match measure {
        Measure::Volume
        | Measure::Strength
        | Measure::Sugar
        | Measure::Sweetness
        | Measure::Acid
        | Measure::SugarAcid => (Some(round(0.9 * value)), Some(round(1.1 * value))),
        _ => (None, Some(round(1.1 * value))),
    }
}

/// A stretch of a strip with the same set of ingredients, from the first to the last place that was solved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Zone {
    /// Its first place.
    pub from: f64,
    /// Its last.
    pub to: f64,
    /// Whether anything can be poured there.
    pub pourable: bool,
}

/// Stretches over a strip: where nothing can be poured is crossed out, and a tick stands where the set changes.
pub fn zones(all: &[Zone], [low, high]: [f64; 2]) -> Markup {
    let axis = Axis { low, high };
    let borders: Vec<f64> = all.windows(2).map(|two| f64::midpoint(two[0].to, two[1].from)).collect();
    let ends = |at: usize| {
        let before = at.checked_sub(1).and_then(|at| borders.get(at)).map_or(0.0, |b| axis.place(*b));
        (before, borders.get(at).map_or(1.0, |b| axis.place(*b)))
    };
    html! {
        svg width="100%" height="40" aria-hidden="true" focusable="false" {
            @for (at, zone) in all.iter().enumerate() {
                @let (from, to) = ends(at);
                @if !zone.pourable { rect.dry x=(across(from)) y="2" width=(across((to - from).max(0.0))) height="24" {} }
            }
            @for border in &borders {
                line.turn x1=(across(axis.place(*border))) x2=(across(axis.place(*border))) y1="0" y2="28" {}
            }
        }
    }
}

/// What is possible along an end, in words.
pub fn way_sentences(
    frame: &Frame,
    answer: &SweepAnswer,
    key: &str,
    side: Side,
    all: &[Zone],
) -> Vec<String> {
    let Some(gauge) = frame.gauge(key) else { return Vec::new() };
    if all.iter().all(|zone| !zone.pourable) {
        return vec![format!(
            "Wherever this end stands, nothing can be poured: {} is not what is in the way.",
            gauge.label
        )];
    }
    let mut said = Vec::new();
    if answer.switches.is_empty() {
        said.push(format!(
            "Wherever the {} {} stands here, the same ingredients are the best.",
            words_of(side),
            gauge.label
        ));
    }
    let known = |switch: &&crate::answer::SwitchLine| switch.from.is_empty() != switch.to.is_empty();
    said.extend(answer.switches.iter().filter(known).map(|switch| end_sentence(answer, switch)));
    let sets = answer.switches.iter().filter(|switch| !known(switch));
    // Among specs that are as good the steadiest is poured: where sets change is told of the score.
    let by_score =
        |switch| words::switch_sentence(answer, switch).replacen("At ", "By the aim alone, at ", 1);
    said.extend(sets.map(by_score));
    said
}

/// Where specs begin or end, of what was solved: `At 8 % vol and under nothing can be poured.`
fn end_sentence(answer: &SweepAnswer, switch: &crate::answer::SwitchLine) -> String {
    let (last, beyond) = if switch.to.is_empty() { (switch.at, "over") } else { (switch.before, "under") };
    format!("At {} {} and {beyond} nothing can be poured.", trimmed(last, 3), answer.unit)
}
