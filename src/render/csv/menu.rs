//! A menu as rows: a drink a row, then what changes, the shelf and what to buy.

use super::{Cell, Rows, Sheet};
use crate::answer::{DrinkLine, MenuAnswer, SpecLine, Spelled as _, WeekLine};
use crate::quantity::Unit;

/// The columns about a drink.
const DRINK: [&str; 12] = [
    "what",
    "drink",
    "file",
    "outcome",
    "proved",
    "spec",
    "cost",
    "pour_cost",
    "within_all",
    "strength",
    "allergens",
    "serves",
];
/// The columns about a bottle, and a note.
const BOTTLE: [&str; 7] = ["bottle", "need", "unit", "packs", "pack", "spend", "note"];

impl Rows for MenuAnswer {
    fn rows(&self) -> String {
        let mut out = Sheet::with_head(&[&DRINK[..], &BOTTLE[..]].concat());
        self.drinks.iter().for_each(|drink| of_drink(&mut out, "drink", drink, None));
        for line in self.what_if.iter().flat_map(|what_if| &what_if.changed) {
            let barred = line.barred.as_ref().map(|name| format!("about {name}"));
            of_drink(&mut out, "changed", &line.drink, barred);
        }
        for drink in self.prices.iter().flat_map(|prices| &prices.drinks) {
            for switch in &drink.switches {
                let (to, from) = (switch.to.join("; "), switch.from.join("; "));
                let note = format!("at {}: {to} instead of {from}", switch.at);
                row(&mut out, &cells!["switch", &drink.title], &[], note);
            }
        }
        if let Some(shelf) = &self.shelf {
            for bottle in &shelf.bottles {
                row(&mut out, &cells!["bottle"], &cells![&bottle.bottle], &bottle.hang_on_it);
            }
            for drink in &shelf.drinks {
                let cost = drink.spec.served.get("cost");
                out.row(&cells!["on the shelf", &drink.title, (), (), (), pours(&drink.spec), cost]);
            }
            shelf.week.iter().for_each(|week| of_week(&mut out, "week", week));
        }
        if let Some(order) = &self.order {
            of_week(&mut out, "buy", &order.buy);
            for made in &order.preparations {
                let parts: Vec<String> =
                    made.parts.iter().map(|p| amount(p.amount().value, p.unit, &p.ingredient)).collect();
                let of = cells![&made.name, made.amount, made.unit.spelled()];
                row(&mut out, &cells!["make"], &of, &parts);
            }
        }
        out.finish()
    }
}

/// What is about a drink, what is about a bottle, and a note at the end.
fn row<'a>(out: &mut Sheet, drink: &[Cell<'a>], bottle: &[Cell<'a>], note: impl Into<Cell<'a>>) {
    let mut cells = drink.to_vec();
    cells.resize(DRINK.len(), Cell::Nothing);
    cells.extend_from_slice(bottle);
    cells.resize(DRINK.len() + BOTTLE.len() - 1, Cell::Nothing);
    cells.push(note.into());
    out.row(&cells);
}

fn amount(value: f64, unit: Unit, of: &str) -> String {
    format!("{value} {} {of}", unit.spelled())
}

fn pours(spec: &SpecLine) -> String {
    let pours = spec.pours.iter().map(|pour| amount(pour.amount, pour.unit, &pour.ingredient));
    pours.collect::<Vec<_>>().join("; ")
}

fn of_drink(out: &mut Sheet, what: &str, drink: &DrinkLine, note: Option<String>) {
    let spec = drink.spec.as_ref();
    let served = |key: &str| spec.map(|spec| spec.served.get(key));
    let cells = cells![
        what,
        &drink.title,
        &drink.file,
        drink.outcome.spelled(),
        drink.proved,
        spec.map(pours),
        served("cost"),
        served("pour_cost"),
        spec.and_then(|spec| spec.within_all),
        served("strength"),
        &drink.allergens,
        drink.serves
    ];
    row(out, &cells, &[], drink.reason.clone().or(note));
}

fn of_week(out: &mut Sheet, what: &str, week: &WeekLine) {
    for line in &week.lines {
        let note = format!("from stock {}, left {}, spoils {}", line.from_stock, line.left, line.spoiled);
        let (unit, pack) = (line.unit.spelled(), line.pack.as_ref());
        let bottle = cells![&line.bottle, line.need, unit, line.packs, pack, line.spend];
        row(out, &cells![what], &bottle, note);
    }
}
