//! Kept specs, the reference and the present best, side by side.

use serde_json::{Map, Value, json};

use super::Part;
use super::document::{Block, Cell, Column, Document, Kind, Row, Section, Table, Tone};
use super::measure::document;
use crate::answer::{FORMAT, Frame, changes, nameless, tastings};
use crate::brief::{Brief, Facet, Pour, Said, Tasted, serve};
use crate::quantity::number::{fixed, pour, signed};
use crate::quantity::{Amount, UnitSystem};

/// A spec that is compared.
#[derive(Debug, Clone, PartialEq)]
pub struct Compared {
    /// What it is called.
    pub name: String,
    /// When it was kept; empty for the reference and the best.
    pub date: String,
    /// What is poured.
    pub pours: Vec<Pour>,
}

/// Specs that were tasted and have no name, each once.
pub fn tasted_besides(brief: &Brief, specs: &[Compared]) -> Vec<Compared> {
    let named: Vec<&[Pour]> = specs.iter().map(|one| one.pours.as_slice()).collect();
    let one = |(number, tasted): (usize, &crate::brief::Tasted)| Compared {
        name: format!("tasting {number}"),
        date: tasted.date.clone().unwrap_or_default(),
        pours: tasted.pours.clone(),
    };
    nameless(brief, &named).into_iter().map(one).collect()
}

/// Writes specs side by side: as blocks, and as an object. Everything is measured with the brief as it is now.
pub fn compare_answer(brief: &Brief, specs: &[Compared], units: UnitSystem) -> (Document, Value) {
    let heading = |part, heading: &str, table| Section::new(part, heading, vec![Block::Table(table)]);
    let said = said(brief, specs);
    let sections = vec![
        heading(Part::Card, "Poured", poured(brief, specs, units)),
        heading(Part::Glass, "In the glass", figures(brief, specs)),
    ];
    let said = (!said.rows.is_empty()).then(|| heading(Part::Said, "What was said", said));
    let sections = sections.into_iter().chain(said).collect();
    let mut lines: Vec<String> =
        specs.windows(2).map(|pair| moved(brief, &pair[0], &pair[1], units)).collect();
    lines.extend(specs.iter().filter_map(|one| in_words(brief, one)));
    lines.push(
        "All of them are measured anew, with the brief and its ingredients as they are now.".to_owned(),
    );
    let objects: Vec<Value> = specs
        .iter()
        .enumerate()
        .map(|(at, one)| object(brief, one, at.checked_sub(1).map(|b| &specs[b])))
        .collect();
    let object = json!({ "format": FORMAT, "title": brief.title, "specs": objects });
    (document(brief.title.clone(), sections, lines), object)
}

/// A column a spec, of one kind.
fn abreast(specs: &[Compared], kind: Kind, rows: impl IntoIterator<Item = Row>) -> Table {
    let head = |one: &Compared| Column::of(kind, format!("{} {}", one.name, one.date).trim_end());
    let columns = std::iter::once(Column::of(Kind::Words, "")).chain(specs.iter().map(head));
    Table::headed(columns.collect(), rows)
}

/// A row of what a name is of each spec; nothing where it is nothing of any.
fn row(name: &str, cells: impl Iterator<Item = Cell>) -> Option<Row> {
    let cells: Vec<Cell> = std::iter::once(Cell::words(name)).chain(cells).collect();
    cells.iter().skip(1).any(|cell| *cell != Cell::Nothing).then(|| Row::plain(cells))
}

fn poured(brief: &Brief, specs: &[Compared], units: UnitSystem) -> Table {
    let rows = brief.candidates.iter().enumerate().filter_map(|(at, candidate)| {
        let amount = |found: &Pour| pour(Amount { value: found.amount, unit: candidate.unit() }, units);
        let cell = |one: &Compared| {
            let found = one.pours.iter().find(|pour| pour.candidate == at);
            found.map_or(Cell::Nothing, |found| Cell::measured(&amount(found), Tone::Plain))
        };
        row(&candidate.name, specs.iter().map(cell))
    });
    abreast(specs, Kind::Figure, rows)
}

fn figures(brief: &Brief, specs: &[Compared]) -> Table {
    let served: Vec<_> = specs.iter().map(|one| serve(brief, &one.pours)).collect();
    let rows = Frame::of(brief).gauges.into_iter().filter_map(|gauge| {
        let shown = |value: f64| if value.is_finite() { fixed(value, gauge.digits) } else { String::new() };
        let name = format!("{} {}", gauge.label, gauge.unit);
        row(name.trim_end(), served.iter().map(|served| Cell::figure(shown(served.value(gauge.measure)))))
    });
    abreast(specs, Kind::Figure, rows)
}

/// What was said of each: a word where all who tasted it agree, else how many said what. No row where nobody said
/// anything.
fn said(brief: &Brief, specs: &[Compared]) -> Table {
    let heard: Vec<Vec<Tasted>> = specs.iter().map(|one| tastings(brief, &one.pours)).collect();
    let rows = Facet::ALL.into_iter().filter_map(|facet| {
        let cell = |heard: &Vec<Tasted>| {
            let of_facet = heard.iter().flat_map(|tasting| &tasting.said);
            let words: Vec<Said> =
                of_facet.filter(|word| word.facet == facet).map(|word| word.said).collect();
            let counts =
                Said::ALL.map(|said| (said.keyword(), words.iter().filter(|word| **word == said).count()));
            let told: Vec<(&str, usize)> = counts.into_iter().filter(|(_, count)| *count > 0).collect();
            match told.as_slice() {
                [] => Cell::Nothing,
                [(word, 1)] => Cell::words(*word),
                // More of it is wanted, it is right, less of it is wanted.
                all => Cell::words(
                    all.iter().map(|(word, count)| format!("{count} {word}")).collect::<Vec<_>>().join(", "),
                ),
            }
        };
        row(facet.keyword(), heard.iter().map(cell))
    });
    abreast(specs, Kind::Short, rows)
}

/// What tasters said of a spec in words of their own.
fn in_words(brief: &Brief, one: &Compared) -> Option<String> {
    let heard = tastings(brief, &one.pours);
    let words: Vec<String> = heard
        .iter()
        .filter_map(|tasting| Some(format!("\"{}\"", tasting.words.as_deref()?.trim())))
        .collect();
    (!words.is_empty()).then(|| format!("Of {}: {}.", one.name, words.join(", ")))
}

/// What is poured differently, in words.
fn moved(brief: &Brief, old: &Compared, new: &Compared, units: UnitSystem) -> String {
    let unit =
        |name: &str| brief.find(name).map_or(crate::quantity::Unit::Ml, |at| brief.candidates[at].unit());
    let moves: Vec<String> = changes(brief, &old.pours, &new.pours)
        .iter()
        .map(|change| {
            let amount = Amount { value: change.by.abs(), unit: unit(&change.ingredient) };
            let sign = if signed(change.by, 3).starts_with('-') { "-" } else { "+" };
            format!("{sign}{} {}", pour(amount, units), change.ingredient)
        })
        .collect();
    if moves.is_empty() {
        format!("{} pours the same as {}.", new.name, old.name)
    } else {
        format!("{}, against {}: {}.", new.name, old.name, moves.join(", "))
    }
}

fn object(brief: &Brief, one: &Compared, before: Option<&Compared>) -> Value {
    let served = serve(brief, &one.pours);
    let figures: Map<String, Value> =
        Frame::of(brief).gauges.into_iter().map(|g| (g.key, json!(served.value(g.measure)))).collect();
    let pours: Vec<Value> = one
        .pours
        .iter()
        .map(|p| {
            let candidate = &brief.candidates[p.candidate];
            json!({ "ingredient": candidate.name, "amount": p.amount, "unit": candidate.unit().symbol() })
        })
        .collect();
    let change: Vec<Value> = before.map_or_else(Vec::new, |old| {
        let all = changes(brief, &old.pours, &one.pours);
        all.iter().map(|c| json!({ "ingredient": c.ingredient, "by": c.by })).collect()
    });
    json!({ "name": one.name, "date": one.date, "spec": { "pours": pours, "served": figures }, "change": change,
            "tastings": tastings(brief, &one.pours) })
}
