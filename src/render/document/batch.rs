//! A batch as a prep card: what goes in, what to buy, what it costs, what a label says.

use super::Kind::{Figure, Short, Words};
use super::{Block, Cell, Document, Part, Row, Section, Table, Told, Tone, columns, screen, whole};
use crate::answer::{BatchAnswer, BatchLine, BuyLine};
use crate::batch::Recipe;
use crate::quantity::{Amount, UnitSystem, number};
use crate::render::words::{self, batch as said};
use crate::solve::Ending;

impl Told for BatchAnswer {
    fn full(&self, units: UnitSystem) -> Document {
        full(self, units)
    }

    /// What goes in, what to have ready and to buy, what it costs, the label in a line, what to mind.
    fn screen(&self, units: UnitSystem) -> Document {
        on_screen(self, &full(self, units), units)
    }
}

fn on_screen(answer: &BatchAnswer, full: &Document, units: UnitSystem) -> Document {
    let kept = |part: Part| full.sections.iter().filter(move |s| s.part == part).cloned();
    let mut sections: Vec<Section> = kept(Part::Proof).chain(kept(Part::Vessel)).collect();
    for section in &mut sections {
        section.blocks.retain(|block| !matches!(block, Block::Sentence(said) if said.tone == Tone::Aside));
    }
    let missed = said::misses(answer, units).map(|text| Block::said(text, Tone::Alarm));
    sections.extend(missed.map(|block| Section::bare(Part::Measured, vec![block])));
    sections.extend(kept(Part::Preparations).chain(kept(Part::Buy)));
    sections.push(Section::bare(Part::Money, said::money(answer).into_iter().map(Block::plain).collect()));
    sections.push(Section::bare(Part::Label, vec![Block::said(said::label(answer), Tone::Strong)]));
    sections.extend(kept(Part::Keeping));
    let changed = screen::asked(answer.asked.as_ref()).map(Block::plain);
    sections.extend(changed.map(|block| Section::bare(Part::Asked, vec![block])));
    sections.extend(screen::mind(&answer.care));
    screen::with_more(sections, full)
}

fn full(answer: &BatchAnswer, units: UnitSystem) -> Document {
    let mut sections = vec![];
    if answer.outcome == Ending::Stopped {
        sections.push(Section::bare(Part::Proof, vec![Block::said(said::UNPROVED, Tone::Alarm)]));
    }
    sections.push(vessel(answer, units));
    sections.extend(preparations(&answer.preparations, units));
    sections.push(moved(answer, units));
    sections.push(Section::new(Part::Buy, "To buy", vec![Block::Table(buy(answer))]));
    sections.push(money(answer));
    sections.push(label(answer));
    sections.push(Section::new(Part::Keeping, "Keeping", vec![Block::Items(answer.keeping.clone())]));
    whole(&said::heading(answer), sections, &answer.cautions, answer.asked.as_ref())
}

fn vessel(answer: &BatchAnswer, units: UnitSystem) -> Section {
    let mut blocks = vec![Block::Table(into_vessel(answer, units))];
    blocks.extend(said::vessel_sentences(answer, units).into_iter().map(Block::plain));
    blocks.push(Block::said(said::ROUNDING, Tone::Aside));
    Section::new(Part::Vessel, "Into the vessel", blocks)
}

/// What goes into the vessel.
pub fn into_vessel(answer: &BatchAnswer, units: UnitSystem) -> Table {
    measured(&said::into_vessel(answer), units)
}

/// What is made of each house preparation, and of what.
pub fn preparations(lines: &[Recipe], units: UnitSystem) -> Option<Section> {
    let of = |preparation: &Recipe| {
        let parts: Vec<_> =
            preparation.parts.iter().map(|p| (p.ingredient.as_str(), p.amount(), p.weight)).collect();
        let said = Block::plain(said::preparation(preparation, units));
        [said, Block::Table(measured(&parts, units))]
    };
    let blocks: Vec<Block> = lines.iter().flat_map(of).collect();
    (!blocks.is_empty()).then(|| Section::new(Part::Preparations, "House preparations to have ready", blocks))
}

/// Amounts, names, and what the amounts weigh.
fn measured(lines: &[(&str, Amount, f64)], units: UnitSystem) -> Table {
    let row = |(name, amount, weight): &(&str, Amount, f64)| {
        let (number, unit) = words::amount_digits(*amount, units);
        let weight = said::weight_beside(*amount, *weight).unwrap_or_default();
        Row::plain(vec![
            Cell::amount(number, unit, Tone::Strong),
            Cell::words(*name),
            Cell::toned(weight, Tone::Aside),
        ])
    };
    let columns = columns([(Figure, "amount"), (Words, "into the vessel"), (Short, "by weight")]);
    Table::spoken(columns, lines.iter().map(row))
}

fn moved(answer: &BatchAnswer, units: UnitSystem) -> Section {
    let row = |[name, unit, spec, batch, by]: [String; 5]| {
        let figures = [spec, batch, by].map(Cell::figure);
        Row::plain([Cell::words(name), Cell::words(unit)].into_iter().chain(figures).collect())
    };
    let columns = columns([(Words, ""), (Short, ""), (Figure, "spec"), (Figure, "batch"), (Figure, "moved")]);
    let table = Table::headed(columns, said::moved(answer, units).into_iter().map(row));
    let mut blocks = vec![Block::Table(table)];
    blocks.extend(said::misses(answer, units).map(|text| Block::said(text, Tone::Alarm)));
    Section::new(Part::Measured, "Measured again after the rounding, one serve", blocks)
}

fn buy(answer: &BatchAnswer) -> Table {
    let row = |line: &BuyLine| {
        let money = line.spend.map_or_else(String::new, |m| answer.money.write(m.0));
        Row::plain(vec![
            Cell::toned(said::packs(line), Tone::Strong),
            Cell::words(&line.ingredient),
            Cell::words(said::need(line)),
            Cell::toned(said::left_over(line), Tone::Aside),
            Cell::measured(&money, Tone::Plain),
        ])
    };
    let heads = [(Short, "packs"), (Words, ""), (Short, "used"), (Short, "left over"), (Figure, "money")];
    Table::headed(columns(heads), answer.buy.iter().map(row))
}

fn money(answer: &BatchAnswer) -> Section {
    let row = |line: &BatchLine| {
        let money = answer.money.write(line.cost?.0);
        let share = line.share.map_or_else(String::new, |s| format!("{} %", number::fixed(s, 1)));
        Some(Row::plain(vec![
            Cell::words(&line.ingredient),
            Cell::measured(&money, Tone::Plain),
            Cell::measured(&share, Tone::Aside).of_whole(line.share.unwrap_or(f64::NAN) / 100.0),
        ]))
    };
    let columns = columns([(Words, "ingredient"), (Figure, "cost"), (Figure, "share")]);
    let table = Table::spoken(columns, answer.lines.iter().filter_map(row)).block();
    let said = said::money(answer).into_iter().map(Block::plain);
    Section::new(Part::Money, "Money", table.into_iter().chain(said).collect())
}

fn label(answer: &BatchAnswer) -> Section {
    let facts = Block::said(said::label(answer), Tone::Strong);
    let blocks = vec![facts, Block::Items(answer.label.statements.clone())];
    Section::new(Part::Label, "For a label or a menu", blocks)
}
