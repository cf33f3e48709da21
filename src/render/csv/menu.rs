//! A menu as rows: a drink a row, then what changes, the shelf and what to buy.

use super::Cell::{Nothing, Number, Text};
use super::{Cell, Sheet};
use crate::answer::{DrinkLine, MenuAnswer, SpecLine, Spelled as _, WeekLine};
use crate::batch::to_f64;

/// The columns: what a row is about, of which drink or bottle, and its figures.
const HEAD: [&str; 19] = [
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
    "bottle",
    "need",
    "unit",
    "packs",
    "pack",
    "spend",
    "note",
];

/// The menu.
pub fn sheet(answer: &MenuAnswer) -> String {
    let mut out = Sheet::with_head(&HEAD);
    answer.drinks.iter().for_each(|drink| of_drink(&mut out, "drink", drink, ""));
    for line in answer.what_if.iter().flat_map(|what_if| &what_if.changed) {
        let barred = line.barred.as_ref().map(|name| format!("about {name}")).unwrap_or_default();
        of_drink(&mut out, "changed", &line.drink, &barred);
    }
    for drink in answer.prices.iter().flat_map(|prices| &prices.drinks) {
        for switch in &drink.switches {
            let note =
                format!("at {}: {} instead of {}", switch.at, switch.to.join("; "), switch.from.join("; "));
            out.row(&with_note(vec![Text("switch"), Text(&drink.title)], &note));
        }
    }
    if let Some(shelf) = &answer.shelf {
        for bottle in &shelf.bottles {
            let note = bottle.hang_on_it.join("; ");
            let mut row = vec![Text("bottle"), Text("")];
            row.resize(12, Nothing);
            row.push(Text(&bottle.bottle));
            out.row(&with_note(row, &note));
        }
        for drink in &shelf.drinks {
            let pours = pours(&drink.spec);
            let mut row =
                vec![Text("on the shelf"), Text(&drink.title), Nothing, Nothing, Nothing, Text(&pours)];
            row.push(Number(drink.spec.served.get("cost")));
            out.row(&row);
        }
        shelf.week.iter().for_each(|week| of_week(&mut out, "week", week));
    }
    if let Some(order) = &answer.order {
        of_week(&mut out, "buy", &order.buy);
        for made in &order.preparations {
            let parts: Vec<String> = made
                .parts
                .iter()
                .map(|p| format!("{} {} {}", p.amount().value, p.unit.spelled(), p.ingredient))
                .collect();
            let mut row = vec![Text("make")];
            row.resize(12, Nothing);
            row.extend([Text(&made.name), Number(made.amount), Text(made.unit.spelled())]);
            out.row(&with_note(row, &parts.join("; ")));
        }
    }
    out.finish()
}

fn with_note<'a>(mut row: Vec<Cell<'a>>, note: &'a str) -> Vec<Cell<'a>> {
    row.resize(HEAD.len() - 1, Nothing);
    row.push(Text(note));
    row
}

fn pours(spec: &SpecLine) -> String {
    let pour =
        spec.pours.iter().map(|pour| format!("{} {} {}", pour.amount, pour.unit.spelled(), pour.ingredient));
    pour.collect::<Vec<_>>().join("; ")
}

fn of_drink(out: &mut Sheet, what: &str, drink: &DrinkLine, note: &str) {
    let poured = drink.spec.as_ref().map(pours).unwrap_or_default();
    let served = |key: &str| drink.spec.as_ref().map_or(Nothing, |spec| Number(spec.served.get(key)));
    let allergens = drink.allergens.join("; ");
    let proved = if drink.proved { "true" } else { "false" };
    let head = [what, &drink.title, &drink.file, drink.outcome.spelled(), proved, &poured].map(Text);
    let mut row = head.to_vec();
    row.extend([served("cost"), served("pour_cost")]);
    row.push(drink.spec.as_ref().and_then(|spec| spec.within_all).into());
    row.extend([served("strength"), Text(&allergens), drink.serves.into()]);
    out.row(&with_note(row, drink.reason.as_deref().unwrap_or(note)));
}

fn of_week(out: &mut Sheet, what: &str, week: &WeekLine) {
    for line in &week.lines {
        let note = format!("from stock {}, left {}, spoils {}", line.from_stock, line.left, line.spoiled);
        let mut row = vec![Text(what)];
        row.resize(12, Nothing);
        row.extend([Text(&line.bottle), Number(line.need), Text(line.unit.spelled())]);
        row.push(line.packs.map(|packs| packs as f64).into());
        row.push(line.pack.as_deref().map_or(Nothing, Text));
        row.push(line.spend.map(|money| to_f64(money.0)).into());
        out.row(&with_note(row, &note));
    }
}
