//! Figures of the house, and the lines that keep them.

use super::{Block, Cell, Column, Document, Extent, Heads, Kind, Part, Row, Section, Table, Tone, asked, only};
use crate::quantity::number;
use crate::report::gather::{CalibrationAnswer, FigureLine, FigureOf};
use crate::report::words;

/// What was measured, as much of it as is asked for.
pub fn calibration(answer: &CalibrationAnswer, extent: Extent) -> Document {
    let mut sections = vec![figures(answer)];
    sections.extend(lines(answer));
    sections.extend(asked(answer.asked.as_ref()));
    let whole = Document { title: answer.title.clone(), sections, more: None };
    match extent {
        Extent::Only(part) => only(whole, part),
        Extent::Screen | Extent::Full => whole,
    }
}

fn figures(answer: &CalibrationAnswer) -> Section {
    if answer.figures.is_empty() {
        let text = "Nothing was weighed yet that tells a figure: add [[weighed]] with poured = \"25 ml lime juice\" \
                    and grams_in, grams_out, brix, density or titration (two pours at least tell a hand).";
        return Section::bare(Part::Learned, vec![Block::plain(text)]);
    }
    let columns = vec![
        Column::of(Kind::Words, "figure"),
        Column::figures("now", ""),
        Column::figures("measured", ""),
        Column::of(Kind::Short, "95 % sure"),
        Column::figures("from", ""),
        Column::of(Kind::Short, "one more"),
    ];
    let rows = answer.figures.iter().map(row).collect();
    let mut blocks = vec![Block::Table(Table { columns, rows, heads: Heads::Shown })];
    let odd = answer.figures.iter().filter(|figure| !figure.odd.is_empty());
    blocks.extend(odd.map(|figure| Block::said(odd_words(figure), Tone::Alarm)));
    Section::bare(Part::Learned, blocks)
}

fn row(figure: &FigureLine) -> Row {
    let digits = if figure.unit == "ml" { 2 } else { 1 };
    let written = |value: f64| number::trimmed(value, digits);
    let between = figure.between.map(|(low, high)| format!("{} to {}", written(low), written(high)));
    let gain = figure.gain.map(|gain| format!("{:.0} % narrower", 100.0 * gain));
    Row::plain(vec![
        Cell::words(name(&figure.of)),
        figure.before.map_or(Cell::Nothing, |before| Cell::figure(written(before))),
        Cell::amount(written(figure.value), figure.unit, Tone::Strong),
        Cell::words(between.unwrap_or_default()),
        Cell::figure(figure.count.to_string()),
        Cell::words(gain.unwrap_or_default()),
    ])
}

fn name(of: &FigureOf) -> String {
    match of {
        FigureOf::Melt => "water from the ice, of what is poured".to_owned(),
        FigureOf::MeltSpread => "how much serves differ in it".to_owned(),
        FigureOf::MeltTilt => "more of it than the rule says as strength rises".to_owned(),
        FigureOf::Sugar { ingredient } => format!("sugar of {ingredient}"),
        FigureOf::Acid { ingredient } => format!("acid of {ingredient}"),
        FigureOf::PourError => "error of one pour".to_owned(),
        FigureOf::PourBias => "a pour beyond what the jigger says".to_owned(),
    }
}

fn odd_words(figure: &FigureLine) -> String {
    let numbers: Vec<String> = figure.odd.iter().map(usize::to_string).collect();
    let numbers: Vec<&str> = numbers.iter().map(String::as_str).collect();
    format!(
        "Measurement {} does not fit the others of {}: measure it again, or take it out.",
        words::listed(&numbers),
        name(&figure.of)
    )
}

/// The lines that keep it.
fn lines(answer: &CalibrationAnswer) -> Option<Section> {
    let lines: Vec<String> = answer.figures.iter().filter_map(|figure| figure.line.clone()).collect();
    let help = "What stays behind on the ice and in the strainer counts as melted less: weigh as you serve.";
    (!lines.is_empty()).then(|| {
        let blocks = vec![Block::Items(lines), Block::said(help, Tone::Aside)];
        Section::new(Part::Kept, "To keep", blocks)
    })
}
