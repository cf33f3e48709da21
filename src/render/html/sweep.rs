//! A trade-off: curve, bands and switches over one axis, and the recipes along it as a matrix.

use maud::{Markup, html};

use super::bands::bands;
use super::curve::curve;
use super::fill::Palette;
use super::lists;
use super::page::{Page, Paged, Part};
use super::picture::{Said, across, marks, name};
use super::table::sideways;
use super::way::{Stop, place, stops, value, with_unit};
use crate::answer::{AimGoal, Direction, SpecLine, SweepAnswer};
use crate::quantity::UnitSystem;
use crate::render::words;
use crate::solve::Ending;

/// More rows than this are for a spreadsheet.
const ROWS: usize = 60;

impl Paged for SweepAnswer {
    /// The curve as a page.
    fn page(&self, units: UnitSystem) -> Page<'_> {
        let some = self.points.iter().any(|p| p.score.is_some());
        let solved = self.points.iter().filter_map(|p| p.spec.as_ref());
        let sides = self.switches.iter().flat_map(|s| s.spec_before.iter().chain(&s.spec));
        let palette = Palette::of(solved.chain(sides));
        let all = stops(self);
        let first = html! {
            @if some {
                figure.sweep id="sweep" {
                    (curve(self, &all, units))
                    (bands(self, &all, &palette, units))
                    (axis(self))
                    figcaption { (Said(&caption(self, &all))) }
                }
            }
        };
        let recipes = Part::new("recipes", "Recipes along the way", recipes(self, &all, &palette, units));
        let proof = Part::new("sure", "How sure it is", lists::sentences(&[words::sweep_proof(self)]));
        let stopped = self.points.iter().any(|p| p.outcome == Ending::Stopped);
        let mut parts = Vec::new();
        parts.extend(some.then_some(recipes));
        parts.push(proof);
        Page {
            kind: "Trade-off".to_owned(),
            title: &self.title,
            said: said(self, units),
            warned: !some || stopped,
            palette,
            first,
            parts,
            script: None,
        }
    }
}

/// What moves, from where to where, and what that does.
fn said(answer: &SweepAnswer, units: UnitSystem) -> Vec<String> {
    let ends = answer.points.first().zip(answer.points.last());
    let moved = ends.map_or_else(String::new, |(first, last)| {
        let moved = words::upper_first(&answer.moved);
        format!("{moved} from {} to {}.", value(first.at), with_unit(answer, last.at))
    });
    let mut found = answer.points.iter().filter(|p| p.score.is_some());
    let score = |score| words::point_score(answer, score, units);
    let course = match (found.next(), found.next_back()) {
        (None, _) => "No spec that can be poured meets this brief at any point.".to_owned(),
        (Some(only), None) => format!("Only at {}: {}.", with_unit(answer, only.at), score(only.score)),
        (Some(first), Some(last)) => {
            let (from, to) = (score(first.score), score(last.score));
            let course = if from == to {
                format!("The best is {from} at both ends")
            } else {
                format!("The best goes from {from} at {} to {to} at {}", value(first.at), value(last.at))
            };
            match answer.switches.len() {
                0 => format!("{course}, with the same ingredients all along."),
                1 => format!("{course}; the ingredients switch once."),
                count => format!("{course}; the ingredients switch {count} times."),
            }
        }
    };
    vec![moved, course]
}

fn caption(answer: &SweepAnswer, all: &[Stop]) -> String {
    let better =
        if answer.aim.direction == Direction::Highest { "Higher is better." } else { "Lower is better." };
    let mut said = vec![
        better,
        "Under the curve each ingredient, from nothing at the foot of its band; a line through all is where the ingredients switch.",
    ];
    if all.iter().any(|stop| stop.spec.is_none()) {
        said.push("Hatched: no spec meets the brief.");
    }
    if answer.own.is_some() {
        said.push("The brief's own value is marked.");
    }
    said.join(" ")
}

/// The axis that curve and bands share.
fn axis(answer: &SweepAnswer) -> Markup {
    let ends = answer.points.first().zip(answer.points.last()).map_or((0.0, 0.0), |(a, b)| (a.at, b.at));
    let (low, high) = (ends.0.min(ends.1), ends.0.max(ends.1));
    let anchor = |x: f64| match x {
        x if x < 0.06 => "start",
        x if x > 0.94 => "end",
        _ => "middle",
    };
    html! {
        div.lane {
            span.what { (Said(&answer.moved)) " " small { (Said(&answer.unit)) } }
            svg width="100%" height="26" aria-hidden="true" focusable="false" {
                line.bed x1="0" x2="100%" y1="1" y2="1" {}
                @for at in marks(low, high, 4) {
                    @let x = place(answer, at);
                    line.tick x1=(across(x)) x2=(across(x)) y1="1" y2="7" {}
                    text.small x=(across(x)) y="21" text-anchor=(anchor(x)) { (value(at)) }
                }
            }
        }
    }
}

/// Every recipe along the way as a row; bold where a pour changes.
fn recipes(answer: &SweepAnswer, all: &[Stop], palette: &Palette, units: UnitSystem) -> Markup {
    let mut runs: Vec<&[Stop]> = all.chunk_by(Stop::same).collect();
    let count = runs.len();
    runs.truncate(ROWS);
    let names: Vec<&str> = palette.names().collect();
    html! {
        (sideways(&html! {
            table.matrix id="recipes-table" {
                caption { "The best spec along the way. Bold is poured differently from the row above, – is left out." }
                thead {
                    tr {
                        th scope="col" { (Said(&answer.moved)) " " small { (Said(&answer.unit)) } }
                        th scope="col" { (Said(&head(answer, units))) }
                        @for one in &names { th scope="col" { (palette.swatch(one)) " " (name(one)) } }
                    }
                }
                tbody {
                    @for (at, run) in runs.iter().enumerate() {
                        tr {
                            th scope="row" { (range(run)) }
                            td { (Said(&scores(answer, run, units))) }
                            @let above = at.checked_sub(1).and_then(|above| runs.get(above)?.last());
                            @for one in &names { (amount(run, above, one, units)) }
                        }
                    }
                }
            }
        }))
        @if count > ROWS { p.note { "The first " (ROWS) " of " (count) "." } }
    }
}

fn head(answer: &SweepAnswer, units: UnitSystem) -> String {
    let (head, unit) = words::score_column(&answer.aim, &answer.frame, units);
    if matches!(answer.aim.goal, AimGoal::Ingredient(_)) {
        answer.aim.of.clone()
    } else {
        format!("{head} {unit}").trim_end().to_owned()
    }
}

/// From where to where a recipe is the best.
fn range(run: &[Stop]) -> String {
    let ends = run.first().zip(run.last());
    ends.map_or_else(String::new, |(from, to)| words::span(value(from.at), &value(to.at)))
}

fn scores(answer: &SweepAnswer, run: &[Stop], units: UnitSystem) -> String {
    let score = |stop: Option<&Stop>| {
        stop.and_then(|stop| stop.spec)
            .map(|spec: &SpecLine| words::point_score(answer, Some(spec.score), units))
    };
    match (score(run.first()), score(run.last())) {
        (Some(from), Some(to)) => words::span(from, &to),
        (Some(from), None) => from,
        _ if run.iter().any(|stop| stop.stopped) => "stopped".to_owned(),
        _ => "no spec".to_owned(),
    }
}

fn amount(run: &[Stop], above: Option<&Stop>, ingredient: &str, units: UnitSystem) -> Markup {
    let stop = run.first();
    let pours = stop.and_then(|stop| stop.spec).into_iter().flat_map(|spec| &spec.pours);
    let Some(pour) = pours.into_iter().find(|p| p.ingredient == ingredient) else {
        return html! { td.none { "–" } };
    };
    let text = crate::quantity::number::pour(pour.amount(), units);
    let changed = above.is_some_and(|above| above.amount(ingredient).to_bits() != pour.amount.to_bits());
    html! { td { @if changed { b { (Said(&text)) } } @else { (Said(&text)) } } }
}
