//! What could come in, ranked.

use super::{
    Block, Cell, Column, Document, Extent, Heads, Kind, Part, Row, Section, Table, Tone, asked, only,
};
use crate::answer::{Substitute, SubstitutesAnswer};
use crate::quantity::UnitSystem;
use crate::render::words;

/// The ranked list and what it rests on, as much of it as is asked for.
pub fn substitutes(answer: &SubstitutesAnswer, extent: Extent, units: UnitSystem) -> Document {
    let question = words::question_sentences(answer, units).into_iter().map(Block::plain).collect();
    let mut sections = vec![Section::new(Part::Swap, words::substitutes_heading(answer), question)];
    let found: Vec<&Substitute> = answer.ranked.iter().filter(|s| s.spec.is_some()).collect();
    if !found.is_empty() {
        sections.push(Section::bare(Part::Specs, vec![Block::Table(table(answer, &found, units))]));
    }
    let near = words::near_sentences(answer, units).into_iter();
    let rest = near.chain(words::rest_sentences(answer)).map(Block::plain).collect();
    sections.push(Section::bare(Part::Proof, rest));
    sections.extend(asked(answer.asked.as_ref()));
    let document = Document { title: answer.title.clone(), sections, more: None };
    match extent {
        Extent::Screen | Extent::Full => document,
        Extent::Only(part) => only(document, part),
    }
}

fn table(answer: &SubstitutesAnswer, found: &[&Substitute], units: UnitSystem) -> Table {
    let gauges = words::substitute_gauges(answer);
    let (head, unit) = words::score_column(&answer.aim, &answer.frame, units);
    let mut columns = vec![
        Column::of(Kind::Figure, ""),
        Column::of(Kind::Words, "comes in"),
        Column::of(Kind::Figure, "pour"),
        Column::figures(head, unit),
    ];
    columns.extend((!answer.notes_out.is_empty()).then(|| Column::of(Kind::Short, "notes kept")));
    columns.extend(gauges.iter().map(|g| Column::figures(&g.label, words::unit(g, units))));
    columns.push(Column::of(Kind::Words, "what else"));
    let rows = found.iter().enumerate().map(|(at, substitute)| {
        let mut cells = vec![
            Cell::amount((at + 1).to_string(), "", Tone::Strong),
            Cell::words(&substitute.coming),
            Cell::measured(&words::newcomer_pour(substitute, units), Tone::Plain),
            score(answer, substitute, units),
        ];
        cells.extend(words::notes_kept(answer, substitute).map(Cell::words));
        let served = substitute.spec.as_ref().map(|spec| &spec.served);
        let figure = |key: &str| served.map_or(f64::NAN, |served| served.get(key));
        cells.extend(gauges.iter().map(|g| Cell::figure(words::figure(g, figure(&g.key), units))));
        let note = words::substitute_note(answer, substitute, units).unwrap_or_default();
        cells.push(Cell::toned(note, Tone::Aside));
        Row { tone: if at == 0 { Tone::Strong } else { Tone::Plain }, cells }
    });
    Table { rows: rows.collect(), columns, heads: Heads::Shown }
}

/// The aim's value; its unit stands in the heading where there is one.
fn score(answer: &SubstitutesAnswer, substitute: &Substitute, units: UnitSystem) -> Cell {
    let text = words::score_text(&answer.aim, &answer.frame, substitute.score.unwrap_or(f64::NAN), units);
    match (text.split_once(' '), answer.aim.measure()) {
        (Some((number, _)), Some(_)) => Cell::figure(number),
        _ => Cell::measured(&text, Tone::Plain),
    }
}
