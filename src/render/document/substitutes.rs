//! What could come in, ranked.

use super::Kind::{Figure, Short, Words};
use super::{
    Block, Cell, Column, Document, Part, Row, Section, Table, Told, Tone, columns, figures, others, whole,
};
use crate::answer::{Substitute, SubstitutesAnswer};
use crate::quantity::UnitSystem;
use crate::render::words;

impl Told for SubstitutesAnswer {
    /// The ranked list and what it rests on.
    fn full(&self, units: UnitSystem) -> Document {
        let question = words::question_sentences(self, units).into_iter().map(Block::plain).collect();
        let mut sections = vec![Section::new(Part::Swap, words::substitutes_heading(self), question)];
        let found: Vec<&Substitute> = self.ranked.iter().filter(|s| s.spec.is_some()).collect();
        let table = table(self, &found, units).block();
        sections.extend(table.map(|table| Section::bare(Part::Specs, vec![table])));
        let near = words::near_sentences(self, units).into_iter();
        let rest = near.chain(words::rest_sentences(self)).map(Block::plain).collect();
        sections.push(Section::bare(Part::Proof, rest));
        whole(&self.title, sections, &[], self.asked.as_ref())
    }
}

fn table(answer: &SubstitutesAnswer, found: &[&Substitute], units: UnitSystem) -> Table {
    let gauges = words::substitute_gauges(answer);
    let (head, unit) = words::score_column(&answer.aim, &answer.frame, units);
    let mut columns = columns([(Figure, ""), (Words, "comes in"), (Figure, "pour")]);
    columns.push(Column::figures(head, unit));
    columns.extend((!answer.notes_out.is_empty()).then(|| Column::of(Short, "notes kept")));
    columns.extend(figures::heads(&gauges, units));
    columns.push(Column::of(Words, "what else"));
    let rows = found.iter().enumerate().map(|(at, substitute)| {
        let mut cells = vec![
            Cell::amount((at + 1).to_string(), "", Tone::Strong),
            Cell::words(&substitute.coming),
            Cell::measured(&words::newcomer_pour(substitute, units), Tone::Plain),
            others::score(&answer.aim, &answer.frame, substitute.score.unwrap_or(f64::NAN), units),
        ];
        cells.extend(words::notes_kept(answer, substitute).map(Cell::words));
        cells.extend(substitute.spec.iter().flat_map(|spec| figures::cells(&gauges, spec, units)));
        let note = words::substitute_note(answer, substitute, units).unwrap_or_default();
        cells.push(Cell::toned(note, Tone::Aside));
        Row { tone: if at == 0 { Tone::Strong } else { Tone::Plain }, cells }
    });
    Table::headed(columns, rows)
}
