//! A menu in words.

use super::{
    conflict_sentence, counted, listed, moves, outcome_sentences, reach_sentences, route, switch_sentence,
    upper_first,
};
use crate::quantity::{Amount, Unit, UnitSystem, number};
use crate::report::gather::{
    BoughtLine, ChangedLine, DrinkLine, DrinkPrices, Margin, MenuAnswer, OrderLine, OrderedDrink, PricesLine,
    ShelfDrink, ShelfLine, SpecLine, WeekLine, WhatIfLine,
};

/// Shelves beyond this many are counted, not listed.
const SHELVES: usize = 5;

fn names(list: &[String]) -> String {
    listed(&list.iter().map(String::as_str).collect::<Vec<_>>())
}

/// `The menu, 6 drinks`.
pub fn title(answer: &MenuAnswer) -> String {
    format!("{}: {}", answer.title, counted(answer.drinks.len(), "drink"))
}

/// `20 ml aged rum, 15 ml lime juice`.
pub fn pours(spec: &SpecLine, units: UnitSystem) -> String {
    let pour = spec.pours.iter().map(|p| format!("{} {}", number::pour(p.amount(), units), p.ingredient));
    pour.collect::<Vec<_>>().join(", ")
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
    let reach = reach_sentences(&answer.frame, conflict, units).into_iter().next();
    let why = reach.or_else(|| conflict_sentence(&answer.frame, conflict, units));
    let why = why.unwrap_or_else(|| "what it asks for does not go together.".to_owned());
    let out = conflict.routes.first();
    let out = out.map(|way| format!("The smallest way out: {}.", route(&answer.frame, way, units)));
    std::iter::once(why).chain(out).collect()
}

/// How much is proved, and what a week of pours costs.
pub fn drinks_sentences(answer: &MenuAnswer) -> Vec<String> {
    let found = answer.drinks.iter().filter(|drink| drink.spec.is_some()).count();
    let open: Vec<&str> =
        answer.drinks.iter().filter(|d| d.outcome == "stopped").map(|d| d.title.as_str()).collect();
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
    upper_first(&names(&what_if.asked))
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
        (false, false) => Some(format!("As before: {}.", names(&what_if.same))),
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

/// What the shelf comes to, the first sentence being the answer.
pub fn shelf_sentences(shelf: &ShelfLine) -> Vec<String> {
    let (count, drinks) = (counted(shelf.count, "bottle"), shelf.drinks.len());
    let within = number::trimmed(shelf.within, 2);
    let all = match drinks {
        1 => "the drink".to_owned(),
        2 => "both drinks".to_owned(),
        many => format!("all {many} drinks"),
    };
    let band = format!("each at most {within} % worse than its own best");
    let mut said = vec![match (shelf.asked, shelf.fits) {
        (None, _) => format!("{} make {all}, {band}.", upper_first(&count)),
        (Some(most), true) => {
            format!("Of at most {}, these {} make {all}, {band}.", counted(most, "bottle"), shelf.count)
        }
        (Some(most), false) if shelf.fewest > most => {
            format!(
                "{} cannot make {all}, {band}: it takes at least {}. These {} would.",
                upper_first(&counted(most, "bottle")),
                shelf.fewest,
                shelf.count
            )
        }
        (Some(most), false) => format!(
            "No shelf of {} was found that makes {all}; the search was stopped, and there may be one. These {} would.",
            counted(most, "bottle"),
            shelf.count
        ),
    }];
    said.push(shelf_proof(shelf));
    if shelf.unshared > shelf.count {
        said.push(format!("Poured each at its own best, they open {}.", shelf.unshared));
    }
    if !shelf.without.is_empty() {
        said.push(format!("Left out, as nothing makes them: {}.", names(&shelf.without)));
    }
    said
}

fn shelf_proof(shelf: &ShelfLine) -> String {
    let Some((week, bound)) = shelf.week.as_ref().and_then(|week| Some((week, week.bound?))) else {
        return if shelf.proved {
            "Proved: no shelf of fewer will do.".to_owned()
        } else {
            format!(
                "The search was stopped: it takes at least {}, and a shelf of fewer than this may do.",
                shelf.fewest
            )
        };
    };
    let spend = week.currency.write(week.spend.0);
    if shelf.proved {
        return format!(
            "Bought in whole packs, a week takes {spend}, each drink poured as its best there. Proved: no other such shelf takes less."
        );
    }
    let (code, paid) = (week.currency.code(), crate::batch::to_f64(week.spend.0));
    let share = 100.0 * (paid - bound) / paid;
    format!(
        "Bought in whole packs, a week takes {spend}, each drink poured as its best there. The search was stopped: another such shelf \
         may take less, but none under {} {code}, {} % less.",
        number::fixed(bound, 2),
        number::fixed(share, 1)
    )
}

/// How much worse a drink is than its own best: `1.2 %`; nothing where it is its best.
pub fn worse(drink: &ShelfDrink) -> String {
    let worse = drink.worse.filter(|worse| *worse > 0.05);
    worse.map_or_else(String::new, |worse| format!("{} %", number::fixed(worse, 1)))
}

/// What a drink pours on the shelf, against its own best.
pub fn on_the_shelf(drink: &ShelfDrink, units: UnitSystem) -> String {
    if drink.change.is_empty() { "its own best".to_owned() } else { moves(&drink.change, units) }
}

/// What the next bottle would bring.
pub fn next_sentence(shelf: &ShelfLine) -> Option<String> {
    let currency = &shelf.week.as_ref()?.currency;
    Some(match &shelf.next {
        Some(next) => format!(
            "The next bottle would be {}: with it a week's pours cost {} {} less by use, in {}.",
            next.bottle,
            number::fixed(next.saves, 2),
            currency.code(),
            names(&next.drinks)
        ),
        None => "No further bottle would make these pours cheaper.".to_owned(),
    })
}

/// The other shelves that are as good, each against this one.
pub fn other_shelves(shelf: &ShelfLine) -> Option<(String, Vec<String>)> {
    let (first, others) = shelf.as_good.split_first()?;
    if others.is_empty() {
        return None;
    }
    let against = |other: &Vec<String>| {
        let only = |of: &[String], not: &[String]| -> Vec<String> {
            of.iter().filter(|name| !not.contains(name)).cloned().collect()
        };
        format!("{} for {}", names(&only(other, first)), names(&only(first, other)))
    };
    let rest = others.len().saturating_sub(SHELVES);
    let mut items: Vec<String> = others.iter().take(SHELVES).map(against).collect();
    if rest > 0 {
        items.push(format!("and {rest} more"));
    }
    let count = if shelf.all { "" } else { "at least " };
    let kind = if shelf.asked.is_some() && shelf.fits { "cost the same" } else { "have as few bottles" };
    Some((
        format!("{count}{} {kind}", counted(others.len(), "other shelf")).replace("shelfs", "shelves"),
        items,
    ))
}

/// `3 × 700 ml`, or what is used where there is no price.
pub fn packs(line: &BoughtLine) -> String {
    match (line.packs, &line.pack) {
        (Some(0), _) => "none".to_owned(),
        (Some(packs), Some(pack)) => format!("{packs} × {pack}"),
        _ => "no price".to_owned(),
    }
}

/// How much of a bottle, as people read it.
pub fn amount(value: f64, unit: &str) -> String {
    let unit = if unit == "g" { Unit::G } else { Unit::Ml };
    let shown = Amount { value: (value + 0.0).round(), unit };
    number::pour(shown, UnitSystem::Metric)
}

/// What becomes of what is left.
pub fn left(line: &BoughtLine) -> String {
    let stock = (line.from_stock > 0.5).then(|| format!("{} from stock", amount(line.from_stock, line.unit)));
    let left = (line.left > 0.5).then(|| format!("{} left", amount(line.left, line.unit)));
    let spoiled = (line.spoiled > 0.5).then(|| format!("{} spoils", amount(line.spoiled, line.unit)));
    [stock, left, spoiled].into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// What the packs come to.
pub fn spend_sentence(week: &WeekLine) -> String {
    let unpriced: Vec<&str> =
        week.lines.iter().filter(|line| line.spend.is_none()).map(|line| line.bottle.as_str()).collect();
    let all = format!("All packs: {}", week.currency.write(week.spend.0));
    if unpriced.is_empty() {
        format!("{all}.")
    } else {
        format!("{all}, without what has no price: {}.", listed(&unpriced))
    }
}

/// The targets that a drink misses once its amounts are rounded for all its serves.
pub fn missed_by_rounding(drink: &OrderedDrink) -> Option<String> {
    let miss = |margin: &Margin| {
        let side = margin.side.keyword();
        format!(
            "{} {} (its {side} is {})",
            margin.target,
            number::trimmed(margin.value, 3),
            number::trimmed(margin.limit, 3)
        )
    };
    let missed: Vec<String> = drink.misses.iter().map(miss).collect();
    (!missed.is_empty())
        .then(|| format!("{}, rounded to what can be measured: {}.", drink.title, names(&missed)))
}

/// Drinks that were sold and that nothing makes.
pub fn not_in_it(order: &OrderLine) -> Option<String> {
    let not = &order.without;
    (!not.is_empty()).then(|| format!("Not in it, as no spec meets the brief: {}.", names(not)))
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
    if answer.drinks.iter().any(|drink| drink.spec.is_some()) {
        let text = "Allergens are those of the labels and figures that the briefs go by, as poured here: check the labels. \
                    `washline spec` says of each drink what else asks for care. Check all of this with your local rules \
                    and a competent person.";
        all.push(text.to_owned());
    }
    all
}

/// `By use, what is poured costs 231.40 GBP.`
pub fn used_sentence(order: &OrderLine) -> String {
    format!("By use, what is poured costs {}.", order.buy.currency.write(order.used.0))
}
