//! The alternatives: what each changes against the best, and its key figures.

use super::page::{Ink, Page, WIDTH, left, right, width, wrap};
use crate::quantity::UnitSystem;
use crate::report::gather::{Gauge, SpecAnswer, SpecLine};
use crate::report::words;

/// The least room for what changes.
const TEXT: usize = 34;

/// One column of figures.
struct Column<'a> {
    head: String,
    unit: String,
    figure: Box<dyn Fn(&SpecLine) -> String + 'a>,
    columns: usize,
}

/// Writes a line for the best and one (or more) for each alternative.
pub fn write(page: &mut Page, answer: &SpecAnswer, best: &SpecLine, units: UnitSystem) {
    let columns = columns(answer, best, units);
    let room = WIDTH - 5 - columns.iter().map(|c| c.columns + 2).sum::<usize>();
    let set = |text: &dyn Fn(&Column) -> String| {
        columns.iter().map(|c| format!("  {}", right(&text(c), c.columns))).collect::<Vec<_>>().concat()
    };
    let figures = |spec: &SpecLine| set(&|c| (c.figure)(spec));
    page.line(&[(Ink::Faint, &format!("{}{}", " ".repeat(5 + room), set(&|c| c.head.clone())))]);
    page.line(&[(Ink::Faint, &format!("{}{}", " ".repeat(5 + room), set(&|c| c.unit.clone())))]);
    page.line(&[(Ink::Plain, &format!("     {}{}", left("the spec above", room), figures(best)))]);
    for (at, spec) in answer.alternatives.iter().enumerate() {
        let text = words::moves(&spec.change, units);
        for (row, line) in wrap(&text, room).iter().enumerate() {
            let (number, figures) =
                if row == 0 { ((at + 1).to_string(), figures(spec)) } else { (String::new(), String::new()) };
            page.line(&[
                (Ink::Strong, &format!("{}  ", right(&number, 3))),
                (Ink::Plain, &left(line, room)),
                (Ink::Plain, &figures),
            ]);
        }
    }
}

/// The aim first, then what is limited, as far as there is room for what changes.
fn columns<'a>(answer: &'a SpecAnswer, best: &SpecLine, units: UnitSystem) -> Vec<Column<'a>> {
    let (aim, frame) = (&answer.aim, &answer.frame);
    let (head, unit) = words::score_column(aim, frame, units);
    let score = Column {
        head,
        unit,
        figure: Box::new(move |spec| {
            bare(&words::score_text(aim, frame, spec.score, units), aim.measure.is_some())
        }),
        columns: 0,
    };
    let limited = frame.gauges.iter().filter(|g| g.limited() && Some(g.measure) != aim.measure);
    let mut kept = Vec::new();
    let mut taken = 5;
    for mut column in std::iter::once(score).chain(limited.map(|g| gauge_column(g, units))) {
        let specs = std::iter::once(best).chain(&answer.alternatives);
        let figures = specs.map(|s| width(&(column.figure)(s))).max().unwrap_or(0);
        column.columns = figures.max(width(&column.head)).max(width(&column.unit));
        taken += column.columns + 2;
        if taken + TEXT > WIDTH {
            break;
        }
        kept.push(column);
    }
    kept
}

/// A score without its unit, which stands in the heading.
fn bare(score: &str, has_heading: bool) -> String {
    let number = score.split_once(' ').map_or(score, |(number, _)| number);
    if has_heading { number.to_owned() } else { score.to_owned() }
}

fn gauge_column(gauge: &Gauge, units: UnitSystem) -> Column<'_> {
    Column {
        head: gauge.label.clone(),
        unit: words::unit(gauge, units).to_owned(),
        figure: Box::new(move |spec| words::figure(gauge, spec.served.get(&gauge.key), units)),
        columns: 0,
    }
}
