//! A menu: its drinks in one table, what would change, the shelf, the order.

use super::Kind::{Figure, Short, Words};
use super::{
    Block, Cell, Column, Document, Part, Row, Section, Table, Told, Tone, batch, columns, screen, whole,
};
use crate::answer::{ChangedLine, DrinkLine, MenuAnswer, OrderLine, ShelfLine, WeekLine, WhatIfLine};
use crate::quantity::{UnitSystem, number};
use crate::render::words::{self, menu as said};
use crate::solve::Ending;

impl Told for MenuAnswer {
    fn full(&self, units: UnitSystem) -> Document {
        full(self, units)
    }

    /// What was asked for beyond the table stands alone on a screen.
    fn screen(&self, units: UnitSystem) -> Document {
        on_screen(full(self, units))
    }
}

fn on_screen(full: Document) -> Document {
    let aside = [Part::Drinks, Part::Conflict, Part::Specs, Part::Alternatives];
    let further =
        full.sections.iter().any(|section| !aside.contains(&section.part) && section.part != Part::Mind);
    let more = further.then(|| screen::more(&full));
    let shown = |section: &Section| match section.part {
        Part::Mind => !further,
        part => !further || !aside.contains(&part),
    };
    Document { more, sections: full.sections.into_iter().filter(shown).collect(), ..full }
}

fn full(answer: &MenuAnswer, units: UnitSystem) -> Document {
    let mut sections = vec![drinks(answer, units)];
    sections.extend(in_the_way(answer, units));
    sections.extend(answer.what_if.as_ref().map(|what_if| changes(what_if, units)));
    sections.extend(answer.prices.iter().map(|prices| {
        Section::new(
            Part::Prices,
            said::prices_heading(prices),
            vec![Block::Items(said::price_items(prices))],
        )
    }));
    sections.extend(answer.shelf.iter().flat_map(|line| shelf(line, units)));
    sections.extend(answer.order.iter().flat_map(|line| order(line, units)));
    whole(&said::title(answer), sections, &said::care(answer), None)
}

/// The figures of a drink that stand in its row: key, heading, unit.
fn figures(answer: &MenuAnswer) -> Vec<(&'static str, &'static str, String)> {
    let mut codes: Vec<&str> = answer.drinks.iter().filter_map(|drink| drink.currency.as_deref()).collect();
    codes.dedup();
    let money = if codes.len() == 1 { codes.join("") } else { String::new() };
    let all = [("cost", "cost", money), ("pour_cost", "pour cost", "%".to_owned())];
    all.into_iter()
        .filter(|(key, ..)| answer.drinks.iter().any(|d| !said::money(d, key).is_empty()))
        .collect()
}

fn drinks(answer: &MenuAnswer, units: UnitSystem) -> Section {
    let figures = figures(answer);
    let mut columns = columns([(Words, "drink"), (Words, "the best spec")]);
    columns.extend(figures.iter().map(|(_, head, unit)| Column::figures(*head, unit)));
    columns.push(Column::figures("holds", "of 100"));
    columns.push(Column::of(Words, "allergens"));
    let row = |drink: &DrinkLine| {
        let poured = match (&drink.spec, drink.outcome) {
            (Some(spec), _) => Cell::words(words::pours(spec, units)),
            (None, None) => Cell::toned("its brief cannot be read", Tone::Alarm),
            (None, Some(Ending::Stopped)) => Cell::toned("nothing found before the stop", Tone::Alarm),
            (None, Some(_)) => Cell::toned("no spec meets it", Tone::Alarm),
        };
        let mut cells = vec![Cell::toned(&drink.title, Tone::Strong), poured];
        cells.extend(figures.iter().map(|(key, ..)| Cell::figure(said::money(drink, key))));
        let holds = drink.spec.as_ref().and_then(|spec| spec.within_all);
        cells.push(Cell::figure(holds.map_or_else(String::new, words::hundredths)));
        cells.push(Cell::words(drink.allergens.join(", ")));
        Row::plain(cells)
    };
    let mut blocks = vec![Block::Table(Table::headed(columns, answer.drinks.iter().map(row)))];
    blocks.extend(said::drinks_sentences(answer).into_iter().map(Block::plain));
    Section::bare(Part::Drinks, blocks)
}

fn in_the_way(answer: &MenuAnswer, units: UnitSystem) -> Option<Section> {
    let without = answer.drinks.iter().filter(|drink| drink.spec.is_none());
    let item = |drink: &DrinkLine| format!("{}: {}", drink.title, said::in_the_way(drink, units).join(" "));
    Section::items(Part::Conflict, "What is in the way", without.map(item).collect())
}

fn changes(what_if: &WhatIfLine, units: UnitSystem) -> Section {
    let row = |line: &ChangedLine| {
        let gone = line.drink.spec.is_none() || line.barred.is_some();
        Row::plain(vec![
            Cell::toned(&line.drink.title, Tone::Strong),
            Cell::toned(said::changed(line, units), if gone { Tone::Alarm } else { Tone::Plain }),
            Cell::figure(if gone { String::new() } else { said::money(&line.drink, "cost") }),
            Cell::figure(said::dearer(line)),
        ])
    };
    let columns = columns([(Words, "drink"), (Words, "what changes"), (Figure, "cost"), (Figure, "by")]);
    let table = Table::headed(columns, what_if.changed.iter().map(row)).block();
    let same = said::same_sentence(what_if).map(Block::plain);
    Section::new(Part::Changes, said::what_if_heading(what_if), table.into_iter().chain(same).collect())
}

fn shelf(line: &ShelfLine, units: UnitSystem) -> Vec<Section> {
    let mut said = said::shelf_sentences(line).into_iter();
    let first = said.next().map(|text| Block::said(text, Tone::Strong));
    let mut blocks: Vec<Block> = first.into_iter().collect();
    blocks.extend(said.map(Block::plain));
    blocks.push(Block::Table(bottles(line)));
    blocks.extend(said::next_sentence(line).map(Block::plain));
    let mut sections = vec![Section::new(Part::Shelf, "The shelf", blocks)];
    sections.push(Section::new(Part::Specs, "The drinks on it", vec![Block::Table(on_it(line, units))]));
    let others = said::other_shelves(line);
    sections.extend(others.and_then(|(heading, items)| {
        Section::items(Part::Alternatives, &words::upper_first(&heading), items)
    }));
    sections.extend(line.week.as_ref().map(|week| buy(week, "What a week of it takes")));
    sections
}

fn bottles(line: &ShelfLine) -> Table {
    let row = |bottle: &crate::answer::BottleLine| {
        let lost = &bottle.hang_on_it;
        let hang = if lost.is_empty() { "none".to_owned() } else { lost.join(", ") };
        Row::plain(vec![
            Cell::toned(&bottle.bottle, Tone::Strong),
            Cell::words(bottle.used_in.join(", ")),
            Cell::words(hang),
        ])
    };
    let columns = columns([(Words, "bottle"), (Words, "poured in"), (Words, "lost without it")]);
    Table::headed(columns, line.bottles.iter().map(row))
}

fn on_it(line: &ShelfLine, units: UnitSystem) -> Table {
    let rows = line.drinks.iter().map(|drink| {
        let cost = drink.spec.served.get("cost");
        Row::plain(vec![
            Cell::toned(&drink.title, Tone::Strong),
            Cell::words(said::on_the_shelf(drink, units)),
            Cell::figure(if cost.is_finite() { number::fixed(cost, 2) } else { String::new() }),
            Cell::measured(&said::worse(drink), Tone::Plain),
        ])
    });
    let heads = [(Words, "drink"), (Words, "against its own best"), (Figure, "cost"), (Figure, "worse by")];
    Table::headed(columns(heads), rows)
}

fn buy(week: &WeekLine, heading: &str) -> Section {
    let rows = week.lines.iter().map(|line| {
        let money = line.spend.map_or_else(String::new, |money| week.currency.write(money.0));
        Row::plain(vec![
            Cell::toned(said::packs(line), Tone::Strong),
            Cell::words(&line.bottle),
            Cell::words(said::amount(line.need, line.unit)),
            Cell::toned(said::left(line), Tone::Aside),
            Cell::measured(&money, Tone::Plain),
        ])
    });
    let heads = [(Short, "packs"), (Words, ""), (Short, "used"), (Words, ""), (Figure, "money")];
    let table = Table::headed(columns(heads), rows);
    Section::new(Part::Buy, heading, vec![Block::Table(table), Block::plain(said::spend_sentence(week))])
}

fn order(line: &OrderLine, units: UnitSystem) -> Vec<Section> {
    let serves = line.drinks.iter().map(|drink| drink.serves).sum::<f64>();
    let heading = format!("To buy for {} serves", number::trimmed(serves, 1));
    let mut bought = buy(&line.buy, &heading);
    bought.blocks.push(Block::plain(said::used_sentence(line)));
    bought.blocks.extend(said::not_in_it(line).map(|text| Block::said(text, Tone::Strong)));
    let mut sections = vec![bought];
    sections.extend(batch::preparations(&line.preparations, units));
    let missed: Vec<String> = line.drinks.iter().filter_map(said::missed_by_rounding).collect();
    let again = if missed.is_empty() {
        Block::plain(
            "Every drink was measured again from these amounts, rounded to what can be measured: all stay inside their limits.",
        )
    } else {
        Block::Items(missed)
    };
    sections.push(Section::new(Part::Measured, "Measured again", vec![again]));
    sections
}
