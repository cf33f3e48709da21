//! The built-in ingredients as a table, or with their sources.

use super::{Block, Cell, Column, Document, Kind, Part, Row, Section, Table, Told, Tone, whole};
use crate::answer::{Detail, LarderAnswer, LarderLine, Span, Spelled as _};
use crate::liquid::Form;
use crate::quantity::{UnitSystem, number};
use crate::read::Shelf;

impl Told for LarderAnswer {
    fn full(&self, _: UnitSystem) -> Document {
        let sections = match self.detail {
            Detail::Figures => figures(&self.ingredients),
            Detail::Sources => self.ingredients.iter().map(with_sources).chain(sources(self)).collect(),
        };
        whole("The larder", sections, &[], None)
    }
}

fn figures(lines: &[LarderLine]) -> Vec<Section> {
    let row = |line: &LarderLine| {
        let figures =
            [line.strength, line.sugar, line.acid].map(|s| Cell::figure(number::trimmed(s.typical, 1)));
        let mut cells = vec![Cell::words(format!("{}{}", line.name, mark(line))), Cell::words(line.role)];
        cells.extend(figures);
        Row::plain(cells)
    };
    let columns = vec![
        Column::of(Kind::Words, "ingredient"),
        Column::of(Kind::Short, "role"),
        Column::figures("strength", "% vol"),
        Column::figures("sugar", "g/L"),
        Column::figures("acid", "g/L"),
    ];
    let mut blocks = vec![Block::Table(Table::headed(columns, lines.iter().map(row)))];
    let mut aside = |text: &str| blocks.push(Block::said(text, Tone::Aside));
    if lines.iter().any(|l| l.form == Form::Powder) {
        aside("(g): a powder, weighed; its sugar and acid are in g/kg.");
    }
    if lines.iter().any(|l| l.guessed) {
        aside("(?): one of these figures is judgement or from memory.");
    }
    aside("Acid is titratable acid as citric. Ranges, allergens, notes, sources: --sources.");
    vec![Section::bare(Part::Larder, blocks)]
}

fn mark(line: &LarderLine) -> &'static str {
    match (line.from == Shelf::House, line.form == Form::Powder, line.guessed) {
        (true, true, _) => " (house, g)",
        (true, false, _) => " (house)",
        (false, true, true) => " (g, ?)",
        (false, true, false) => " (g)",
        (false, false, true) => " (?)",
        (false, false, false) => "",
    }
}

fn with_sources(line: &LarderLine) -> Section {
    let mut blocks = vec![
        Block::said(format!("{}, {}, {}", line.name, line.role, line.form.spelled()), Tone::Strong),
        Block::plain(all_figures(line).join(", ")),
    ];
    let notes = [
        ("Price", line.price.clone().unwrap_or_default()),
        ("Also", line.also.join(", ")),
        ("Acids", line.acids.clone()),
        ("Allergens", line.allergens.join(", ")),
        ("Some makes hold", line.may_hold.join(", ")),
        ("Care", line.handling.join(", ")),
        ("Notes (ours, a judgement)", line.notes.join(", ")),
        ("Judgement or memory", line.judged.join("; ")),
        ("Source", line.source.clone()),
        ("Note", line.note.clone()),
    ];
    let told = notes.into_iter().filter(|(_, text)| !text.is_empty());
    blocks.extend(told.map(|(head, text)| Block::said(format!("{head}: {text}"), Tone::Aside)));
    Section::bare(Part::Larder, blocks)
}

fn all_figures(line: &LarderLine) -> Vec<String> {
    let per = if line.form == Form::Powder { "g/kg" } else { "g/L" };
    let mut figures = vec![
        ranged("strength", line.strength, "% vol", 1),
        ranged("sugar", line.sugar, per, 1),
        ranged("acid", line.acid, per, 1),
    ];
    if let Some(solid) = line.solid {
        figures.push(format!("{solid} {} {per}", number::trimmed(line.polyols, 1)));
    }
    if let Some(density) = line.density {
        figures.push(format!("density {} g/ml", number::trimmed(density, 4)));
    }
    if line.caffeine.typical > 0.0 {
        figures.push(ranged("caffeine", line.caffeine, &format!("m{per}"), 0));
    }
    if line.sweetness.typical != 1.0 && line.sugar.typical + line.polyols > 0.0 {
        figures.push(ranged("sweetness", line.sweetness, "times sucrose's", 2));
    }
    figures
}

/// `acid 61 (55 to 70) g/L`
fn ranged(name: &str, span: Span, unit: &str, digits: usize) -> String {
    let figure = |value| number::trimmed(value, digits);
    let typical = figure(span.typical);
    match (span.min, span.max) {
        (Some(min), Some(max)) if max > min => {
            format!("{name} {typical} ({} to {}) {unit}", figure(min), figure(max))
        }
        _ => format!("{name} {typical} {unit}"),
    }
}

/// The works that the sources name, and what their licences ask to be said.
fn sources(answer: &LarderAnswer) -> Vec<Section> {
    let works = answer.references.iter().map(|(short, full)| format!("{short}: {full}")).collect();
    let works = Section::items(Part::Larder, "Works named above", works);
    let asked = Section::bare(Part::Larder, vec![Block::said(answer.attribution, Tone::Aside)]);
    works.into_iter().chain([asked]).collect()
}
