//! The trade-off curve itself: score over the value that moves, switches numbered, conflicts hatched.

use maud::{Markup, html};

use super::picture::{Room, Told, across, coordinate as c, picture, step};
use super::spread::spread;
use super::way::{Stretch, place, stretches, switch_place};
use crate::quantity::UnitSystem;
use crate::report::gather::SweepAnswer;
use crate::report::words;

const HEIGHT: f64 = 320.0;
/// Between them the scores are drawn.
const TOP: f64 = 52.0;
const BED: f64 = 284.0;
/// The scores keep so far from both.
const INSET: f64 = 16.0;
/// The width at which numbers must still not lie on each other, and how far apart they are.
const NARROW: f64 = 240.0;
const APART: f64 = 22.0;
/// More switches than this are listed but not numbered in the drawing.
pub const NUMBERED: usize = 10;
/// More points than this are a line.
const DOTS: usize = 61;
/// The width of a drawing in which a line is scaled to the room there is.
const ACROSS: f64 = 1000.0;

/// How the drawing measures scores.
struct Scale {
    low: f64,
    high: f64,
}

impl Scale {
    fn of(answer: &SweepAnswer) -> Self {
        let sides = answer.switches.iter().flat_map(|s| [s.score_before, s.score]);
        let scores = answer.points.iter().map(|p| p.score).chain(sides).flatten().filter(|s| s.is_finite());
        let (low, high) =
            scores.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), s| (low.min(s), high.max(s)));
        Self { low, high }
    }

    fn y(&self, score: f64) -> f64 {
        let share = (score - self.low) / (self.high - self.low);
        let share = if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.5 };
        BED - INSET - (BED - TOP - 2.0 * INSET) * share
    }

    /// Scores at which a line is drawn across.
    fn marks(&self) -> Vec<f64> {
        let length = self.high - self.low;
        if !(length.is_finite() && length > 1e-9 * self.high.abs()) {
            return vec![self.low];
        }
        let every = step(length, 5);
        let first = (self.low / every - 1e-9).ceil();
        let count = ((self.high / every + 1e-9).floor() - first).max(0.0) as usize;
        (0..=count).map(|at| (first + at as f64) * every).collect()
    }
}

/// Draws the curve beside its scale.
pub fn figure(answer: &SweepAnswer, units: UnitSystem) -> Markup {
    let scale = Scale::of(answer);
    let better = if answer.aim.direction == "highest" { "Higher is better." } else { "Lower is better." };
    let unit = &answer.unit;
    let axis = if unit.is_empty() { answer.over.clone() } else { format!("{} in {unit}", answer.over) };
    let none = stretches(answer).iter().any(|s| s.names.is_empty());
    html! {
        figure.tradeoff {
            div.axes {
                (labels(answer, &scale, units))
                (picture("pic-curve", Room::Strip(HEIGHT), &told(answer, units), &drawing(answer, &scale)))
            }
            figcaption {
                "Upwards the score, to the right " (super::picture::Said(&axis)) ". " (better)
                " Every dot is a spec that was worked out; the line only joins them."
                @if none { " Hatched: no spec meets the brief." }
                @if answer.switches.len() > NUMBERED { " The ticks on top are the switches." }
                @else if !answer.switches.is_empty() { " The numbers are the switches, named below." }
            }
        }
    }
}

/// The scores at the side, in a picture of their own so that they keep their size.
fn labels(answer: &SweepAnswer, scale: &Scale, units: UnitSystem) -> Markup {
    let marks: Vec<(f64, String)> =
        scale.marks().into_iter().map(|m| (scale.y(m), words::point_score(answer, Some(m), units))).collect();
    let widest = marks.iter().map(|(_, text)| text.chars().count()).max().unwrap_or(0);
    // 7 px a letter are enough for a figure of 12 px in any face.
    let width = 7.0 * widest as f64 + 8.0;
    html! {
        svg.scale width=(c(width)) height=(c(HEIGHT)) aria-hidden="true" focusable="false" {
            @for (y, text) in &marks {
                text.small.end x=(c(width - 8.0)) y=(c(y + 4.0)) { (super::picture::Said(text)) }
            }
        }
    }
}

fn told(answer: &SweepAnswer, units: UnitSystem) -> Told {
    let runs = words::runs(answer);
    let each = runs.iter().take(40).map(|run| {
        let score = words::run_score(answer, run, units);
        let score = if score == "–" { "no spec".to_owned() } else { score };
        format!("{}: {score}", words::run_range(answer, run))
    });
    Told {
        id: "curve".to_owned(),
        title: format!("The best score over {}", answer.over),
        text: format!("{}.", each.collect::<Vec<_>>().join("; ")),
    }
}

fn drawing(answer: &SweepAnswer, scale: &Scale) -> Markup {
    let all = stretches(answer);
    html! {
        rect.water x="0" y=(c(TOP)) width="100%" height=(c(BED - TOP)) {}
        @for mark in scale.marks() {
            line.grid x1="0" x2="100%" y1=(c(scale.y(mark))) y2=(c(scale.y(mark))) {}
        }
        @for stretch in all.iter().filter(|s| s.names.is_empty()) { (hatched(stretch)) }
        (ticks(answer))
        (switches(answer))
        (line(answer, scale, &all))
        (dots(answer, scale, &all))
    }
}

fn hatched(stretch: &Stretch) -> Markup {
    let width = (stretch.to - stretch.from).max(0.005);
    html! {
        rect.page x=(across(stretch.from)) y=(c(TOP)) width=(across(width)) height=(c(BED - TOP)) {}
        rect x=(across(stretch.from)) y=(c(TOP)) width=(across(width)) height=(c(BED - TOP)) fill="url(#fill-out)" {}
    }
}

/// The scores as lines, broken where no spec meets the brief.
fn line(answer: &SweepAnswer, scale: &Scale, all: &[Stretch]) -> Markup {
    let mut lines: Vec<Vec<String>> = vec![Vec::new()];
    for stretch in all {
        let inside = stretch.points.iter().map(|p| (p.at, p.score));
        let into = stretch.before.map(|s| (s.at, s.score));
        let out = stretch.after.map(|s| (s.before, s.score_before));
        for (at, score) in into.into_iter().chain(inside).chain(out) {
            match (score.filter(|s| s.is_finite()), lines.last_mut()) {
                (Some(score), Some(line)) => {
                    line.push(format!("{} {}", c(ACROSS * place(answer, at)), c(scale.y(score))));
                }
                (None, Some(line)) if !line.is_empty() => lines.push(Vec::new()),
                _ => {}
            }
        }
    }
    html! {
        svg.drawn x="0" y="0" width="100%" height=(c(HEIGHT)) viewBox=(format!("0 0 {} {}", c(ACROSS), c(HEIGHT)))
            preserveAspectRatio="none" {
            @for line in lines.iter().filter(|l| l.len() > 1) {
                polyline.course points=(line.join(" ")) vector-effect="non-scaling-stroke" {}
            }
        }
    }
}

fn dots(answer: &SweepAnswer, scale: &Scale, all: &[Stretch]) -> Markup {
    let points = all.iter().flat_map(|s| &s.points).filter_map(|p| Some((p.at, p.score?)));
    let points: Vec<(f64, f64)> = points.filter(|(_, score)| score.is_finite()).collect();
    let radius = if points.len() <= DOTS { "3.5" } else { "2" };
    html! {
        @for (at, score) in &points {
            circle.spot cx=(across(place(answer, *at))) cy=(c(scale.y(*score))) r=(radius) {}
        }
    }
}

/// The switches: a line down from a number, or from a tick where they are many.
fn switches(answer: &SweepAnswer) -> Markup {
    let places: Vec<f64> = answer.switches.iter().map(|s| switch_place(answer, s)).collect();
    if places.len() > NUMBERED {
        return html! {
            @for x in &places { line.post x1=(across(*x)) x2=(across(*x)) y1=(c(TOP - 10.0)) y2=(c(TOP)) {} }
        };
    }
    // The way may run downwards in value, but it always runs to the right.
    let wanted: Vec<f64> = places.iter().map(|x| x * NARROW).collect();
    let apart = spread(&wanted, APART, 11.0, NARROW - 11.0);
    html! {
        @for (at, (x, at_narrow)) in places.iter().zip(&apart).enumerate() {
            @let mark = at_narrow / NARROW;
            line.rope x1=(across(mark)) x2=(across(*x)) y1="20" y2=(c(TOP)) {}
            line.rope.down x1=(across(*x)) x2=(across(*x)) y1=(c(TOP)) y2=(c(BED)) {}
            circle.buoy cx=(across(mark)) cy="13" r="11" {}
            text.mark x=(across(mark)) y="17.5" text-anchor="middle" { (at + 1) }
        }
    }
}

/// Values along the bed.
fn ticks(answer: &SweepAnswer) -> Markup {
    let ends = answer.points.first().zip(answer.points.last()).map_or((0.0, 0.0), |(a, b)| (a.at, b.at));
    let (low, high) = (ends.0.min(ends.1), ends.0.max(ends.1));
    let every = step(high - low, 4);
    let first = (low / every - 1e-9).ceil();
    let count = ((high / every + 1e-9).floor() - first).clamp(0.0, 12.0) as usize;
    let anchor = |x: f64| match x {
        x if x < 0.06 => "start",
        x if x > 0.94 => "end",
        _ => "middle",
    };
    html! {
        line.bed x1="0" x2="100%" y1=(c(BED)) y2=(c(BED)) {}
        @for at in 0..=count {
            @let value = (first + at as f64) * every;
            @let x = place(answer, value);
            line.post x1=(across(x)) x2=(across(x)) y1=(c(BED)) y2=(c(BED + 7.0)) {}
            text.small x=(across(x)) y=(c(BED + 23.0)) text-anchor=(anchor(x)) { (words::axis_value(value)) }
        }
    }
}
