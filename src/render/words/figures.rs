//! Figures of a gauge as people see them.

use crate::answer::{Frame, Gauge, Margin, Scale, SpecLine};
use crate::brief::{Measure, Side};
use crate::quantity::{Amount, UnitSystem, number};
use crate::tolerance;

/// How a volume is shown: in which unit, and with how many decimals.
fn ounces(gauge: &Gauge, units: UnitSystem) -> bool {
    gauge.scale == Scale::Volume && units == UnitSystem::UsOunces
}

/// The number of a figure, without its unit.
pub fn figure(gauge: &Gauge, value: f64, units: UnitSystem) -> String {
    if ounces(gauge, units) {
        number::fixed(number::in_ounces(value), 2)
    } else {
        number::fixed(value, gauge.digits)
    }
}

/// The unit that goes with [`figure`].
pub fn unit(gauge: &Gauge, units: UnitSystem) -> &str {
    if ounces(gauge, units) { "oz" } else { &gauge.unit }
}

/// A figure and its unit: `119.3 ml`.
pub fn with_unit(gauge: &Gauge, value: f64, units: UnitSystem) -> String {
    spaced(figure(gauge, value, units), unit(gauge, units))
}

/// A number and its unit, if it has one.
pub fn spaced(number: String, unit: &str) -> String {
    if unit.is_empty() { number } else { format!("{number} {unit}") }
}

/// From where to where: `8 to 9.25`; one where both are alike.
pub fn span(from: String, to: &str) -> String {
    if from == to { from } else { format!("{from} to {to}") }
}

/// Between which ends, of which either may be open; `any` where both are.
pub fn between(from: Option<String>, to: Option<String>, any: &str) -> String {
    match (from, to) {
        (Some(from), Some(to)) => format!("{from} to {to}"),
        (Some(from), None) => format!("from {from}"),
        (None, Some(to)) => format!("up to {to}"),
        (None, None) => any.to_owned(),
    }
}

/// The figures that nothing limits: `Not limited: energy 110 kcal, …`
pub fn unlimited_sentence(frame: &Frame, spec: &SpecLine, units: UnitSystem) -> Option<String> {
    let known = |g: &&Gauge| !g.limited() && !spec.served.get(&g.key).is_nan();
    let text = |g: &Gauge| format!("{} {}", g.label, with_unit(g, spec.served.get(&g.key), units));
    let all: Vec<String> = frame.gauges.iter().filter(known).map(text).collect();
    (!all.is_empty()).then(|| format!("Not limited: {}.", all.join(", ")))
}

/// What a figure of a key is called: its gauge's label, or the key.
pub fn label<'a>(frame: &'a Frame, key: &'a str) -> &'a str {
    frame.gauge(key).map_or(key, |gauge| gauge.label.as_str())
}

/// A limit as the brief writes it, without its unit.
pub fn limit(gauge: &Gauge, value: f64, units: UnitSystem) -> String {
    match gauge.measure {
        Measure::Cost => number::fixed(value, gauge.digits),
        _ if ounces(gauge, units) => number::trimmed(number::in_ounces(value), 2),
        _ if is_written(value) => number::trimmed(value, 3),
        // What is held is measured: as finely as its figure.
        _ => number::fixed(value, gauge.digits),
    }
}

/// Whether a limit has no more decimals than a person writes.
fn is_written(value: f64) -> bool {
    (value * 1e3).round() / 1e3 == value
}

/// What a gauge is limited to: `105 to 125`, `at most 1.6`, `exactly 0`.
pub fn range_words(gauge: &Gauge, units: UnitSystem) -> String {
    let text = |value| limit(gauge, value, units);
    match (gauge.min, gauge.max) {
        // One figure was asked for: what it was taken to mean is said with it.
        (Some(min), Some(max)) if gauge.about.is_some_and(|about| about > min && about < max) => {
            let about = gauge.about.map(text).unwrap_or_default();
            format!("about {about}: {} to {}", text(min), text(max))
        }
        (Some(min), Some(max)) if min == max => format!("exactly {}", text(min)),
        (Some(min), Some(max)) => format!("{} to {}", text(min), text(max)),
        (Some(min), None) => format!("at least {}", text(min)),
        (None, Some(max)) => format!("at most {}", text(max)),
        (None, None) => String::new(),
    }
}

/// The side of a gauge's limits that is nearest to the served value, or that is missed the most.
pub fn nearest_margin<'a>(gauge: &Gauge, margins: &'a [Margin]) -> Option<&'a Margin> {
    let own = margins.iter().filter(|m| m.target == gauge.key);
    own.min_by(|a, b| a.margin.total_cmp(&b.margin))
}

/// How a served value stands to the limit that is nearest to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Nobody knows the value.
    Unknown,
    /// It is missed.
    Missed,
    /// It is met, and next to it.
    Edge,
    /// It is met with room to spare.
    Inside,
}

/// A value that is nearer to its limit than this share of its range sits at its edge: our own judgement, no source.
const EDGE: f64 = 0.05;

/// How wide the range of a gauge is; where one side is open, as much as the limit itself.
fn width(gauge: &Gauge, margin: &Margin) -> f64 {
    gauge.min.zip(gauge.max).map_or(margin.limit.abs(), |(min, max)| max - min)
}

/// How a value stands to a limit.
pub fn standing(gauge: &Gauge, margin: &Margin) -> Standing {
    if margin.value.is_nan() {
        Standing::Unknown
    } else if !margin.met {
        Standing::Missed
    } else if gauge.min.is_some() && gauge.min == gauge.max {
        Standing::Inside
    } else if margin.margin.abs() <= EDGE * width(gauge, margin) {
        Standing::Edge
    } else {
        Standing::Inside
    }
}

/// How far a limit is away: `0.4 under max`, `at min`, `misses by 2.0`.
pub fn margin_words(gauge: &Gauge, margin: &Margin, units: UnitSystem) -> String {
    let (side, away) = (margin.side.keyword(), figure(gauge, margin.margin.abs(), units));
    let (inside, beyond) = match margin.side {
        Side::Min => ("over", "under"),
        Side::Max => ("under", "over"),
    };
    match standing(gauge, margin) {
        Standing::Unknown => "not known".to_owned(),
        Standing::Missed => {
            format!("MISS: {} {beyond} {side}", finer(gauge, margin.margin.abs(), units))
        }
        _ if gauge.min.is_some() && gauge.min == gauge.max => "as asked".to_owned(),
        _ if margin.margin.abs() <= tolerance::MET * margin.limit.abs() => format!("at {side}"),
        _ if is_zero(&away) => format!("just {inside} {side}"),
        Standing::Edge | Standing::Inside => format!("{away} {inside} {side}"),
    }
}

/// A figure with as many decimals as it takes to show that it is not zero, up to six.
pub fn finer(gauge: &Gauge, value: f64, units: UnitSystem) -> String {
    let shown = figure(gauge, value, units);
    if !is_zero(&shown) {
        return shown;
    }
    let value = if ounces(gauge, units) { number::in_ounces(value) } else { value };
    let more = (gauge.digits + 1..=6).map(|digits| number::fixed(value, digits)).find(|t| !is_zero(t));
    more.unwrap_or_else(|| "a hair".to_owned())
}

fn is_zero(text: &str) -> bool {
    text.bytes().all(|b| b == b'0' || b == b'.')
}

/// The number and the unit of a pour apart, to be set in columns: `("22.5", "ml")`.
pub fn amount_digits(amount: Amount, units: UnitSystem) -> (String, String) {
    let text = number::pour(amount, units);
    match text.rsplit_once(' ') {
        Some((number, unit)) => (number.to_owned(), unit.to_owned()),
        None => (text, String::new()),
    }
}
