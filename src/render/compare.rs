//! Kept specs, the reference and the present best, side by side.

use serde_json::{Map, Value, json};

use super::sheet::{Sheet, Table, WIDEST};
use crate::answer::{FORMAT, Frame, changes, nameless, tastings};
use crate::brief::{Brief, Facet, Pour, Said, Tasted, serve};
use crate::quantity::number::{fixed, pour, signed};
use crate::quantity::{Amount, UnitSystem};

/// So many specs stand in one table: more are set below.
const ABREAST: usize = 4;

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

/// Writes specs side by side: as tables, and as an object. Everything is measured with the brief as it is now.
pub fn compare_answer(brief: &Brief, specs: &[Compared], units: UnitSystem) -> (Sheet, Value) {
    let of = |few: &[Compared]| -> Vec<Table> {
        [Some(poured(brief, few, units)), Some(figures(brief, few)), said(brief, few)]
            .into_iter()
            .flatten()
            .collect()
    };
    // As many abreast as a screen has room for.
    let fits = |abreast: &usize| specs.chunks(*abreast).flat_map(of).all(|table| table.width() <= WIDEST);
    let abreast = (1..=ABREAST).rev().find(fits).unwrap_or(1);
    let tables = specs.chunks(abreast).flat_map(of);
    let mut lines: Vec<String> =
        specs.windows(2).map(|pair| moved(brief, &pair[0], &pair[1], units)).collect();
    lines.extend(specs.iter().filter_map(|one| in_words(brief, one)));
    lines.push(
        "All of them are measured anew, with the brief and its ingredients as they are now.".to_owned(),
    );
    let sheet = Sheet { title: brief.title.clone(), tables: tables.collect(), lines };
    let objects: Vec<Value> = specs
        .iter()
        .enumerate()
        .map(|(at, one)| object(brief, one, at.checked_sub(1).map(|b| &specs[b])))
        .collect();
    (sheet, json!({ "format": FORMAT, "title": brief.title, "specs": objects }))
}

fn heads(specs: &[Compared]) -> Vec<String> {
    let head = |one: &Compared| {
        if one.date.is_empty() { one.name.clone() } else { format!("{} {}", one.name, one.date) }
    };
    std::iter::once(String::new()).chain(specs.iter().map(head)).collect()
}

fn poured(brief: &Brief, specs: &[Compared], units: UnitSystem) -> Table {
    let used = |at: usize| specs.iter().any(|one| one.pours.iter().any(|pour| pour.candidate == at));
    let row = |at: usize| {
        let candidate = &brief.candidates[at];
        let cells = specs.iter().map(|one| {
            let found = one.pours.iter().find(|pour| pour.candidate == at);
            found
                .map_or_else(String::new, |p| pour(Amount { value: p.amount, unit: candidate.unit() }, units))
        });
        std::iter::once(candidate.name.clone()).chain(cells).collect()
    };
    let rows = (0..brief.candidates.len()).filter(|at| used(*at)).map(row).collect();
    Table { heading: "Poured".to_owned(), columns: heads(specs), rows }
}

fn figures(brief: &Brief, specs: &[Compared]) -> Table {
    let served: Vec<_> = specs.iter().map(|one| serve(brief, &one.pours)).collect();
    let row = |gauge: crate::answer::Gauge| {
        let values: Vec<f64> = served.iter().map(|served| served.value(gauge.measure)).collect();
        let shown = |value: &f64| if value.is_finite() { fixed(*value, gauge.digits) } else { String::new() };
        let name = format!("{} {}", gauge.label, gauge.unit).trim_end().to_owned();
        values
            .iter()
            .any(|v| v.is_finite())
            .then(|| std::iter::once(name).chain(values.iter().map(shown)).collect())
    };
    let rows = Frame::of(brief).gauges.into_iter().filter_map(row).collect();
    Table { heading: "In the glass".to_owned(), columns: heads(specs), rows }
}

/// What was said of each: a word where all who tasted it agree, else how many said what. Nothing where nobody said
/// anything.
fn said(brief: &Brief, specs: &[Compared]) -> Option<Table> {
    let heard: Vec<Vec<Tasted>> = specs.iter().map(|one| tastings(brief, &one.pours)).collect();
    let row = |facet: Facet| -> Option<Vec<String>> {
        let cell = |heard: &Vec<Tasted>| {
            let of_facet = heard.iter().flat_map(|tasting| &tasting.said);
            let words: Vec<Said> =
                of_facet.filter(|word| word.facet == facet).map(|word| word.said).collect();
            let counts =
                Said::ALL.map(|said| (said.keyword(), words.iter().filter(|word| **word == said).count()));
            let told: Vec<(&str, usize)> = counts.into_iter().filter(|(_, count)| *count > 0).collect();
            match told.as_slice() {
                [] => String::new(),
                [(word, 1)] => (*word).to_owned(),
                // More of it is wanted, it is right, less of it is wanted.
                all => {
                    all.iter().map(|(word, count)| format!("{count} {word}")).collect::<Vec<_>>().join(", ")
                }
            }
        };
        let cells: Vec<String> = heard.iter().map(cell).collect();
        cells
            .iter()
            .any(|cell| !cell.is_empty())
            .then(|| std::iter::once(facet.keyword().to_owned()).chain(cells).collect())
    };
    let rows: Vec<Vec<String>> = Facet::ALL.into_iter().filter_map(row).collect();
    (!rows.is_empty()).then(|| Table { heading: "What was said".to_owned(), columns: heads(specs), rows })
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
