//! Every target as a channel between two posts, with the served figure afloat in it.

use maud::{Markup, html};

use super::picture::{Room, Said, Told, across, behind, coordinate as c, name, picture, table};
use crate::quantity::UnitSystem;
use crate::report::gather::{CertaintyLine, Frame, Gauge, Margin, ServiceLine, SpecLine};
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

/// How far the figures of a spec may stray, where that is known.
#[derive(Debug, Clone, Copy, Default)]
pub struct Strays<'a> {
    /// In a simulated service.
    pub service: Option<&'a ServiceLine>,
    /// Over all compositions.
    pub certainty: Option<&'a CertaintyLine>,
    /// The spec that the drink comes from.
    pub reference: Option<&'a SpecLine>,
}

impl Strays<'_> {
    fn in_service(&self, key: &str) -> Option<[f64; 2]> {
        self.service?.targets.iter().find(|t| t.target == key)?.spread
    }

    fn at_worst(&self, key: &str) -> Option<[f64; 2]> {
        self.certainty?.reach.iter().find(|r| r.target == key).map(|r| [r.min, r.max])
    }
}

/// One figure beside its limits.
struct Row<'a> {
    gauge: &'a Gauge,
    value: f64,
    margin: String,
    standing: Standing,
    served: Option<[f64; 2]>,
    worst: Option<[f64; 2]>,
    reference: Option<f64>,
    units: UnitSystem,
}

/// What one sentence says about all of them.
pub fn answer(frame: &Frame, spec: &SpecLine, units: UnitSystem) -> String {
    let rows = rows(frame, spec, Strays::default(), units);
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
pub fn figure(frame: &Frame, spec: &SpecLine, strays: Strays, id: &str, units: UnitSystem) -> Markup {
    let rows = rows(frame, spec, strays, units);
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
                @if rows.iter().any(|r| r.served.is_some()) { " The bar through the float spans nine of ten simulated serves." }
                @if rows.iter().any(|r| r.worst.is_some()) { " The dots span whatever the ingredients hold in their natural ranges." }
                @if rows.iter().any(|r| r.reference.is_some()) { " The hollow mark is the reference." }
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

fn rows<'a>(frame: &'a Frame, spec: &SpecLine, strays: Strays, units: UnitSystem) -> Vec<Row<'a>> {
    let row = |gauge: &'a Gauge| {
        let nearest = words::nearest_margin(gauge, &spec.margins);
        let margin = nearest.map_or_else(String::new, |m| words::margin_words(gauge, m, units));
        let standing = match nearest {
            Some(m) if !m.met => Standing::Missed,
            Some(_) if margin.starts_with("at ") || margin.starts_with("just ") => Standing::Edge,
            _ => Standing::Met,
        };
        let value = spec.served.get(&gauge.key);
        let (served, worst) = (strays.in_service(&gauge.key), strays.at_worst(&gauge.key));
        let reference = strays.reference.map(|r| r.served.get(&gauge.key)).filter(|v| !v.is_nan());
        Row { gauge, value, margin, standing, served, worst, reference, units }
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
                row.span_words(row.served),
                row.span_words(row.worst),
                row.reference.map_or_else(String::new, |r| words::figure(row.gauge, r, units)),
            ]
        })
        .collect();
    let mut heads =
        vec!["figure", "served", "asked for", "margin", "nine of ten serves", "any composition", "reference"];
    let mut cells = cells;
    // What is known of none takes no column.
    for at in [6, 5, 4] {
        if cells.iter().all(|row| row[at].is_empty()) {
            heads.remove(at);
            cells.iter_mut().for_each(|row| drop(row.remove(at)));
        }
    }
    table("Figures of the drink as served", &heads, &cells)
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

/// The hollow mark of the reference.
fn moored(place: f64) -> Markup {
    let middle = f64::midpoint(CHANNEL.0, CHANNEL.1);
    html! {
        svg.afloat x=(across(place)) y=(c(middle)) overflow="visible" { path.moored d="M0-10L5.5 0L0 10L-5.5 0Z" {} }
    }
}

/// From where to where a figure strays, with a cap at each end.
fn stray(axis: &Axis, [low, high]: [f64; 2], class: &str, cap: f64) -> Markup {
    let middle = f64::midpoint(CHANNEL.0, CHANNEL.1);
    let (left, right) = (across(axis.place(low)), across(axis.place(high)));
    html! {
        g class=(format!("stray {class}")) {
            line x1=(left) x2=(right) y1=(c(middle)) y2=(c(middle)) {}
            @for end in [&left, &right] { line.cap x1=(end) x2=(end) y1=(c(middle - cap)) y2=(c(middle + cap)) {} }
        }
    }
}

impl Row<'_> {
    fn drawing(&self) -> Markup {
        let ends = self.served.into_iter().chain(self.worst).flatten();
        let figures: Vec<f64> = std::iter::once(self.value).chain(self.reference).chain(ends).collect();
        let axis = Axis::of(self.gauge, &figures);
        html! {
            (channel(self.gauge, &axis, self.units))
            @if let Some(worst) = self.worst { (stray(&axis, worst, "worst", 3.0)) }
            @if let Some(served) = self.served { (stray(&axis, served, "served", 5.0)) }
            @if let Some(reference) = self.reference { (moored(axis.place(reference))) }
            @if !self.value.is_nan() { (afloat(axis.place(self.value), self.standing)) }
        }
    }

    fn told(&self, id: &str) -> Told {
        let unit = words::unit(self.gauge, self.units);
        Told {
            id: id.to_owned(),
            title: format!("{} beside its limits", self.gauge.label),
            text: format!(
                "Served {}; asked for: {} {unit}; {}{}.",
                words::with_unit(self.gauge, self.value, self.units),
                words::range_words(self.gauge, self.units),
                self.margin,
                match self.served {
                    Some(_) => format!("; nine of ten serves lie between {}", self.span_words(self.served)),
                    None => String::new(),
                }
            ),
        }
    }

    fn span_words(&self, span: Option<[f64; 2]>) -> String {
        let figure = |value: f64| words::figure(self.gauge, value, self.units);
        span.map_or_else(String::new, |[low, high]| format!("{} and {}", figure(low), figure(high)))
    }
}
