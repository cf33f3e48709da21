//! A menu: every drink, what would change, at which prices, the shelf and the order.

mod order;
mod shelf;

pub use order::{OrderLine, OrderedDrink, order_line};
pub use shelf::{BottleLine, BoughtLine, ShelfDrink, ShelfLine, WeekLine, shelf_line, week_line};

use super::spec::{self, Change, SpecLine};
use super::spec_answer::{aim_line, spec_answer};
use super::sweep::SwitchLine;
use super::why::{self, ConflictLine};
use super::{AimLine, FORMAT, SpecAnswer, SweepAnswer};
use crate::batch::allergens;
use crate::brief::{Allergen, Brief};
use crate::menu::Found;
use crate::solve::Ending;

/// The answer to a menu.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct MenuAnswer {
    /// Version of this object.
    pub format: u32,
    /// What was asked for: folder or files.
    pub title: String,
    /// Every drink, in the order of the files.
    pub drinks: Vec<DrinkLine>,
    /// What would change.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub what_if: Option<WhatIfLine>,
    /// At which prices of an ingredient which drinks change.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub prices: Vec<PricesLine>,
    /// One shelf for all.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shelf: Option<ShelfLine>,
    /// What to buy and to make.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub order: Option<OrderLine>,
    /// The version that answered.
    pub version: &'static str,
}

/// A drink.
#[derive(Debug, Clone, PartialEq, Default, serde::Serialize)]
pub struct DrinkLine {
    /// What it is called.
    pub title: String,
    /// The file of its brief, as it was named.
    pub file: String,
    /// `found`, `conflict`, `stopped`; or `refused` where its brief cannot be read.
    #[serde(serialize_with = "super::spelled::word")]
    pub outcome: Option<Ending>,
    /// Why its brief cannot be read: the first of its findings.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reason: Option<String>,
    /// ISO 4217.
    pub currency: Option<String>,
    /// What it aims for.
    pub aim: Option<AimLine>,
    /// Its best spec.
    pub spec: Option<SpecLine>,
    /// No pourable spec scores better than this.
    pub bound: Option<f64>,
    /// Whether the spec is proved to be the best.
    pub proved: bool,
    /// Allergens of what it pours, by the names of EU 1169/2011 Annex II.
    pub allergens: Vec<&'static str>,
    /// How many serves go out in a week, where that is known.
    pub serves: Option<f64>,
    /// Why there is no spec, and the ways out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub conflict: Option<ConflictLine>,
    /// The answer that `spec` would give, for the words.
    #[serde(skip)]
    pub answer: Option<SpecAnswer>,
}

/// What a change of the menu does.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct WhatIfLine {
    /// What is changed, as the command line has it.
    pub asked: Vec<String>,
    /// Drinks that change, or cannot be made any more.
    pub changed: Vec<ChangedLine>,
    /// Drinks that stay as they are.
    pub same: Vec<String>,
}

/// A drink that changes.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct ChangedLine {
    /// It, as it is then.
    pub drink: DrinkLine,
    /// What is poured differently.
    pub change: Vec<Change>,
    /// By how much a serve costs more, in money; nothing where either is not known.
    pub dearer: Option<f64>,
    /// What it has to be made with, and is not there any more; its spec is then the drink that does without it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub barred: Option<String>,
}

/// At which prices drinks change.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct PricesLine {
    /// What has the price.
    pub ingredient: String,
    /// The pack that it is for.
    pub pack: String,
    /// From where to where it was looked, in money.
    pub from: f64,
    /// See `from`.
    pub to: f64,
    /// Each drink that may pour it.
    pub drinks: Vec<DrinkPrices>,
}

/// A drink along a price.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct DrinkPrices {
    /// What it is called.
    pub title: String,
    /// Where its ingredients switch.
    pub switches: Vec<SwitchLine>,
    /// The whole curve, for the words.
    #[serde(skip)]
    pub sweep: SweepAnswer,
}

/// What became of a brief.
#[derive(Debug, Clone, Copy)]
pub enum Became<'a> {
    /// It was solved.
    Solved(&'a Brief, &'a Found),
    /// It cannot be read, and why.
    Refused(&'a str),
}

/// A menu with nothing but its drinks.
pub fn menu_answer(title: String, drinks: Vec<DrinkLine>, version: &'static str) -> MenuAnswer {
    MenuAnswer {
        format: FORMAT,
        title,
        drinks,
        what_if: None,
        prices: vec![],
        shelf: None,
        order: None,
        version,
    }
}

/// A drink of a menu.
pub fn drink_line(title: &str, file: &str, became: Became) -> DrinkLine {
    let blank = DrinkLine { title: title.to_owned(), file: file.to_owned(), ..DrinkLine::default() };
    let (brief, found) = match became {
        Became::Refused(why) => return DrinkLine { reason: Some(why.to_owned()), ..blank },
        Became::Solved(brief, found) => (brief, found),
    };
    let conflict = found.conflict.as_ref().map(|conflict| why::conflict(brief, conflict));
    let answer = SpecAnswer { conflict: conflict.clone(), ..spec_answer(brief, &found.solved) };
    let best = found.solved.specs.first();
    DrinkLine {
        outcome: Some(answer.outcome),
        currency: Some(brief.currency.code().to_owned()),
        aim: Some(aim_line(brief)),
        spec: best.map(|best| spec::line(brief, best, None).in_service(found.share)),
        bound: found.solved.bound,
        proved: found.solved.ending == Ending::Found,
        allergens: best.map_or_else(Vec::new, |best| {
            allergens(brief, &best.pours).into_iter().map(Allergen::keyword).collect()
        }),
        serves: brief.serves,
        conflict,
        answer: Some(answer),
        ..blank
    }
}

/// A drink that changes; nothing where it pours and costs what it did.
pub fn changed_line(
    (before, drink): (&DrinkLine, DrinkLine),
    (old, new): ((&Brief, &Found), (&Brief, &Found)),
    barred: Option<String>,
) -> Option<ChangedLine> {
    let best = |found: &Found| found.solved.specs.first().map(|spec| spec.pours.clone()).unwrap_or_default();
    let (was, is) = (best(old.1), best(new.1));
    let change = if is.is_empty() || was.is_empty() { vec![] } else { spec::changes(new.0, &was, &is) };
    let cost = |drink: &DrinkLine| {
        drink.spec.as_ref().map(|spec| spec.served.get("cost")).filter(|cost| cost.is_finite())
    };
    let dearer = cost(&drink).zip(cost(before)).map(|(now, then)| now - then);
    let same = change.is_empty()
        && barred.is_none()
        && drink.outcome == before.outcome
        && dearer.is_none_or(|by| by.abs() < 1e-9);
    (!same).then_some(ChangedLine { drink, change, dearer, barred })
}
