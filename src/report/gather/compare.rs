//! Kept specs, the reference and the present best, side by side.

use serde_json::{Map, Value, json};

use super::spec::changes;
use super::{FORMAT, Frame};
use crate::brief::{Brief, Pour, serve};
use crate::quantity::number::{fixed, pour, signed};
use crate::quantity::{Amount, UnitSystem};
use crate::report::sheet::{Sheet, Table};

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

/// Writes specs side by side: as tables, and as an object. Everything is measured with the brief as it is now.
pub fn compare_answer(brief: &Brief, specs: &[Compared], units: UnitSystem) -> (Sheet, Value) {
    let tables = specs.chunks(ABREAST).flat_map(|few| [poured(brief, few, units), figures(brief, few)]);
    let mut lines: Vec<String> =
        specs.windows(2).map(|pair| moved(brief, &pair[0], &pair[1], units)).collect();
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
    let row = |gauge: super::Gauge| {
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
    json!({ "name": one.name, "date": one.date, "spec": { "pours": pours, "served": figures }, "change": change })
}
