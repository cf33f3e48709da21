//! Every limited figure as a strip: what is asked for, what is served, how far serves stray, and why.

use maud::{Markup, html};

use super::picture::{Said, across, coordinate as c, name};
use crate::answer::{Frame, Gauge, Margin, SpecLine};
use crate::explain::variation::certainty::Certainty;
use crate::explain::variation::{Service, TargetService};
use crate::quantity::UnitSystem;
use crate::render::words::{self, Standing};

const HEIGHT: f64 = 40.0;
/// Top and bottom of the channel.
const CHANNEL: (f64, f64) = (6.0, 22.0);
/// Fewer serves within a target than this are worth a second look.
const OFTEN: f64 = 0.9;
/// Where shares are not known: less room than this, for the size of the range, is little.
const LITTLE: f64 = 0.05;

/// The class of a row by how its figure stands to its limits.
pub fn class(standing: Standing) -> &'static str {
    match standing {
        Standing::Inside => "strip met",
        Standing::Edge => "strip edge",
        Standing::Missed | Standing::Unknown => "strip missed",
    }
}

/// How far the figures of a spec may stray, where that is known.
#[derive(Debug, Clone, Copy, Default)]
pub struct Strays<'a> {
    /// In a simulated service.
    pub service: Option<&'a Service>,
    /// Over all compositions.
    pub certainty: Option<&'a Certainty>,
    /// The spec that the drink comes from.
    pub reference: Option<&'a SpecLine>,
}

impl<'a> Strays<'a> {
    fn target(&self, key: &str) -> Option<&'a TargetService> {
        self.service?.targets.iter().find(|t| t.target == key)
    }

    fn at_worst(&self, key: &str) -> Option<[f64; 2]> {
        self.certainty?.reach.iter().find(|r| r.target == key).map(|r| [r.min, r.max])
    }
}

/// One figure beside its limits.
pub struct Row<'a> {
    /// What is measured.
    pub gauge: &'a Gauge,
    /// What is served; NaN where nothing is.
    pub value: f64,
    /// The room to the nearest limit, in words.
    pub margin: String,
    /// How it stands to its limits.
    pub standing: Standing,
    /// How it does in service, where that is known.
    pub target: Option<&'a TargetService>,
    worst: Option<[f64; 2]>,
    reference: Option<f64>,
}

/// The strips of a spec; `id` is its place among the specs of the page.
pub fn strips(frame: &Frame, spec: &SpecLine, strays: Strays, id: usize, units: UnitSystem) -> Markup {
    let rows: Vec<Row> = frame
        .gauges
        .iter()
        .filter(|g| g.limited())
        .map(|gauge| Row::of(gauge, spec, strays, units))
        .collect();
    html! {
        figure.strips id=(format!("strips-{id}")) {
            ul { @for row in &rows { (row.write(units)) } }
            figcaption {
                "Posts: what is asked for. Mark: what is served."
                @if rows.iter().any(|r| r.target.is_some_and(|t| t.spread.is_some())) { " Bar: nine of ten serves; beside it, how many hold, and what it varies with." }
                @if rows.iter().any(|r| r.worst.is_some()) { " Dots: any natural composition." }
                @if rows.iter().any(|r| r.reference.is_some()) { " Hollow: the reference." }
                @if let Some(free) = words::unlimited_sentence(frame, spec, units) { " " (Said(&free)) }
            }
        }
    }
}

/// The room to the nearest limit, in parts of the range or, with one side, of the limit.
fn room(gauge: &Gauge, margin: &Margin) -> f64 {
    let size = gauge.min.zip(gauge.max).map_or(margin.limit.abs(), |(min, max)| max - min);
    if size > 0.0 { margin.margin / size } else { 1.0 }
}

impl<'a> Row<'a> {
    /// The figure of a spec.
    pub fn of(gauge: &'a Gauge, spec: &SpecLine, strays: Strays<'a>, units: UnitSystem) -> Self {
        let nearest = words::nearest_margin(gauge, &spec.margins);
        let target = strays.target(&gauge.key);
        // One measure decides what stands out, so that no two marks say two things.
        let standing = match (nearest, target) {
            (Some(m), _) if !m.met => Standing::Missed,
            (_, Some(target)) if target.within < OFTEN => Standing::Edge,
            (Some(m), None) if room(gauge, m) < LITTLE => Standing::Edge,
            _ => Standing::Inside,
        };
        Row {
            gauge,
            value: spec.served.get(&gauge.key),
            margin: nearest.map_or_else(String::new, |m| words::margin_words(gauge, m, units)),
            standing,
            target,
            worst: strays.at_worst(&gauge.key),
            reference: strays.reference.map(|r| r.served.get(&gauge.key)).filter(|v| !v.is_nan()),
        }
    }

    /// The limits alone, where nothing can be poured.
    pub fn empty(gauge: &'a Gauge) -> Self {
        let (value, margin, standing) = (f64::NAN, String::new(), Standing::Missed);
        Row { gauge, value, margin, standing, target: None, worst: None, reference: None }
    }

    fn write(&self, units: UnitSystem) -> Markup {
        let unit = words::unit(self.gauge, units);
        html! {
            li class=(class(self.standing)) {
                span.what { (name(&self.gauge.label)) }
                (self.drawing(&self.axis(), units))
                span.unseen { "asked for: " (Said(&words::range_words(self.gauge, units))) " " (unit) "; served: " }
                span.figure { (words::figure(self.gauge, self.value, units)) " " small { (name(unit)) } }
                span.margin { (self.margin) }
                @if let Some(target) = self.target {
                    span.share {
                        span { (words::hundredths(target.within)) " of 100" span.unseen { " serves hold" } }
                        small { (Said(&words::varies_with(target))) }
                    }
                }
            }
        }
    }

    fn figures(&self) -> Vec<f64> {
        let ends = self.target.and_then(|t| t.spread).into_iter().chain(self.worst).flatten();
        std::iter::once(self.value).chain(self.reference).chain(ends).collect()
    }

    /// A strip that shows all of it.
    pub fn axis(&self) -> Axis {
        Axis::of(self.gauge, &self.figures())
    }

    /// The strip on an axis.
    pub fn drawing(&self, axis: &Axis, units: UnitSystem) -> Markup {
        drawing(&html! { (channel(self.gauge, axis, units)) (self.marks(axis)) })
    }

    /// What is served and how far it strays, to be laid over the channel.
    pub fn marks(&self, axis: &Axis) -> Markup {
        let served = self.target.and_then(|t| t.spread);
        html! {
            @if let Some(worst) = self.worst { (stray(axis, worst, "stray worst")) }
            @if let Some(served) = served { (stray(axis, served, "stray")) }
            @if let Some(reference) = self.reference { (mark(axis.place(reference), "moored", "M0-8L5 0L0 8L-5 0Z")) }
            @if !self.value.is_nan() {
                @if self.standing == Standing::Missed { (mark(axis.place(self.value), "cross", "M-6-6L6 6M6-6L-6 6")) }
                @else { (mark(axis.place(self.value), "float", "M0-11L6 0L0 11L-6 0Z")) }
            }
        }
    }
}

/// A drawing as wide as there is room.
pub fn drawing(inside: &Markup) -> Markup {
    html! { svg width="100%" height=(c(HEIGHT)) aria-hidden="true" focusable="false" { (inside) } }
}

/// From where to where a strip reaches.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Axis {
    /// Where it begins.
    pub low: f64,
    /// Where it ends.
    pub high: f64,
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
        (gauge.max.filter(|_| gauge.min != gauge.max), right, if near { "start" } else { "middle" }),
    ];
    html! {
        rect x="0" y=(c(top)) width="100%" height=(c(bottom - top)) fill="url(#fill-out)" {}
        rect.water x=(across(left)) y=(c(top)) width=(across(right - left)) height=(c(bottom - top)) {}
        @for (limit, place, anchor) in posts {
            @if let Some(limit) = limit {
                line.post x1=(across(place)) x2=(across(place)) y1=(c(top - 3.0)) y2=(c(bottom + 3.0)) {}
                text.small x=(across(place)) y=(c(bottom + 16.0)) text-anchor=(anchor) { (words::limit(gauge, limit, units)) }
            }
        }
    }
}

fn mark(place: f64, class: &str, path: &str) -> Markup {
    html! {
        svg.afloat x=(across(place)) y=(c(f64::midpoint(CHANNEL.0, CHANNEL.1))) overflow="visible" { path class=(class) d=(path) {} }
    }
}

/// From where to where a figure strays, with a cap at each end.
fn stray(axis: &Axis, [low, high]: [f64; 2], class: &str) -> Markup {
    let middle = f64::midpoint(CHANNEL.0, CHANNEL.1);
    let (left, right) = (across(axis.place(low)), across(axis.place(high)));
    html! {
        g class=(class) {
            line x1=(left) x2=(right) y1=(c(middle)) y2=(c(middle)) {}
            @for end in [&left, &right] { line.cap x1=(end) x2=(end) y1=(c(middle - 5.0)) y2=(c(middle + 5.0)) {} }
        }
    }
}
