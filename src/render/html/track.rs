//! The track of a drink: sugar against acid, from the drink that it comes from over what was kept and tasted to the
//! present best. The list beside it says the same in words.

use maud::{Markup, html};

use super::picture::{Said, across, coordinate as c, courses, marks, name, reach};
use crate::answer::{Frame, Gauge, Stand, TrackPoint};
use crate::quantity::UnitSystem;
use crate::quantity::number::trimmed;
use crate::render::words;

const HEIGHT: f64 = 280.0;
/// Between them points are drawn.
const TOP: f64 = 16.0;
const FOOT: f64 = 250.0;
const LEFT: f64 = 0.06;
const RIGHT: f64 = 0.97;
/// So much of the way between its ends is left free on either side.
const MARGIN: f64 = 0.08;

/// From where to where a figure goes.
struct Scale {
    low: f64,
    high: f64,
}

impl Scale {
    /// Over all figures of the points, and the limits on them.
    fn of(values: impl Iterator<Item = f64>, gauge: Option<&Gauge>) -> Self {
        let limits = gauge.into_iter().flat_map(|gauge| [gauge.min, gauge.max]).flatten();
        let (low, high) = reach(values.chain(limits));
        let margin = (MARGIN * (high - low)).max(0.01 * high.abs()).max(1e-6);
        Self { low: (low - margin).max(0.0), high: high + margin }
    }

    fn share(&self, value: f64) -> f64 {
        ((value - self.low) / (self.high - self.low)).clamp(0.0, 1.0)
    }

    /// Where lines are drawn, a few at round figures.
    fn marks(&self) -> Vec<f64> {
        marks(self.low, self.high, 5)
    }
}

/// The drawing and its list; nothing where there is no track.
pub fn figure(frame: &Frame, track: &[TrackPoint], units: UnitSystem) -> Option<Markup> {
    let (sugar, acid) = (frame.gauge("sugar")?, frame.gauge("acid")?);
    if track.is_empty() {
        return None;
    }
    let up = Scale::of(track.iter().map(|point| point.sugar), Some(sugar));
    let along = Scale::of(track.iter().map(|point| point.acid), Some(acid));
    let x = |value: f64| LEFT + (RIGHT - LEFT) * along.share(value);
    let y = |value: f64| FOOT - (FOOT - TOP) * up.share(value);
    let limits = (
        (x(acid.min.unwrap_or(along.low)), x(acid.max.unwrap_or(along.high))),
        (y(sugar.max.unwrap_or(up.high)), y(sugar.min.unwrap_or(up.low))),
    );
    let ((left, right), (top, foot)) = limits;
    // The way goes over what has a name of its own: glasses of a flight stand beside it.
    let way = track.iter().filter(|point| on_the_way(point));
    let way: Vec<(f64, f64)> = way.map(|point| (x(point.acid), y(point.sugar))).collect();
    Some(html! {
        figure id="track-figure" {
            svg width="100%" height=(c(HEIGHT)) aria-hidden="true" focusable="false" {
                rect.water x=(across(left)) y=(c(top)) width=(across((right - left).max(0.0))) height=(c((foot - top).max(0.0))) {}
                @for mark in up.marks() {
                    line.grid x1=(across(LEFT)) x2=(across(RIGHT)) y1=(c(y(mark))) y2=(c(y(mark))) {}
                    text.small.halo x="0" y=(c(y(mark) + 4.0)) { (trimmed(mark, 3)) }
                }
                @for mark in along.marks() {
                    line.tick x1=(across(x(mark))) x2=(across(x(mark))) y1=(c(FOOT)) y2=(c(FOOT + 5.0)) {}
                    text.small x=(across(x(mark))) y=(c(FOOT + 18.0)) text-anchor="middle" { (trimmed(mark, 3)) }
                }
                (courses(&[way], HEIGHT))
                @for (at, point) in track.iter().enumerate() {
                    @let best = point.kind == Stand::Best;
                    circle.spot[!best].float[best] cx=(across(x(point.acid))) cy=(c(y(point.sugar))) r=(if best { "7" } else { "5" }) {}
                    text.halo x=(across(x(point.acid))) y=(c(y(point.sugar) - 8.0)) dx="7" { (at + 1) }
                }
            }
            figcaption {
                "Sugar in " (Said(words::unit(sugar, units))) " upwards, acid in " (Said(words::unit(acid, units)))
                " to the right; what the brief asks for is filled. What was said are tasters' words: the program tastes nothing."
            }
        }
        ol.points {
            @for point in track {
                li { (name(&point.name)) (Said(&told(point, sugar, acid, units))) }
            }
        }
    })
}

/// Whether it is a step of the drink, and no glass of a flight.
fn on_the_way(point: &TrackPoint) -> bool {
    !(point.glass || point.kind == Stand::Tasted)
}

/// `, 2026-11-24: sugar 72.2 g/L, acid 7.19 g/L. Sweet right: "…"`
fn told(point: &TrackPoint, sugar: &Gauge, acid: &Gauge, units: UnitSystem) -> String {
    let date = point.date.as_ref().map_or_else(String::new, |date| format!(", {date}"));
    let said: Vec<String> = point
        .tastings
        .iter()
        .map(words::tasted)
        .filter(|text| !text.is_empty())
        .map(|text| format!(" {}.", words::upper_first(&text)))
        .collect();
    format!(
        "{date}: sugar {}, acid {}.{}",
        words::with_unit(sugar, point.sugar, units),
        words::with_unit(acid, point.acid, units),
        said.concat()
    )
}
