//! What another price, a missing ingredient or another pour cost does to a menu.

use super::Menu;
use super::files::Card;
use crate::answer::{
    Became, ChangedLine, DrinkLine, DrinkPrices, PricesLine, WhatIfLine, changed_line, drink_line,
    sweep_answer,
};
use crate::brief::Brief;
use crate::cli::args::MenuArgs;
use crate::cli::clock;
use crate::cli::exit::Failure;
use crate::cli::progress::progress;
use crate::cli::sweep::question;
use crate::explain::side_by_side::side_by_side;
use crate::finding::Finding;
use crate::menu::change::{Without, without};
use crate::menu::solve_all;
use crate::read::{ANY, Axis, Changes, Setting, closest, guess, read_changed};
use crate::scenario::sweep::{Run, Way, sweep};

/// Points of a price that are looked at.
const POINTS: usize = 25;
/// From this share of the price to that.
const SPAN: (f64, f64) = (0.5, 2.0);

/// A drink as it is then.
struct Changed {
    drink: usize,
    brief: Brief,
    barred: Option<String>,
}

/// Solves every drink that is touched again, and says what changes.
pub fn what_if(args: &MenuArgs, menu: &Menu, before: &[DrinkLine]) -> Result<Option<WhatIfLine>, Failure> {
    let prices: Vec<&(String, String)> =
        args.prices.iter().filter(|(_, price)| price.trim() != ANY).collect();
    let mut asked: Vec<String> =
        prices.iter().map(|(name, price)| format!("with {name} at {price}")).collect();
    asked.extend(args.without.iter().map(|name| format!("without {name}")));
    asked.extend(args.pour_cost.map(|most| format!("with a pour cost of at most {most} %")));
    if asked.is_empty() {
        return Ok(None);
    }
    let named = args.prices.iter().map(|(name, _)| name).chain(&args.without);
    named.into_iter().try_for_each(|name| known(menu, name))?;
    let (mut changed, mut lines) = (vec![], vec![]);
    for drink in 0..menu.briefs.len() {
        match change(args, &prices, menu, drink) {
            Ok(Some(one)) => changed.push(one),
            Ok(None) => {}
            Err(why) => lines.push(cannot(menu.card(drink), &why)),
        }
    }
    let briefs: Vec<Brief> = changed.iter().map(|one| one.brief.clone()).collect();
    let progress = progress(briefs.len());
    let found = solve_all(&briefs, clock::workers(), menu.stop, &|| progress.inc(1));
    progress.finish_and_clear();
    for (one, found) in changed.into_iter().zip(&found) {
        let card = menu.card(one.drink);
        let line = drink_line(&card.title, &card.file, Became::Solved(&one.brief, found));
        let (old, new) = ((&menu.briefs[one.drink], &menu.found[one.drink]), (&one.brief, found));
        lines.extend(changed_line((&before[menu.of[one.drink]], line), (old, new), one.barred));
    }
    let same = menu.of.iter().map(|at| &menu.cards[*at]);
    let same = same.filter(|card| !lines.iter().any(|line: &ChangedLine| line.drink.file == card.file));
    let same = same.map(|card| card.title.clone()).collect();
    Ok(Some(WhatIfLine { asked, changed: lines, same }))
}

fn cannot(card: &Card, why: &str) -> ChangedLine {
    let drink = drink_line(&card.title, &card.file, Became::Refused(why));
    ChangedLine { drink, change: vec![], dearer: None, barred: None }
}

/// A name that some drink knows, as an ingredient or a part of one.
fn known(menu: &Menu, name: &str) -> Result<(), Failure> {
    let names =
        || menu.briefs.iter().flat_map(|brief| &brief.candidates).map(|candidate| candidate.name.as_str());
    if names().any(|known| known.eq_ignore_ascii_case(name.trim())) {
        return Ok(());
    }
    let help =
        guess(closest(name, names()), || "name an ingredient as the briefs or the house do".to_owned());
    Err(Failure::placeless("unknown-name", format!("no drink of this menu knows \"{name}\""), help))
}

/// A drink with the changes; nothing where they do not touch it, and the reason where it cannot be read with them.
fn change(
    args: &MenuArgs,
    prices: &[&(String, String)],
    menu: &Menu,
    drink: usize,
) -> Result<Option<Changed>, String> {
    let (card, own) = (menu.card(drink), &menu.briefs[drink]);
    let mut settings: Vec<Setting> = vec![];
    for (name, price) in prices {
        if let Some(key) = price_key(own, name) {
            settings.push(Setting { key, value: price.clone() });
        }
    }
    settings.extend(
        args.pour_cost
            .map(|most| Setting { key: "targets.pour_cost.max".to_owned(), value: most.to_string() }),
    );
    let mut brief = if settings.is_empty() { own.clone() } else { again(card, settings)? };
    brief.title.clone_from(&own.title);
    let touched = brief != *own;
    let (brief, barred) = match without(&brief, &args.without) {
        Without::Same if !touched => return Ok(None),
        Without::Same => (brief, None),
        Without::Left(left) => (*left, None),
        Without::Barred(name, left) => (*left, Some(name)),
    };
    Ok(Some(Changed { drink, brief, barred }))
}

/// Where the price of an ingredient stands, if the drink knows it.
fn price_key(brief: &Brief, name: &str) -> Option<String> {
    let candidate = brief.candidates.iter().find(|c| c.name.eq_ignore_ascii_case(name.trim()))?;
    let quoted = serde_json::Value::from(candidate.name.as_str());
    Some(format!("candidate.{quoted}.price"))
}

fn again(card: &Card, settings: Vec<Setting>) -> Result<Brief, String> {
    let Some(page) = &card.page else { return Err(String::new()) };
    let changes = Changes { settings, ..page.changes.clone() };
    let first =
        |findings: Vec<Finding>| findings.into_iter().next().map_or_else(String::new, |finding| finding.what);
    read_changed(&page.bytes, &changes).map(|reading| reading.brief).map_err(first)
}

/// At which prices of what is asked about which drinks change.
pub fn prices(args: &MenuArgs, menu: &Menu) -> Result<Vec<PricesLine>, Failure> {
    let asked = args.prices.iter().filter(|(_, price)| price.trim() == ANY);
    asked.map(|(name, _)| along(menu, name)).collect()
}

fn along(menu: &Menu, name: &str) -> Result<PricesLine, Failure> {
    known(menu, name)?;
    let keyed: Vec<(usize, String)> =
        (0..menu.briefs.len()).filter_map(|at| Some((at, price_key(&menu.briefs[at], name)?))).collect();
    let progress = progress(keyed.len());
    let found = side_by_side(&keyed, clock::workers(), |(at, key)| {
        let found = one_drink(menu, *at, key);
        progress.inc(1);
        found
    });
    progress.finish_and_clear();
    let found: Vec<(DrinkPrices, Axis)> = found.into_iter().collect::<Result<_, _>>()?;
    let own = found.first().and_then(|(_, axis)| axis.over.own).unwrap_or(0.0);
    Ok(PricesLine {
        ingredient: name.trim().to_owned(),
        pack: found.first().and_then(|(_, axis)| axis.over.pack.clone()).unwrap_or_default(),
        from: SPAN.0 * own,
        to: SPAN.1 * own,
        drinks: found.into_iter().map(|(line, _)| line).collect(),
    })
}

fn one_drink(menu: &Menu, at: usize, key: &str) -> Result<(DrinkPrices, Axis), Failure> {
    let nothing = || Failure::placeless("bad-sweep", "its price cannot be moved", "give it a price first");
    let page = menu.card(at).page.as_ref().ok_or_else(nothing)?;
    let refused = |findings| page.refused(findings);
    let axis = Axis::of(&page.bytes, &page.changes, key).map_err(refused)?;
    let own = axis.over.own.ok_or_else(nothing)?;
    let (from, to) = (SPAN.0 * own, SPAN.1 * own);
    let value = |point: usize| from + (to - from) * point as f64 / (POINTS - 1) as f64;
    let way = Way { values: (0..POINTS).map(value).collect(), grain: 0.0 };
    let ask = |value: f64| question(&axis, page, value);
    let run = Run { workers: 1, stop: menu.stop, told: &|_| () };
    let found = sweep(&ask, &way, run).map_err(refused)?;
    let curve = sweep_answer(&axis.over, &found).ok_or_else(nothing)?;
    let title = menu.card(at).title.clone();
    Ok((DrinkPrices { title, switches: curve.switches.clone(), sweep: curve }, axis))
}
