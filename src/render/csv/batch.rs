//! A batch as rows.

use super::Cell::{Nothing, Number, Text};
use super::{Cell, Sheet};
use crate::answer::{BatchAnswer, BatchLine, BuyLine, Spelled as _};
use crate::batch::Money;
use crate::quantity::Currency;

/// The columns.
const HEAD: [&str; 11] =
    ["what", "of", "name", "value", "unit", "weight g", "packs", "pack", "left over", "cost", "share %"];

fn money(amount: Option<Money>) -> Cell<'static> {
    amount.map_or(Nothing, |m| Number(crate::batch::to_f64(m.0)))
}

fn text(value: Option<&String>) -> Cell<'_> {
    value.map_or(Nothing, |v| Text(v))
}

/// The whole batch, one row a figure.
pub fn sheet(answer: &BatchAnswer) -> Sheet {
    let mut out = Sheet::with_head(&HEAD);
    facts(&mut out, answer);
    answer.lines.iter().for_each(|l| line(&mut out, l));
    plain(&mut out, "water", answer.water_from.spelled(), "water", Number(answer.water), "ml");
    for preparation in &answer.preparations {
        plain(
            &mut out,
            "make",
            "",
            &preparation.name,
            Number(preparation.amount),
            preparation.unit.spelled(),
        );
        for part in &preparation.parts {
            let mut cells = row(
                "part",
                &preparation.name,
                &part.ingredient,
                Number(part.amount().value),
                part.unit.spelled(),
            );
            cells[5] = Number(part.weight);
            out.row(&cells);
        }
    }
    answer.buy.iter().for_each(|b| buy(&mut out, b));
    for moved in &answer.moved {
        let unit = answer.frame.gauge(&moved.measure).map_or("", |g| g.unit.as_str());
        plain(&mut out, "measured", "spec", &moved.measure, Number(moved.spec), unit);
        plain(&mut out, "measured", "batch", &moved.measure, Number(moved.batch), unit);
    }
    costing(&mut out, answer);
    label(&mut out, answer);
    answer.keeping.iter().for_each(|k| plain(&mut out, "keeping", "", "", Text(k), ""));
    answer.cautions.iter().for_each(|c| plain(&mut out, "caution", "", "", Text(c), ""));
    out
}

fn row<'a>(what: &'a str, of: &'a str, name: &'a str, value: Cell<'a>, unit: &'a str) -> [Cell<'a>; 11] {
    [
        Text(what),
        Text(of),
        Text(name),
        value,
        Text(unit),
        Nothing,
        Nothing,
        Nothing,
        Nothing,
        Nothing,
        Nothing,
    ]
}

fn plain(out: &mut Sheet, what: &str, of: &str, name: &str, value: Cell, unit: &str) {
    out.row(&row(what, of, name, value, unit));
}

fn facts(out: &mut Sheet, answer: &BatchAnswer) {
    plain(out, "answer", "", "title", Text(&answer.title), "");
    if answer.currency != Currency::NONE {
        plain(out, "answer", "", "currency", Text(&answer.currency), "");
    }
    if let Some(asked) = &answer.asked {
        plain(out, "answer", "", "brief", Text(&asked.brief), "");
        asked.set.iter().for_each(|set| plain(out, "answer", "", "set", Text(set), ""));
        asked.swap.iter().for_each(|swap| plain(out, "answer", "", "swap", Text(swap), ""));
        plain(out, "answer", "", "version", Text(asked.version), "");
    }
    plain(out, "answer", "", "alternative", Number(answer.alternative as f64), "");
    plain(out, "answer", "", "serves", Number(answer.serves), "");
    plain(out, "answer", "", "volume", Number(answer.volume), "ml");
    plain(out, "mix", "", "weight", Number(answer.mix.weight), "g");
    plain(out, "mix", "", "strength", Number(answer.mix.strength), "% vol");
    plain(out, "mix", "", "per serve", Number(answer.mix.per_serve), "ml");
    if let Some(bottles) = &answer.bottles {
        plain(out, "bottles", "", "needed", Number(bottles.needed), "");
        plain(out, "bottles", "", "full", Number(bottles.full), "");
        plain(out, "bottles", "", "in the last", Number(bottles.last), "ml");
    }
}

fn line(out: &mut Sheet, line: &BatchLine) {
    let mut cells =
        row("line", line.place.spelled(), &line.ingredient, Number(line.amount), line.unit.spelled());
    cells[5] = Number(line.weight);
    cells[6] = line.packs.map(|count| count as f64).into();
    cells[7] = text(line.pack.as_ref());
    cells[8] = line.left_over.into();
    cells[9] = money(line.cost);
    cells[10] = line.share.into();
    out.row(&cells);
}

fn buy(out: &mut Sheet, line: &BuyLine) {
    let mut cells = row("buy", "", &line.ingredient, Number(line.need), line.unit.spelled());
    cells[6] = line.packs.map(|count| count as f64).into();
    cells[7] = text(line.pack.as_ref());
    cells[8] = line.left_over.into();
    cells[9] = money(line.spend);
    out.row(&cells);
}

fn costing(out: &mut Sheet, answer: &BatchAnswer) {
    let costing = &answer.costing;
    costing.unpriced.iter().for_each(|name| plain(out, "money", "", "no price", Text(name), ""));
    if answer.currency == Currency::NONE {
        return;
    }
    let mut sum = |name: &str, amount: Money| {
        let mut cells = row("money", "", name, Nothing, &answer.currency);
        cells[9] = money(Some(amount));
        out.row(&cells);
    };
    sum("used", costing.used);
    sum("packs", costing.spend);
    sum("per serve", costing.per_serve);
    if let Some(menu) = &costing.menu {
        sum("menu price", menu.price);
        sum("net price", menu.net);
        sum("gross profit", menu.gross_profit);
    }
    if let Some(needed) = &costing.needed {
        sum("needed price", needed.price);
    }
    if let Some(menu) = &costing.menu {
        plain(out, "money", "", "pour cost", Number(menu.pour_cost), "%");
    }
}

fn label(out: &mut Sheet, answer: &BatchAnswer) {
    let label = &answer.label;
    plain(out, "label", "", "strength", Number(label.strength), "% vol");
    plain(out, "label", "serve", "units of alcohol", Number(label.units_of_alcohol), "");
    plain(out, "label", "serve", "US standard drinks", Number(label.us_standard_drinks), "");
    plain(out, "label", "100 ml", "energy", Number(label.energy_per_100ml.kj), "kJ");
    plain(out, "label", "100 ml", "energy", Number(label.energy_per_100ml.kcal), "kcal");
    let eu: Vec<&str> = label.allergens.iter().map(|one| one.keyword()).collect();
    plain(out, "label", "EU", "allergens", Text(&eu.join("; ")), "");
    let us: Vec<&str> = label.us_allergens.iter().map(|one| one.keyword()).collect();
    plain(out, "label", "US", "allergens", Text(&us.join("; ")), "");
    label.statements.iter().for_each(|s| plain(out, "label", "", "statement", Text(s), ""));
}
