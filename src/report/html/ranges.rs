//! Every target as a channel between two posts, with the served figure afloat in it.

use maud::{Markup, html};

use super::picture::{Room, Said, Told, across, behind, coordinate as c, name, picture, table};
use crate::quantity::UnitSystem;
use crate::report::gather::{Frame, Gauge, Margin, SpecLine};
use crate::report::words;

const HEIGHT: f64 = 48.0;
/// Top and bottom of the channel.
const CHANNEL: (f64, f64) = (8.0, 26.0);

/// How a figure stands to its limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Standing {
    Met,
    Edge,
    Missed,
}

impl Standing {
    fn class(self) -> &'static str {
        match self {
            Self::Met => "met",
            Self::Edge => "edge",
            Self::Missed => "missed",
        }
    }
}

/// One figure beside its limits.
struct Row<'a> {
    gauge: &'a Gauge,
    value: f64,
    margin: String,
    standing: Standing,
    units: UnitSystem,
}

/// What one sentence says about all of them.
pub fn answer(frame: &Frame, spec: &SpecLine, units: UnitSystem) -> String {
    let rows = rows(frame, spec, units);
    let missed: Vec<&str> =
        rows.iter().filter(|r| r.standing == Standing::Missed).map(|r| r.gauge.label.as_str()).collect();
    if !missed.is_empty() {
        return format!("No: it misses {}.", words::listed(&missed));
    }
    match nearest(frame, spec) {
        Some((gauge, margin)) => {
            let words = words::margin_words(gauge, margin, units);
            format!(
                "Yes, every figure that has a limit. The least room, for its size, has {}: {words}.",
                gauge.label
            )
        }
        None => "The brief limits nothing.".to_owned(),
    }
}

/// The limit with the least room: in parts of its range where it has two sides, else of the limit itself.
fn nearest<'a>(frame: &'a Frame, spec: &'a SpecLine) -> Option<(&'a Gauge, &'a Margin)> {
    let share = |gauge: &Gauge, margin: &Margin| {
        let size = gauge.min.zip(gauge.max).map_or(margin.limit.abs(), |(min, max)| max - min);
        if size > 0.0 { margin.margin / size } else { 0.0 }
    };
    let limited = frame.gauges.iter().filter(|g| g.limited());
    limited
        .filter_map(|g| Some((g, words::nearest_margin(g, &spec.margins)?)))
        .min_by(|a, b| share(a.0, a.1).total_cmp(&share(b.0, b.1)))
}

/// Draws every limited figure, names the others, and gives the table.
pub fn figure(frame: &Frame, spec: &SpecLine, id: &str, units: UnitSystem) -> Markup {
    let rows = rows(frame, spec, units);
    html! {
        figure.ranges {
            ul.strips {
                @for (at, row) in rows.iter().enumerate() {
                    li class=(format!("strip {}", row.standing.class())) {
                        span.what { (name(&row.gauge.label)) }
                        (picture("pic-range", Room::Strip(HEIGHT), &row.told(&format!("{id}-{at}")), &row.drawing()))
                        span.figure { (words::figure(row.gauge, row.value, units)) " " small { (name(words::unit(row.gauge, units))) } }
                        span.margin { (row.margin) }
                    }
                }
            }
            figcaption {
                "Between the posts is what the brief asks for; the float is what is served. Hatched is outside."
                (free(frame, spec, units))
            }
            (behind(&as_table(&rows, units)))
        }
    }
}

fn free(frame: &Frame, spec: &SpecLine, units: UnitSystem) -> Markup {
    let value = |g: &Gauge| spec.served.get(&g.key);
    let free = frame.gauges.iter().filter(|g| !g.limited() && !value(g).is_nan());
    let free: Vec<String> =
        free.map(|g| format!("{} {}", g.label, words::with_unit(g, value(g), units))).collect();
    html! { @if !free.is_empty() { " Not limited: " (Said(&free.join(", "))) "." } }
}

fn rows<'a>(frame: &'a Frame, spec: &SpecLine, units: UnitSystem) -> Vec<Row<'a>> {
    let row = |gauge: &'a Gauge| {
        let nearest = words::nearest_margin(gauge, &spec.margins);
        let margin = nearest.map_or_else(String::new, |m| words::margin_words(gauge, m, units));
        let standing = match nearest {
            Some(m) if !m.met => Standing::Missed,
            Some(_) if margin.starts_with("at ") || margin.starts_with("just ") => Standing::Edge,
            _ => Standing::Met,
        };
        Row { gauge, value: spec.served.get(&gauge.key), margin, standing, units }
    };
    frame.gauges.iter().filter(|g| g.limited()).map(row).collect()
}

fn as_table(rows: &[Row], units: UnitSystem) -> Markup {
    let cells: Vec<Vec<String>> = rows
        .iter()
        .map(|row| {
            vec![
                row.gauge.label.clone(),
                words::with_unit(row.gauge, row.value, units),
                words::range_words(row.gauge, units),
                row.margin.clone(),
            ]
        })
        .collect();
    table("Figures of the drink as served", &["figure", "served", "asked for", "margin"], &cells)
}

/// From where to where a strip reaches.
pub struct Axis {
    low: f64,
    high: f64,
}

impl Axis {
    /// A strip that shows both limits, some of what is outside, and every one of these figures.
    pub fn of(gauge: &Gauge, figures: &[f64]) -> Self {
        let (low, high) = match (gauge.min, gauge.max) {
            (Some(min), Some(max)) => {
                let room = 0.3 * (max - min).max(0.1 * max.abs());
                (min - room, max + room)
            }
            (Some(min), None) => (0.0_f64.min(min), 2.0 * min.abs()),
            (None, Some(max)) => (0.0_f64.min(max), 1.25 * max),
            (None, None) => (0.0, 0.0),
        };
        let known = figures.iter().copied().filter(|f| f.is_finite());
        let (least, most) = known.fold((low, high), |(l, h), f| (l.min(f), h.max(f)));
        let least = if low >= 0.0 || gauge.min.is_some_and(|m| m >= 0.0) { least.max(0.0) } else { least };
        let room = if most > least { 0.05 * (most - least) } else { 1.0 };
        Self { low: least - room, high: most + room }
    }

    /// Where a figure stands, as a share of the strip.
    pub fn place(&self, figure: f64) -> f64 {
        ((figure - self.low) / (self.high - self.low)).clamp(0.0, 1.0)
    }
}

/// The channel of a gauge with its posts and their figures.
pub fn channel(gauge: &Gauge, axis: &Axis, units: UnitSystem) -> Markup {
    let (top, bottom) = CHANNEL;
    let left = gauge.min.map_or(0.0, |m| axis.place(m));
    let right = gauge.max.map_or(1.0, |m| axis.place(m));
    let near = right - left < 0.3;
    let posts = [
        (gauge.min, left, if near { "end" } else { "middle" }),
        (gauge.max, right, if near { "start" } else { "middle" }),
    ];
    html! {
        rect x="0" y=(c(top)) width="100%" height=(c(bottom - top)) fill="url(#fill-out)" {}
        rect.water x=(across(left)) y=(c(top)) width=(across(right - left)) height=(c(bottom - top)) {}
        @for (limit, place, anchor) in posts {
            @if let Some(limit) = limit {
                line.post x1=(across(place)) x2=(across(place)) y1=(c(top - 4.0)) y2=(c(bottom + 4.0)) {}
                text.small x=(across(place)) y=(c(bottom + 19.0)) text-anchor=(anchor) {
                    (words::limit(gauge, limit, units))
                }
            }
        }
    }
}

/// The float that marks a figure: a lozenge inside, a cross outside.
fn afloat(place: f64, standing: Standing) -> Markup {
    let middle = f64::midpoint(CHANNEL.0, CHANNEL.1);
    html! {
        svg.afloat x=(across(place)) y=(c(middle)) overflow="visible" {
            @if standing == Standing::Missed {
                path.cross d="M-7-7L7 7M7-7L-7 7" {}
            } @else {
                path.float d="M0-13L7 0L0 13L-7 0Z" {}
            }
        }
    }
}

impl Row<'_> {
    fn drawing(&self) -> Markup {
        let axis = Axis::of(self.gauge, &[self.value]);
        html! {
            (channel(self.gauge, &axis, self.units))
            @if !self.value.is_nan() { (afloat(axis.place(self.value), self.standing)) }
        }
    }

    fn told(&self, id: &str) -> Told {
        let unit = words::unit(self.gauge, self.units);
        Told {
            id: id.to_owned(),
            title: format!("{} beside its limits", self.gauge.label),
            text: format!(
                "Served {}; asked for: {} {unit}; {}.",
                words::with_unit(self.gauge, self.value, self.units),
                words::range_words(self.gauge, self.units),
                self.margin
            ),
        }
    }
}
