//! A batch as a prep card: what goes in, what to buy, what it costs, what a label says.

use super::{
    Block, Cell, Column, Document, Extent, Heads, Kind, Part, Row, Section, Table, Tone, asked, mind, only,
    screen,
};
use crate::answer::{BatchAnswer, BatchLine, BuyLine};
use crate::batch::Recipe;
use crate::quantity::{Amount, UnitSystem, number};
use crate::render::words::{self, batch as said};
use crate::solve::Ending;

/// A batch, as much of it as is asked for.
pub fn batch(answer: &BatchAnswer, extent: Extent, units: UnitSystem) -> Document {
    let document = full(answer, units);
    match extent {
        Extent::Screen => screen(&document, answer, units),
        Extent::Full => document,
        Extent::Only(part) => only(document, part),
    }
}

/// What goes in, what to have ready and to buy, what it costs, the label in a line, what to mind.
fn screen(full: &Document, answer: &BatchAnswer, units: UnitSystem) -> Document {
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
    Document { title: full.title.clone(), sections, more: Some(screen::more(full)) }
}

fn full(answer: &BatchAnswer, units: UnitSystem) -> Document {
    let mut sections = vec![];
    if answer.outcome == Ending::Stopped {
        sections.push(Section::bare(Part::Proof, vec![Block::said(said::UNPROVED, Tone::Alarm)]));
    }
    sections.push(vessel(answer, units));
    sections.extend(preparations(answer, units));
    sections.push(moved(answer, units));
    sections.push(Section::new(Part::Buy, "To buy", vec![Block::Table(buy(answer))]));
    sections.push(money(answer));
    sections.push(label(answer));
    sections.push(Section::new(Part::Keeping, "Keeping", vec![Block::Items(answer.keeping.clone())]));
    sections.extend(mind(&answer.cautions));
    sections.extend(asked(answer.asked.as_ref()));
    Document { title: said::heading(answer), sections, more: None }
}

fn vessel(answer: &BatchAnswer, units: UnitSystem) -> Section {
    let mut blocks = vec![Block::Table(measured(&said::into_vessel(answer), units))];
    blocks.extend(said::vessel_sentences(answer, units).into_iter().map(Block::plain));
    blocks.push(Block::said(said::ROUNDING, Tone::Aside));
    Section::new(Part::Vessel, "Into the vessel", blocks)
}

fn preparations(answer: &BatchAnswer, units: UnitSystem) -> Option<Section> {
    let of = |preparation: &Recipe| {
        let parts: Vec<_> =
            preparation.parts.iter().map(|p| (p.ingredient.as_str(), p.amount(), p.weight)).collect();
        let said = Block::plain(said::preparation(preparation, units));
        [said, Block::Table(measured(&parts, units))]
    };
    let blocks: Vec<Block> = answer.preparations.iter().flat_map(of).collect();
    (!blocks.is_empty()).then(|| Section::new(Part::Preparations, "House preparations to have ready", blocks))
}

/// Amounts, names, and what the amounts weigh.
pub fn measured(lines: &[(&str, Amount, f64)], units: UnitSystem) -> Table {
    let row = |(name, amount, weight): &(&str, Amount, f64)| {
        let (number, unit) = words::amount_digits(*amount, units);
        let weight = said::weight_beside(*amount, *weight).unwrap_or_default();
        Row::plain(vec![
            Cell::amount(number, unit, Tone::Strong),
            Cell::words(*name),
            Cell::toned(weight, Tone::Aside),
        ])
    };
    Table {
        columns: vec![
            Column::of(Kind::Figure, "amount"),
            Column::of(Kind::Words, "into the vessel"),
            Column::of(Kind::Short, "by weight"),
        ],
        rows: lines.iter().map(row).collect(),
        heads: Heads::Spoken,
    }
}

fn moved(answer: &BatchAnswer, units: UnitSystem) -> Section {
    let row = |[name, unit, spec, batch, by]: [String; 5]| {
        let figures = [spec, batch, by].map(Cell::figure);
        Row::plain([Cell::words(name), Cell::words(unit)].into_iter().chain(figures).collect())
    };
    let mut columns = vec![Column::of(Kind::Words, ""), Column::of(Kind::Short, "")];
    columns.extend(["spec", "batch", "moved"].map(|head| Column::of(Kind::Figure, head)));
    let rows = said::moved(answer, units).into_iter().map(row).collect();
    let mut blocks = vec![Block::Table(Table { columns, rows, heads: Heads::Shown })];
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
    Table {
        columns: vec![
            Column::of(Kind::Short, "packs"),
            Column::of(Kind::Words, ""),
            Column::of(Kind::Short, "used"),
            Column::of(Kind::Short, "left over"),
            Column::of(Kind::Figure, "money"),
        ],
        rows: answer.buy.iter().map(row).collect(),
        heads: Heads::Shown,
    }
}

fn money(answer: &BatchAnswer) -> Section {
    let row = |line: &BatchLine| {
        let money = answer.money.write(line.cost?.0);
        let share = line.share.map_or_else(String::new, |s| format!("{} %", number::fixed(s, 1)));
        Some(Row::plain(vec![
            Cell::words(&line.ingredient),
            Cell::measured(&money, Tone::Plain),
            Cell::measured(&share, Tone::Aside),
        ]))
    };
    let rows: Vec<Row> = answer.lines.iter().filter_map(row).collect();
    let columns = vec![
        Column::of(Kind::Words, "ingredient"),
        Column::of(Kind::Figure, "cost"),
        Column::of(Kind::Figure, "share"),
    ];
    let table = (!rows.is_empty()).then_some(Block::Table(Table { columns, rows, heads: Heads::Spoken }));
    let said = said::money(answer).into_iter().map(Block::plain);
    Section::new(Part::Money, "Money", table.into_iter().chain(said).collect())
}

fn label(answer: &BatchAnswer) -> Section {
    let facts = Block::said(said::label(answer), Tone::Strong);
    let blocks = vec![facts, Block::Items(answer.label.statements.clone())];
    Section::new(Part::Label, "For a label or a menu", blocks)
}
