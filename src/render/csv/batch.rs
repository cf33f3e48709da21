//! A batch as rows.

use super::{Cell, Rows, Sheet, asked_facts};
use crate::answer::{BatchAnswer, Spelled as _};
use crate::batch::{Label, Money};
use crate::quantity::Currency;

/// The columns.
const HEAD: [&str; 11] =
    ["what", "of", "name", "value", "unit", "weight g", "packs", "pack", "left over", "cost", "share %"];

impl Rows for BatchAnswer {
    /// The whole batch, one row a figure.
    fn rows(&self) -> String {
        let mut out = Sheet::with_head(&HEAD);
        facts(&mut out, self);
        lines(&mut out, self);
        for moved in &self.moved {
            let unit = self.frame.gauge(&moved.measure).map(|g| &g.unit);
            out.row(&cells!["measured", "spec", &moved.measure, moved.spec, unit]);
            out.row(&cells!["measured", "batch", &moved.measure, moved.batch, unit]);
        }
        costing(&mut out, self);
        label(&mut out, &self.label);
        self.keeping.iter().for_each(|text| out.row(&cells!["keeping", (), (), text]));
        self.cautions.iter().for_each(|text| out.row(&cells!["caution", (), (), text]));
        out.finish()
    }
}

fn facts(out: &mut Sheet, answer: &BatchAnswer) {
    let mut fact = |name, value: Cell, unit: &str| out.row(&cells!["answer", (), name, value, unit]);
    fact("title", Cell::from(&answer.title), "");
    if answer.currency != Currency::NONE {
        fact("currency", Cell::from(&answer.currency), "");
    }
    asked_facts(answer.asked.as_ref()).for_each(|(name, value)| fact(name, Cell::from(value), ""));
    fact("alternative", Cell::from(answer.alternative), "");
    fact("serves", Cell::from(answer.serves), "");
    fact("volume", Cell::from(answer.volume), "ml");
    out.row(&cells!["mix", (), "weight", answer.mix.weight, "g"]);
    out.row(&cells!["mix", (), "strength", answer.mix.strength, "% vol"]);
    out.row(&cells!["mix", (), "per serve", answer.mix.per_serve, "ml"]);
    if let Some(bottles) = &answer.bottles {
        out.row(&cells!["bottles", (), "needed", bottles.needed]);
        out.row(&cells!["bottles", (), "full", bottles.full]);
        out.row(&cells!["bottles", (), "in the last", bottles.last, "ml"]);
    }
}

/// What goes in, what is made, what is bought.
fn lines(out: &mut Sheet, answer: &BatchAnswer) {
    for line in &answer.lines {
        let (place, unit) = (line.place.spelled(), line.unit.spelled());
        let bought = cells![line.packs, line.pack.as_ref(), line.left_over, line.cost, line.share];
        let poured = cells!["line", place, &line.ingredient, line.amount, unit, line.weight];
        out.row(&[&poured[..], &bought[..]].concat());
    }
    out.row(&cells!["water", answer.water_from.spelled(), "water", answer.water, "ml"]);
    for made in &answer.preparations {
        out.row(&cells!["make", (), &made.name, made.amount, made.unit.spelled()]);
        for part in &made.parts {
            let unit = part.unit.spelled();
            out.row(&cells!["part", &made.name, &part.ingredient, part.amount().value, unit, part.weight]);
        }
    }
    for line in &answer.buy {
        let needed = cells!["buy", (), &line.ingredient, line.need, line.unit.spelled(), ()];
        let bought = cells![line.packs, line.pack.as_ref(), line.left_over, line.spend];
        out.row(&[&needed[..], &bought[..]].concat());
    }
}

fn costing(out: &mut Sheet, answer: &BatchAnswer) {
    let costing = &answer.costing;
    costing.unpriced.iter().for_each(|name| out.row(&cells!["money", (), "no price", name]));
    if answer.currency == Currency::NONE {
        return;
    }
    let mut sum = |name: &str, amount: Money| {
        out.row(&cells!["money", (), name, (), &answer.currency, (), (), (), (), amount]);
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
        out.row(&cells!["money", (), "pour cost", menu.pour_cost, "%"]);
    }
}

fn label(out: &mut Sheet, label: &Label) {
    let energy = &label.energy_per_100ml;
    out.row(&cells!["label", (), "strength", label.strength, "% vol"]);
    out.row(&cells!["label", "serve", "units of alcohol", label.units_of_alcohol]);
    out.row(&cells!["label", "serve", "US standard drinks", label.us_standard_drinks]);
    out.row(&cells!["label", "100 ml", "energy", energy.kj, "kJ"]);
    out.row(&cells!["label", "100 ml", "energy", energy.kcal, "kcal"]);
    out.row(&cells!["label", "EU", "allergens", &label.allergens]);
    out.row(&cells!["label", "US", "allergens", &label.us_allergens]);
    label.statements.iter().for_each(|text| out.row(&cells!["label", (), "statement", text]));
}
