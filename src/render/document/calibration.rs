//! Figures of the house, and the lines that keep them.

use super::Kind::{Figure, Short, Words};
use super::{Block, Cell, Document, Part, Row, Section, Table, Told, Tone, columns, whole};
use crate::answer::{CalibrationAnswer, FigureLine, FigureOf};
use crate::quantity::{UnitSystem, number};
use crate::render::words;

impl Told for CalibrationAnswer {
    fn full(&self, _: UnitSystem) -> Document {
        let sections = std::iter::once(figures(self)).chain(lines(self)).collect();
        whole(&self.title, sections, &[], self.asked.as_ref())
    }
}

fn figures(answer: &CalibrationAnswer) -> Section {
    if answer.figures.is_empty() {
        return Section::bare(Part::Learned, vec![Block::plain(nothing(answer))]);
    }
    let heads = [
        (Words, "figure"),
        (Figure, "now"),
        (Figure, "measured"),
        (Short, "95 % sure"),
        (Figure, "from"),
        (Short, "one more"),
    ];
    let mut blocks = vec![Block::Table(Table::headed(columns(heads), answer.figures.iter().map(row)))];
    let odd = answer.figures.iter().filter(|figure| !figure.odd.is_empty());
    blocks.extend(odd.map(|figure| Block::said(odd_words(figure), Tone::Alarm)));
    let scattered = answer.figures.iter().filter(|figure| figure.scattered);
    blocks.extend(scattered.map(|figure| Block::said(scattered_words(figure), Tone::Alarm)));
    if answer.figures.iter().any(|figure| matches!(figure.of, FigureOf::MeltTilt { .. })) {
        let text = "Per point of strength: how many points more melt than the rule says as drinks get stronger. Where \
                    its interval holds 0, the rule's own bend fits.";
        blocks.push(Block::said(text, Tone::Aside));
    }
    let text = "One more: by how much the interval would narrow with one more measurement of the same kind.";
    blocks.push(Block::said(text, Tone::Aside));
    Section::bare(Part::Learned, blocks)
}

/// What has to be weighed for what.
fn nothing(answer: &CalibrationAnswer) -> String {
    let so_far = match answer.weighed {
        0 => "Nothing was weighed yet.".to_owned(),
        count => {
            let of = if count == 1 { "measurement tells" } else { "measurements tell" };
            format!("The {count} {of} no figure yet.")
        }
    };
    format!(
        "{so_far} Add [[weighed]] with poured = \"25 ml lime juice\" and what the instrument read: brix or density of a \
         syrup, titration of a juice; grams_out of a drink strained off its ice tells the melt, and grams_in of three \
         pours or more tells the hand."
    )
}

fn row(figure: &FigureLine) -> Row {
    let digits = match figure.of {
        FigureOf::PourError | FigureOf::PourBias | FigureOf::MeltTilt { .. } => 2,
        FigureOf::Sugar { .. } => 0,
        _ => 1,
    };
    let written = |value: f64| number::fixed(value, digits);
    let between = figure.between.map(|(low, high)| format!("{} to {}", written(low), written(high)));
    let gain = figure.gain.map(|gain| format!("{:.0} % less", 100.0 * gain));
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
        FigureOf::Melt { method, at } => {
            format!("melt, {}, of what is poured at {} % vol", made(method), number::fixed(*at, 0))
        }
        FigureOf::MeltSpread { method } => format!("how far serves differ in it, {}", made(method)),
        FigureOf::MeltTilt { method } => {
            format!("melt beyond the rule per point of strength, {}", made(method))
        }
        FigureOf::Sugar { ingredient } => format!("sugar of {ingredient}"),
        FigureOf::Acid { ingredient } => format!("acid of {ingredient}"),
        FigureOf::PourError => "how far one pour is off".to_owned(),
        FigureOf::PourBias => "what a pour has beyond the jigger".to_owned(),
    }
}

fn made(method: &str) -> &'static str {
    match method {
        "shake" => "shaken",
        "stir" => "stirred",
        "build" => "built",
        "blend" => "blended",
        _ => "without ice",
    }
}

fn scattered_words(figure: &FigureLine) -> String {
    format!(
        "The readings of {} differ by more than their instruments do: its interval has grown with them.",
        name(&figure.of)
    )
}

fn odd_words(figure: &FigureLine) -> String {
    let numbers: Vec<String> = figure.odd.iter().map(usize::to_string).collect();
    format!(
        "[[weighed]] no. {} does not fit the others on {}: measure it again, or take it out.",
        words::listed(&numbers),
        name(&figure.of)
    )
}

/// The lines that keep it.
fn lines(answer: &CalibrationAnswer) -> Option<Section> {
    let lines: Vec<String> = answer.figures.iter().filter_map(|figure| figure.line.clone()).collect();
    let help = "What stays behind on the ice and in the strainer counts as melted less: weigh as you serve.";
    (!lines.is_empty()).then(|| {
        let melt = answer.figures.iter().any(|figure| matches!(figure.of, FigureOf::Melt { .. }));
        let mut blocks = vec![Block::plain("--keep writes, with its date:"), Block::Items(lines)];
        blocks.extend(melt.then(|| Block::said(help, Tone::Aside)));
        Section::bare(Part::Lines, blocks)
    })
}
