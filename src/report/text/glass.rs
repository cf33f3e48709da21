//! What is in the glass, each limited figure beside its range.

use super::bar;
use super::page::{Ink, Page, WIDTH, aligned, cut, left, right, width};
use crate::quantity::UnitSystem;
use crate::report::gather::{Frame, Gauge, SpecLine};
use crate::report::words;

/// The longest name of a property that is shown whole.
const NAME: usize = 16;
/// The longest unit that is shown whole.
const UNIT: usize = 8;

/// One line of the table.
struct Row<'a> {
    gauge: &'a Gauge,
    value: f64,
    margin: String,
    ink: Ink,
}

/// Writes every limited figure beside its range, then the others in one paragraph.
pub fn write(page: &mut Page, frame: &Frame, spec: &SpecLine, units: UnitSystem) {
    let rows: Vec<Row> = frame.gauges.iter().filter(|g| g.limited()).map(|g| row(g, spec, units)).collect();
    table(page, &rows, units);
    let free: Vec<String> = frame
        .gauges
        .iter()
        .filter(|g| !g.limited() && !spec.served.get(&g.key).is_nan())
        .map(|g| format!("{} {}", g.label, words::with_unit(g, spec.served.get(&g.key), units)))
        .collect();
    if !free.is_empty() {
        page.gap();
        page.paragraph(2, Ink::Faint, &format!("Not limited: {}.", free.join(", ")));
    }
}

/// Writes what was asked for, where there is nothing in the glass.
pub fn write_asked(page: &mut Page, frame: &Frame, units: UnitSystem) {
    let gauges: Vec<&Gauge> = frame.gauges.iter().filter(|g| g.limited()).collect();
    let names: Vec<String> = gauges.iter().map(|g| cut(&g.label, NAME)).collect();
    let columns = names.iter().map(|n| width(n)).max().unwrap_or(0);
    for (gauge, name) in gauges.iter().zip(&names) {
        let range = format!("{} {}", words::range_words(gauge, units), words::unit(gauge, units));
        page.line(&[(Ink::Plain, &format!("  {}  ", left(name, columns))), (Ink::Plain, &range)]);
    }
}

fn row<'a>(gauge: &'a Gauge, spec: &SpecLine, units: UnitSystem) -> Row<'a> {
    let value = spec.served.get(&gauge.key);
    let nearest = words::nearest_margin(gauge, &spec.margins);
    let margin = nearest.map_or_else(String::new, |m| words::margin_words(gauge, m, units));
    let ink = match nearest {
        Some(m) if !m.met => Ink::Alarm,
        Some(_) if margin.starts_with("at ") || margin.starts_with("just ") => Ink::Edge,
        _ => Ink::Good,
    };
    Row { gauge, value, margin, ink }
}

fn table(page: &mut Page, rows: &[Row], units: UnitSystem) {
    let column = |text: &dyn Fn(&Row) -> String| rows.iter().map(text).collect::<Vec<String>>();
    let names = column(&|r| cut(&r.gauge.label, NAME));
    let values = aligned(&column(&|r| words::figure(r.gauge, r.value, units)));
    let in_units = column(&|r| cut(words::unit(r.gauge, units), UNIT));
    let limit =
        |r: &Row, side: Option<f64>| side.map_or_else(String::new, |l| words::limit(r.gauge, l, units));
    let mins = column(&|r| limit(r, r.gauge.min));
    let maxs = column(&|r| limit(r, r.gauge.max));
    let widest = |texts: &[String]| texts.iter().map(|t| width(t)).max().unwrap_or(0);
    let margins = column(&|r| r.margin.clone());
    let fixed = 2 + widest(&names) + 2 + widest(&values) + 1 + widest(&in_units) + 2 + widest(&mins);
    let bars = WIDTH.saturating_sub(fixed + 2 + widest(&maxs) + 2 + widest(&margins)).clamp(5, 23);
    for (at, row) in rows.iter().enumerate() {
        let text = |column: &[String]| column.get(at).cloned().unwrap_or_default();
        page.line(&[
            (Ink::Plain, &format!("  {}  ", left(&text(&names), widest(&names)))),
            (Ink::Strong, &format!("{} {}  ", text(&values), left(&text(&in_units), widest(&in_units)))),
            (Ink::Faint, &right(&text(&mins), widest(&mins))),
            (row.ink, &format!(" {} ", bar::draw(row.gauge, row.value, bars))),
            (Ink::Faint, &format!("{}  ", left(&text(&maxs), widest(&maxs)))),
            (row.ink, &row.margin),
        ]);
    }
}
