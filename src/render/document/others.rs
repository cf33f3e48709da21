//! The alternatives: what each changes against the best, and its key figures.

use super::Kind::{Figure, Words};
use super::{Block, Cell, Column, Part, Row, Section, Table, Tone, columns, figures};
use crate::answer::{AimLine, Frame, Gauge, SpecAnswer, SpecLine, steadier_specs};
use crate::quantity::UnitSystem;
use crate::render::words;

/// A line for the best, one for each spec that holds more often, and one for each alternative; nothing where there is
/// neither.
pub fn section(answer: &SpecAnswer, best: &SpecLine, units: UnitSystem) -> Option<Section> {
    let steadier = steadier_specs(&answer.steadier);
    if answer.alternatives.is_empty() && steadier.is_empty() {
        return None;
    }
    let (aim, frame) = (&answer.aim, &answer.frame);
    let (head, unit) = words::score_column(aim, frame, units);
    let limited: Vec<&Gauge> =
        frame.gauges.iter().filter(|g| g.limited() && Some(g.measure) != aim.measure()).collect();
    let mut columns = columns([(Figure, ""), (Words, "")]);
    columns.push(Column::figures(head, unit));
    columns.push(Column::figures("holds in", "of 100"));
    columns.extend(figures::heads(&limited, units));
    let noted = !best.notes.is_empty();
    columns.extend(noted.then(|| Column::of(Words, "notes")));
    let row = |number: String, text: String, spec: &SpecLine| {
        let mut cells = vec![Cell::amount(number, "", Tone::Strong), Cell::words(text)];
        cells.push(score(aim, frame, spec.score, units));
        cells.push(Cell::figure(spec.within_all.map_or_else(String::new, words::hundredths)));
        cells.extend(figures::cells(&limited, spec, units));
        cells.extend(noted.then(|| Cell::words(words::notes_carried(spec))));
        Row::plain(cells)
    };
    let mut rows = vec![row(String::new(), "the spec above".to_owned(), best)];
    rows.extend(steadier.iter().map(|(_, spec)| {
        row(String::new(), format!("steadier: {}", words::moves(&spec.change, units)), spec)
    }));
    rows.extend(
        answer
            .alternatives
            .iter()
            .enumerate()
            .map(|(at, spec)| row((at + 1).to_string(), words::moves(&spec.change, units), spec)),
    );
    let table = Block::Table(Table::headed(columns, rows));
    let title = match (steadier.is_empty(), answer.alternatives.is_empty()) {
        (true, _) => "Next best, each with another set of ingredients",
        (false, true) => "Steadier ones",
        (false, false) => "Steadier ones, and next best, each with another set of ingredients",
    };
    Some(Section::new(Part::Alternatives, title, vec![table]))
}

/// The aim's value; its unit stands in the heading where there is one.
pub fn score(aim: &AimLine, frame: &Frame, score: f64, units: UnitSystem) -> Cell {
    let text = words::score_text(aim, frame, score, units);
    match (text.split_once(' '), aim.measure()) {
        (Some((number, _)), Some(_)) => Cell::figure(number),
        _ => Cell::measured(&text, Tone::Plain),
    }
}
