//! The trade-off curve: the best score over the value that moves.

use maud::{Markup, html};

use super::lane::{gaps, through};
use super::picture::{Said, across, coordinate as c, courses, marks, reach};
use super::way::{Stop, own, with_unit};
use crate::answer::SweepAnswer;
use crate::quantity::UnitSystem;
use crate::render::words;

const HEIGHT: f64 = 220.0;
/// Between them the scores are drawn.
const TOP: f64 = 34.0;
const FOOT: f64 = 206.0;
/// More points than this are a line.
const DOTS: usize = 70;
/// More corners than this are finer than a drawing.
const CORNERS: usize = 300;

/// How the drawing measures scores.
struct Scale {
    low: f64,
    high: f64,
}

impl Scale {
    fn of(all: &[Stop]) -> Self {
        let scores = all.iter().filter_map(|stop| Some(stop.spec?.score)).filter(|s| s.is_finite());
        let (low, high) = reach(scores);
        Self { low, high }
    }

    fn y(&self, score: f64) -> f64 {
        let share = (score - self.low) / (self.high - self.low);
        let share = if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.5 };
        FOOT - (FOOT - TOP) * share
    }

    /// Scores at which a line is drawn across.
    fn marks(&self) -> Vec<f64> {
        let length = self.high - self.low;
        if !(length.is_finite() && length > 1e-9 * self.high.abs()) {
            return vec![self.low];
        }
        marks(self.low, self.high, 5)
    }
}

/// Draws the curve as the first lane of the figure.
pub fn curve(answer: &SweepAnswer, all: &[Stop], units: UnitSystem) -> Markup {
    let scale = Scale::of(all);
    let head = words::curve_words(answer, units);
    html! {
        div.lane {
            span.what { (Said(head.split(':').next().unwrap_or_default())) }
            svg width="100%" height=(c(HEIGHT)) aria-hidden="true" focusable="false" {
                rect.water x="2%" y="0" width="96%" height=(c(HEIGHT)) {}
                @for mark in scale.marks() {
                    line.grid x1="2%" x2="98%" y1=(c(scale.y(mark))) y2=(c(scale.y(mark))) {}
                }
                (gaps(all, HEIGHT))
                (through(answer, HEIGHT))
                (line(all, &scale))
                (dots(all, &scale))
                @for mark in scale.marks() {
                    text.small.halo x="2.4%" y=(c(scale.y(mark) - 4.0)) { (Said(&words::point_score(answer, Some(mark), units))) }
                }
                @if let (Some(x), Some(value)) = (own(answer), answer.own) {
                    @let anchor = if x < 0.5 { "start" } else { "end" };
                    text.small.halo.asked x=(across(x)) dx=(if x < 0.5 { "4" } else { "-4" }) y="14" text-anchor=(anchor) {
                        "brief: " (Said(&with_unit(answer, value)))
                    }
                }
            }
        }
    }
}

/// The scores as lines, broken where no spec meets the brief.
fn line(all: &[Stop], scale: &Scale) -> Markup {
    let every = all.len().div_ceil(CORNERS).max(1);
    let lines = all.split(|stop| stop.spec.is_none()).map(|run| {
        let last = run.len().saturating_sub(1);
        let kept = run.iter().enumerate().filter(|(at, _)| at % every == 0 || *at == last);
        kept.filter_map(|(_, stop)| Some((stop.x, scale.y(stop.spec?.score)))).collect()
    });
    courses(&lines.collect::<Vec<_>>(), HEIGHT)
}

fn dots(all: &[Stop], scale: &Scale) -> Markup {
    html! {
        @if all.len() <= DOTS {
            @for stop in all {
                @if let Some(spec) = stop.spec.filter(|spec| spec.score.is_finite()) {
                    circle.spot cx=(across(stop.x)) cy=(c(scale.y(spec.score))) r="3" {}
                }
            }
        }
    }
}
