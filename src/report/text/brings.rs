//! What each ingredient brings, and what moved against the reference: tables over the same figures.

use super::page::{Ink, Page, WIDTH, cut, left, right, width};
use crate::quantity::UnitSystem;
use crate::report::gather::{Frame, Gauge, SpecLine};
use crate::report::words;

/// The least room for names.
const NAME: usize = 24;

/// One line of a table: what it is, and its figures by key.
struct Row<'a> {
    name: String,
    figure: Box<dyn Fn(&Gauge) -> String + 'a>,
    ink: Ink,
}

/// Writes what each pour and the ice bring, and their sum.
pub fn write(page: &mut Page, frame: &Frame, spec: &SpecLine, units: UnitSystem) {
    let mut rows: Vec<Row> = spec
        .contributions
        .iter()
        .map(|line| Row {
            name: line.ingredient.clone(),
            figure: Box::new(move |gauge| words::share(gauge, line.share.get(&gauge.key), units)),
            ink: Ink::Plain,
        })
        .collect();
    rows.push(served("in the glass", spec, units, Ink::Strong));
    table(page, frame, spec, &rows, units);
}

/// Writes the reference, this spec, by how much every figure moved, and what came and went brings.
pub fn against(page: &mut Page, frame: &Frame, reference: &SpecLine, spec: &SpecLine, units: UnitSystem) {
    let moved = |gauge: &Gauge| {
        words::moved(gauge, reference.served.get(&gauge.key), spec.served.get(&gauge.key), units)
    };
    let mut rows = vec![
        served("the reference", reference, units, Ink::Plain),
        served("this spec", spec, units, Ink::Strong),
        Row { name: "moved".to_owned(), figure: Box::new(moved), ink: Ink::Plain },
    ];
    rows.extend(words::came_and_went(reference, spec, units).into_iter().map(|(name, line)| Row {
        name,
        figure: Box::new(move |gauge: &Gauge| words::share(gauge, line.share.get(&gauge.key), units)),
        ink: Ink::Faint,
    }));
    table(page, frame, spec, &rows, units);
}

fn served<'a>(name: &str, spec: &'a SpecLine, units: UnitSystem, ink: Ink) -> Row<'a> {
    let figure = move |gauge: &Gauge| words::figure(gauge, spec.served.get(&gauge.key), units);
    Row { name: name.to_owned(), figure: Box::new(figure), ink }
}

fn table(page: &mut Page, frame: &Frame, spec: &SpecLine, rows: &[Row], units: UnitSystem) {
    let wide = |gauge: &Gauge| {
        let figures = rows.iter().map(|row| width(&(row.figure)(gauge))).max().unwrap_or(0);
        figures.max(width(&gauge.label)).max(width(words::unit(gauge, units)))
    };
    let mut taken = 2 + NAME;
    let gauges = words::brought(frame, spec, |gauge| {
        let fits = taken + wide(gauge) + 2 <= WIDTH;
        taken += if fits { wide(gauge) + 2 } else { 0 };
        fits
    });
    let columns: Vec<(&Gauge, usize)> = gauges.into_iter().map(|gauge| (gauge, wide(gauge))).collect();
    let room = NAME + WIDTH - taken;
    let longest = rows.iter().map(|row| width(&row.name)).max().unwrap_or(0).min(room);
    let line = |name: &str, cell: &dyn Fn(&Gauge) -> String| {
        let cells: String = columns.iter().map(|(g, wide)| format!("  {}", right(&cell(g), *wide))).collect();
        format!("  {}{cells}", left(&cut(name, longest), longest))
    };
    page.line(&[(Ink::Faint, &line("", &|g| g.label.clone()))]);
    page.line(&[(Ink::Faint, &line("", &|g| words::unit(g, units).to_owned()))]);
    for row in rows {
        page.line(&[(row.ink, &line(&row.name, &|g| (row.figure)(g)))]);
    }
}
