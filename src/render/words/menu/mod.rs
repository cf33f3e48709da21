//! A menu in words.

mod shelf;

pub use shelf::{
    amount, left, missed_by_rounding, next_sentence, not_in_it, on_the_shelf, other_shelves, packs,
    shelf_sentences, spend_sentence, used_sentence, worse,
};

use super::{
    clash_sentences, counted, listed, moves, outcome_sentences, pours, route, switch_sentence, upper_first,
};
use crate::answer::{ChangedLine, DrinkLine, DrinkPrices, MenuAnswer, PricesLine, WhatIfLine};
use crate::quantity::{UnitSystem, number};
use crate::solve::Ending;

/// `The menu, 6 drinks`.
pub fn title(answer: &MenuAnswer) -> String {
    format!("{}: {}", answer.title, counted(answer.drinks.len(), "drink"))
}

/// Money of a drink, as finely as its currency is written.
pub fn money(drink: &DrinkLine, key: &str) -> String {
    let value = drink.spec.as_ref().map_or(f64::NAN, |spec| spec.served.get(key));
    let digits = drink.answer.as_ref().and_then(|answer| answer.frame.gauge(key)).map_or(2, |g| g.digits);
    if value.is_finite() { number::fixed(value, digits) } else { String::new() }
}

/// Why a drink has no spec, and the smallest way out.
pub fn in_the_way(drink: &DrinkLine, units: UnitSystem) -> Vec<String> {
    if let Some(reason) = &drink.reason {
        return vec![format!("its brief cannot be read: {reason}.")];
    }
    let Some(answer) = drink.answer.as_ref().filter(|_| drink.spec.is_none()) else { return vec![] };
    let Some(conflict) = &answer.conflict else { return vec![outcome_sentences(answer, units)] };
    let why = clash_sentences(&answer.frame, conflict, units).into_iter().next();
    let why = why.unwrap_or_else(|| "what it asks for does not go together.".to_owned());
    let out = conflict.routes.first();
    let out = out.map(|way| format!("The smallest way out: {}.", route(&answer.frame, way, units)));
    std::iter::once(why).chain(out).collect()
}

/// How much is proved, and what a week of pours costs.
pub fn drinks_sentences(answer: &MenuAnswer) -> Vec<String> {
    let found = answer.drinks.iter().filter(|drink| drink.spec.is_some()).count();
    let open: Vec<&str> = answer
        .drinks
        .iter()
        .filter(|d| d.outcome == Some(Ending::Stopped))
        .map(|d| d.title.as_str())
        .collect();
    let proved = match (found, open.is_empty()) {
        (0, true) => String::new(),
        (1, true) => "Proved: by its own aim nothing better can be poured.".to_owned(),
        (_, true) => "Proved of each: by its own aim nothing better can be poured.".to_owned(),
        (_, false) => format!("Not proved, the search was stopped: {}.", listed(&open)),
    };
    [Some(proved), week_of_pours(answer)].into_iter().flatten().filter(|text| !text.is_empty()).collect()
}

/// `In a week 240 serves go out, and their pours cost 251.10 GBP.` Nothing where a drink does not say.
fn week_of_pours(answer: &MenuAnswer) -> Option<String> {
    let one = |drink: &DrinkLine| Some((drink.serves?, drink.spec.as_ref()?.served.get("cost")));
    let all: Vec<(f64, f64)> = answer.drinks.iter().map(one).collect::<Option<_>>()?;
    let currency = answer.drinks.first()?.currency.clone()?;
    let alike = answer.drinks.iter().all(|drink| drink.currency.as_ref() == Some(&currency));
    let (serves, cost) =
        all.iter().fold((0.0, 0.0), |(s, c), (serves, cost)| (s + serves, c + serves * cost));
    (alike && cost.is_finite() && serves > 0.0).then(|| {
        let serves = number::trimmed(serves, 1);
        format!(
            "In a week {serves} serves go out, and their pours cost {} {currency}.",
            number::fixed(cost, 2)
        )
    })
}

/// `Without lime juice`, `With aged rum=19.00 per 700 ml`.
pub fn what_if_heading(what_if: &WhatIfLine) -> String {
    upper_first(&listed(&what_if.asked))
}

/// What a drink becomes.
pub fn changed(line: &ChangedLine, units: UnitSystem) -> String {
    let drink = &line.drink;
    if let Some(barred) = &line.barred {
        let then = drink.spec.as_ref().map_or_else(
            || "; nor is there a spec that does without it".to_owned(),
            |spec| format!("; doing without it, the best would be {}", pours(spec, units)),
        );
        return format!("cannot be made any more: it is about {barred}{then}");
    }
    if drink.spec.is_none() {
        let why = in_the_way(drink, units).join(" ");
        return format!("cannot be made any more: {why}");
    }
    if line.change.is_empty() { "the same pours".to_owned() } else { moves(&line.change, units) }
}

/// `+0.07`, in money; nothing where it is not known.
pub fn dearer(line: &ChangedLine) -> String {
    line.dearer.filter(|_| line.barred.is_none()).map_or_else(String::new, |by| number::signed(by, 2))
}

/// Who stays as it is.
pub fn same_sentence(what_if: &WhatIfLine) -> Option<String> {
    match (what_if.same.is_empty(), what_if.changed.is_empty()) {
        (true, _) => None,
        (false, true) => Some("Nothing changes in any drink.".to_owned()),
        (false, false) => Some(format!("As before: {}.", listed(&what_if.same))),
    }
}

/// `Along the price of aged rum, 8.75 to 35 GBP per 700 ml`.
pub fn prices_heading(prices: &PricesLine) -> String {
    let unit = prices.drinks.first().map_or("", |drink| drink.sweep.currency.as_str());
    let [from, to] = [prices.from, prices.to].map(|end| number::trimmed(end, 2));
    format!("Along the price of {}, {from} to {to} {unit} per {}", prices.ingredient, prices.pack)
}

/// Where a drink switches, a sentence each.
pub fn price_items(prices: &PricesLine) -> Vec<String> {
    let items = |drink: &DrinkPrices| {
        drink
            .switches
            .iter()
            .map(|switch| format!("{}: {}", drink.title, switch_sentence(&drink.sweep, switch)))
            .collect::<Vec<_>>()
    };
    let mut all: Vec<String> = prices.drinks.iter().flat_map(items).collect();
    let some = |d: &DrinkPrices| d.sweep.points.iter().any(|point| point.spec.is_some());
    let still = |with: bool| -> Vec<&str> {
        let all = prices.drinks.iter().filter(|d| d.switches.is_empty() && some(d) == with);
        all.map(|d| d.title.as_str()).collect()
    };
    let (same, none) = (still(true), still(false));
    if !same.is_empty() {
        all.push(format!("{}: the same ingredients at all of these prices.", listed(&same)));
    }
    if !none.is_empty() {
        all.push(format!("{}: no spec at any of these prices.", listed(&none)));
    }
    all
}

/// What asks for care in any of the drinks, each thing once, and where the rest of it stands.
pub fn care(answer: &MenuAnswer) -> Vec<String> {
    let mut all: Vec<String> = vec![];
    for text in answer.drinks.iter().filter_map(|drink| drink.answer.as_ref()).flat_map(|answer| &answer.care)
    {
        if !all.contains(text) && !text.starts_with("Allergens") && !text.starts_with("Check all of this") {
            all.push(text.clone());
        }
    }
    // What is said of a few is said of each of them.
    let parts: Vec<(String, String)> = all
        .iter()
        .map(|text| {
            text.split_once(": ")
                .map_or((String::new(), text.clone()), |(who, what)| (who.to_lowercase(), what.to_owned()))
        })
        .collect();
    let within = |at: usize| {
        let (who, what) = &parts[at];
        parts
            .iter()
            .enumerate()
            .any(|(other, (more, same))| other != at && same == what && more.contains(who.as_str()))
    };
    let mut all: Vec<String> = (0..all.len()).filter(|at| !within(*at)).map(|at| all[at].clone()).collect();
    if answer.drinks.iter().any(|drink| drink.spec.is_some()) {
        let text = "Allergens are those of the labels and figures that the briefs go by, as poured here: check the labels. \
                    `washline spec` says of each drink what else asks for care. Check all of this with your local rules \
                    and a competent person.";
        all.push(text.to_owned());
    }
    all
}
