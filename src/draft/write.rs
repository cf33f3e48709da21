//! Writes a brief around a drink that is known; every line says what it is for.

use super::aim;
use super::line::{self, Item, Written};
use super::names;
use super::shelf::{Ask, Offer, Stock};
use super::text::{OF_ALL, Text, unit, upper_first};
use super::{Measured, Wish, making, measured, skeleton};
use crate::brief::{Candidate, Measure, Role, Served, serve};
use crate::finding::Finding;
use crate::quantity::number::trimmed;
use crate::quantity::{US_FLUID_OUNCE, Unit};
use crate::read::{CUSTOMARY, quoted};
use crate::simulate::{Run, Serves};

/// The step of most bars, ml. Common practice, no source.
const STEP: f64 = 2.5;
/// Liquids in pours of at least so much are not to shrink to a trace, ml. Common practice, no source.
const TRACE: f64 = 5.0;
/// Nearly all serves of a drink, and how many are looked at to see within what they lie.
const MOST_SERVES: f64 = 0.95;
const STRAY: usize = 4_000;

/// Writes a brief.
///
/// # Errors
/// What is wrong with the line or with the wish, all at once.
pub fn brief(wish: &Wish) -> Result<String, Vec<Finding>> {
    let Some(line) = &wish.line else { return skeleton(wish) };
    let family = wish.family.map(|family| family.method);
    let method = wish.method.or(making(line).method).or(family);
    let house = wish.at.as_ref().map(|at| &at.house);
    let drink = measured(line, method, house)?;
    let stock = Stock::open(house)?;
    let mut work = Work { wish, drink, stock, faults: Vec::new(), without: Vec::new(), notes: Vec::new() };
    work.prepare();
    if !work.faults.is_empty() {
        return Err(work.faults);
    }
    Ok(work.written())
}

struct Work<'w> {
    wish: &'w Wish,
    drink: Measured,
    stock: Stock,
    faults: Vec<Finding>,
    /// What is not to be used, by the names of the house or the larder.
    without: Vec<String>,
    /// What carries each note that is asked for.
    notes: Vec<(String, Vec<Offer>)>,
}

impl Work<'_> {
    fn prepare(&mut self) {
        for name in &self.wish.without {
            let house = self.stock.names();
            match names::find(name, &house).or_else(|meant| names::short(name, &house).ok_or(meant)) {
                Ok(found) => self.without.push(found.name().to_owned()),
                Err(meant) => {
                    let what =
                        format!("--without \"{name}\": neither the drink, the house nor the larder has it");
                    let help =
                        meant.first().map_or_else(String::new, |name| format!("did you mean \"{name}\"?"));
                    self.faults.push(Finding::placeless("unknown-ingredient", what, help));
                }
            }
        }
        if let Some(most) = self.wish.lighter.filter(|most| *most >= self.served().value(Measure::Strength)) {
            let what = format!(
                "--lighter {most}: the drink has {} % vol already",
                trimmed(self.served().value(Measure::Strength), 1)
            );
            self.faults.push(Finding::placeless("not-lighter", what, "give a strength below that"));
        }
        if self.wish.under.is_some() {
            self.unpriced();
        }
        if let Err(fault) = self.aim() {
            self.faults.push(fault);
        }
        for note in &self.wish.notes {
            let offers = self.stock.with_note(note, self.ask());
            let has = self
                .drink
                .pours
                .iter()
                .any(|pour| self.drink.brief.candidates[pour.candidate].has_note(note));
            if offers.is_empty() && !has {
                let what = format!("nothing that could come in carries the note \"{note}\"");
                let meant = self.stock.note_like(note);
                let guess = meant.map_or_else(String::new, |meant| format!("did you mean \"{meant}\"? Or "));
                let help = format!(
                    "{guess}give an ingredient of the house notes = [\"…\"] with it, and that house with --house"
                );
                self.faults.push(Finding::placeless("unknown-note", what, help));
            }
            self.notes.push((note.clone(), offers));
        }
    }

    /// A limit on the cost needs all prices, asked for at once.
    fn unpriced(&mut self) {
        let lacking = self.drink.items.iter().filter(|item| {
            let offer = self.stock.offer(&item.what);
            !self.without.iter().any(|name| name == item.what.name())
                && !offer.is_some_and(|offer| offer.priced)
        });
        let names: Vec<String> = lacking.map(|item| format!("\"{}\"", item.what.name())).collect();
        if !names.is_empty() {
            let what = format!("--under needs the price of {}", names.join(", "));
            let help = "write them down in a house file, and give that with --house: [[candidate]] larder = \"…\", \
                        price = \"17.50 per 700 ml\"";
            self.faults.push(Finding::placeless("no-price", what, help));
        }
    }

    fn served(&self) -> Served {
        serve(&self.drink.brief, &self.drink.pours)
    }

    fn ask(&self) -> Ask<'_> {
        let priced =
            self.wish.under.is_some() || self.wish.aim.as_deref().is_some_and(|aim| aim.contains("cost"));
        Ask { priced, caffeine_free: self.wish.caffeine_free, not: &self.without }
    }

    /// The aim as a line of the brief.
    fn aim(&self) -> Result<String, Finding> {
        let words = self.wish.aim.as_deref().unwrap_or("nearest reference");
        let names: Vec<&str> = self.drink.items.iter().map(|item| item.what.name()).collect();
        aim::line(words, &names, &self.wish.notes)
    }

    fn candidate(&self, item: &Item) -> Option<&Candidate> {
        self.drink.brief.candidates.iter().find(|candidate| candidate.name == item.what.name())
    }

    fn written(&self) -> String {
        let mut text = Text(String::new());
        self.head(&mut text);
        let made = (self.drink.brief.serve.method, self.drink.ice);
        text.serve(made, &self.step().0, Some(self.drink.items.len() + 1), self.wish);
        self.reference(&mut text);
        self.hold(&mut text);
        self.targets(&mut text);
        text.aim(&self.aim().unwrap_or_default(), OF_ALL);
        let offered = self.candidates(&mut text);
        self.choices(&mut text, &offered);
        text.0
    }

    fn head(&self, text: &mut Text) {
        let line = self.wish.line.as_deref().unwrap_or_default();
        text.0.push_str("# From the drink as it stands on the card:\n");
        for line in line.lines().filter(|line| !line.trim().is_empty()) {
            text.0.push_str(&format!("#   {}\n", crate::read::one_line(line, 300)));
        }
        text.0
            .push_str("# Solve it with `washline spec` and the name of this file; change what you like.\n\n");
        text.head(&self.title(), self.wish);
        if self.wish.caffeine_free {
            text.table("[properties]", "what is measured beside the usual");
            text.line("caffeine = { unit = \"mg\" }", "as the larder and the house know it");
        }
    }

    fn title(&self) -> String {
        let names: Vec<&str> = self.drink.items.iter().take(3).map(|item| item.what.name()).collect();
        let card = self.wish.line.as_deref().unwrap_or_default();
        let called = line::heading(card, &self.stock.names()).map(|place| card[place].to_owned());
        let mut title = called.unwrap_or_else(|| upper_first(&names.join(", ")));
        if self.wish.lighter.is_some() {
            title.push_str(", lighter");
        }
        title
    }

    /// The bar's step: quarters of an ounce for a card in ounces.
    fn step(&self) -> (String, f64) {
        let ounces = self.drink.items.iter().any(|item| item.written == Written::Ounces);
        if ounces { ("0.25 fl oz".to_owned(), US_FLUID_OUNCE / 4.0) } else { ("2.5 ml".to_owned(), STEP) }
    }

    fn reference(&self, text: &mut Text) {
        text.table("[reference]", "the drink as it is now");
        for item in &self.drink.items {
            let comment = match item.written {
                Written::Top => "the top, taken as 90 ml: give your own",
                Written::Eggs => "by the egg, as ml",
                Written::Dashes => "dashes of 0.8 ml",
                Written::Ounces => "ounces of 29.57 ml",
                Written::Measured => "as poured now",
            };
            text.line(&format!("{} = {}", quoted(item.what.name()), amount(item)), comment);
        }
    }

    /// What stays as it is: within what a guest hardly notices, or within what the drink itself keeps to from serve to
    /// serve where that is more. A narrower margin would be missed by the drink as it is.
    fn hold(&self, text: &mut Text) {
        let served = self.served();
        text.table("[hold]", "what stays as it is in the glass, give or take");
        let values = CUSTOMARY.map(|(measure, _)| (measure, served.value(measure)));
        let serves = Serves::new(&self.drink.brief, Run::First);
        let strays = serves.strays(&self.drink.pours, &values, (MOST_SERVES, STRAY));
        for (((measure, within), (_, value)), stray) in CUSTOMARY.into_iter().zip(values).zip(strays) {
            let moves = measure == Measure::Strength && self.wish.lighter.is_some();
            if moves || value.is_nan() || value < within {
                continue;
            }
            let mut comment = format!("{}: now {}", unit(measure), trimmed(value, 1));
            let mut margin = within;
            if stray > within {
                let one = if within.fract() == 0.0 { 1.0 } else { 10.0 };
                margin = (stray * one).ceil() / one;
                comment.push_str("; nearly all serves of it are within this");
            }
            text.line(&format!("{} = {margin}", measure.keyword()), &comment);
        }
    }

    fn targets(&self, text: &mut Text) {
        let mut lines: Vec<(String, String)> = Vec::new();
        if let Some(most) = self.wish.lighter {
            let now = trimmed(self.served().value(Measure::Strength), 1);
            lines.push((format!("strength = {{ max = {most} }}"), format!("% vol: now {now}")));
        } else if self.served().value(Measure::Strength) < 0.5 {
            lines.push(("strength = { max = 0.5 }".to_owned(), "% vol: it has no alcohol".to_owned()));
        }
        if let Some(most) = self.wish.under {
            lines.push((format!("cost = {{ max = {most} }}"), "a serve, in the house's money".to_owned()));
        }
        if self.wish.caffeine_free {
            lines.push(("caffeine = { max = 0 }".to_owned(), "mg a serve".to_owned()));
        }
        for (measure, least, most) in self.wish.family.iter().flat_map(|family| family.ranges) {
            let taken = *measure == Measure::Strength && self.wish.lighter.is_some();
            if !taken && *measure != Measure::Volume {
                let comment = format!("{}: usual for the family; common practice, no source", unit(*measure));
                let line = format!("{} = {{ min = {least}, max = {most} }}", measure.keyword());
                if !lines.iter().any(|(there, _)| there.starts_with(measure.keyword())) {
                    lines.push((line, comment));
                }
            }
        }
        if lines.is_empty() {
            return;
        }
        text.table("[targets]", "what it has to measure in the glass, after the ice");
        lines.iter().for_each(|(line, comment)| text.line(line, comment));
    }

    /// Writes all candidates; gives their roles and names, and whether each may be used.
    fn candidates(&self, text: &mut Text) -> Vec<(Role, String, bool)> {
        let mut there: Vec<(Role, String, bool)> = Vec::new();
        for item in &self.drink.items {
            let Some(candidate) = self.candidate(item) else { continue };
            let out = self.without.contains(&candidate.name);
            let caffeine = self.stock.offer(&item.what).is_some_and(|offer| offer.caffeine > 0.0);
            let out = out || (self.wish.caffeine_free && caffeine);
            there.push((candidate.role, candidate.name.clone(), !out));
            self.own(text, item, candidate, out);
            for offer in self.stock.stand_ins(candidate, self.ask()) {
                let known = self.drink.items.iter().any(|item| item.what.name() == offer.what.name());
                if known || there.iter().any(|(_, name, _)| name == offer.what.name()) {
                    continue;
                }
                there.push((offer.role, offer.what.name().to_owned(), true));
                let about = format!("could stand in for {}", candidate.name);
                text.candidate(&offer.what, &about);
                tops(text, item);
                self.amounts(text, item, offer.role);
            }
        }
        let mut more: Vec<(Offer, String)> = Vec::new();
        for (note, offers) in &self.notes {
            more.extend(offers.iter().map(|offer| (offer.clone(), format!("carries the note {note}"))));
        }
        if self.wish.lighter.is_some() {
            let long = self.stock.long(self.ask()).into_iter();
            more.extend(long.map(|offer| (offer, "fills the glass where the base shrinks".to_owned())));
        }
        for (offer, about) in more {
            if there.iter().any(|(_, name, _)| name == offer.what.name()) {
                continue;
            }
            there.push((offer.role, offer.what.name().to_owned(), true));
            text.candidate(&offer.what, &about);
            text.line(&format!("min = \"{TRACE} ml\""), "where it is used at all: less is not tasted");
        }
        there
    }

    fn own(&self, text: &mut Text, item: &Item, candidate: &Candidate, out: bool) {
        text.candidate(&item.what, "of the drink itself");
        tops(text, item);
        if out {
            text.line("out = true", "known, for the drink as it is now, but not to be used");
            return;
        }
        self.amounts(text, item, candidate.role);
    }

    /// Its own step and least amount.
    fn amounts(&self, text: &mut Text, item: &Item, role: Role) {
        if item.amount.unit == Unit::G {
            return;
        }
        let step = self.step().1;
        let whole = |step: f64| ((item.amount.value / step).round() * step - item.amount.value).abs() < 1e-6;
        let small = item.written == Written::Dashes || role == Role::Bitters;
        if small && item.amount.value < TRACE {
            text.line("pour = \"0.8 ml\"", "by the dash");
            text.line(
                &format!("max = \"{} ml\"", trimmed(2.0 * item.amount.value, 2)),
                "more would be all one tastes",
            );
        } else if self.wish.pour.is_none() && !whole(step) {
            text.line("pour = \"0.5 ml\"", "the card has it finer than the bar's step");
        }
        if !small && item.amount.value >= TRACE {
            let needs = self.wish.family.map_or(&[][..], |family| family.needs);
            let usual = needs.iter().find(|need| need.role == role).map_or(TRACE, |need| need.least);
            let least = usual.min(item.amount.value);
            text.line(
                &format!("min = \"{} ml\"", trimmed(least, 2)),
                "where it is used at all: less is not tasted",
            );
        }
    }

    fn choices(&self, text: &mut Text, there: &[(Role, String, bool)]) {
        for role in [Role::Base, Role::Modifier, Role::Sour, Role::Sweetener, Role::Bitters] {
            let now = self
                .drink
                .items
                .iter()
                .filter_map(|item| self.candidate(item))
                .filter(|c| c.role == role)
                .count();
            let may = there.iter().filter(|(of, _, may)| *of == role && *may).count();
            if now == 0 || may == 0 {
                continue;
            }
            // Of what seasons it there may be more, as a note may ask for.
            let most = (!matches!(role, Role::Modifier | Role::Bitters)).then_some(now);
            text.choose(&format!("how many of a kind: the drink has {now}"), role, most);
        }
        for (note, _) in &self.notes {
            text.table("[[choose]]", "a note: words are counted here, nothing is tasted");
            text.line(&format!("note = {}", quoted(note)), "all ingredients that carry it");
            text.line("min = 1", "at least so many of them");
        }
    }
}

/// What is said of a drink's top, and of what could stand in for it.
fn tops(text: &mut Text, item: &Item) {
    if item.top {
        text.line("top = true", "poured last, after the ice's work");
    }
}

/// `"50 ml"`, without the dust of a unit's factor.
fn amount(item: &Item) -> String {
    let ounces = (item.amount.value / US_FLUID_OUNCE * 1e4).round() / 1e4;
    if item.written == Written::Ounces && (ounces * US_FLUID_OUNCE - item.amount.value).abs() < 1e-9 {
        return format!("\"{} fl oz\"", trimmed(ounces, 4));
    }
    format!("\"{} {}\"", trimmed(item.amount.value, 3), item.amount.unit.symbol())
}
