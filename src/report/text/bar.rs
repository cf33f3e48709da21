//! A range in plain characters, with the served value in its place.

use crate::report::gather::Gauge;

/// Draws a gauge's range over `columns` columns (at least 7): `[----o----]` where both sides are limited,
/// `<----o----]` and `[----o---->` where one is open, and an `x` in place of the end that is missed.
pub fn draw(gauge: &Gauge, value: f64, columns: usize) -> String {
    let inner = columns.saturating_sub(2).max(3);
    let (left, right) = ends(gauge);
    let line = "-".repeat(inner);
    match place(gauge, value) {
        Place::Unknown => format!("{left}{line}{right}"),
        Place::Under => format!("x{line}{right}"),
        Place::Over => format!("{left}{line}x"),
        Place::Inside(share) => {
            let before = (share * (inner - 1) as f64).round() as usize;
            let after = (inner - 1).saturating_sub(before);
            format!("{left}{}o{}{right}", "-".repeat(before), "-".repeat(after))
        }
    }
}

fn ends(gauge: &Gauge) -> (char, char) {
    (if gauge.min.is_some() { '[' } else { '<' }, if gauge.max.is_some() { ']' } else { '>' })
}

enum Place {
    Unknown,
    Under,
    Over,
    /// 0 at the left end, 1 at the right one.
    Inside(f64),
}

/// Where the value stands. An open side has no end to measure to: over a lower limit the mark is half
/// way along at twice the limit; under an upper limit the bar starts at nothing.
fn place(gauge: &Gauge, value: f64) -> Place {
    use crate::tolerance::{meets_max, meets_min};
    if value.is_nan() {
        return Place::Unknown;
    }
    if gauge.min.is_some_and(|min| !meets_min(value, min)) {
        return Place::Under;
    }
    if gauge.max.is_some_and(|max| !meets_max(value, max)) {
        return Place::Over;
    }
    let share = match (gauge.min, gauge.max) {
        (Some(min), Some(max)) if max > min => (value - min) / (max - min),
        (None, Some(max)) if max > 0.0 => value / max,
        (None, Some(_)) => 1.0,
        (Some(min), None) if min > 0.0 => 1.0 - min / value,
        _ => 0.5,
    };
    Place::Inside(share.clamp(0.0, 1.0))
}
