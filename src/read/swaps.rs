//! `--swap OLD=NEW`: an ingredient goes out, another takes its place in the rules.
//!
//! What comes in takes the place of what goes out in every group of `[[choose]]` (an ingredient fresh from
//! the larder takes its role, too) and has to be used. A `[[proportion]]` with what goes out is dropped: it
//! was made for that ingredient, and nothing says that it suits another.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};

use super::findings::{Findings, closest, guess};
use super::house::{self, Shelf};
use super::shape::shown;
use super::tables::{Item, fresh, list_mut, name_in, put_at, table_mut, table_of, text, word};
use super::{Changes, HeldBy, Swap, Swapped, codes};
use crate::brief::Brief;
use crate::larder;
use crate::liquid::Form;

/// What goes out and what comes in for it, by name.
#[derive(Debug)]
pub struct Pair {
    old: String,
    new: String,
    /// Where the swap stands.
    place: Range<usize>,
    /// Whether it comes in together with the others of a blend; else by itself, or as one of several that are offered.
    blend: bool,
}

/// What the swaps made of a document, in names.
#[derive(Debug, Default)]
pub struct Made {
    /// What goes out and what comes in.
    pairs: Vec<Pair>,
    /// Proportions that were dropped, in words.
    dropped: Vec<String>,
    /// The brief's own aim, in words, where the nearest to the reference took its place.
    aside: Option<String>,
}

impl Made {
    /// The same by the places of the candidates.
    pub fn of(self, brief: &Brief, held: HeldBy) -> Swapped {
        let place = |pair: &Pair| Some((brief.find(&pair.old)?, brief.find(&pair.new)?));
        let pairs = self.pairs.iter().filter_map(place).collect();
        Swapped { pairs, held, aside: self.aside, dropped: self.dropped }
    }
}

type Items<'s> = [Item<'s>];

/// Swaps ingredients, before any settings; each change stands at its place.
pub fn apply<'s>(
    document: &mut DeTable<'s>,
    swaps: &'s [Swap],
    shelf: Option<&Shelf<'s>>,
    places: &[Range<usize>],
    findings: &mut Findings,
) -> Made {
    let mut made = Made::default();
    // A list of another kind is reported where its shape is looked at.
    let Some(items) = list_mut(document, "candidate") else { return made };
    for (swap, place) in swaps.iter().zip(places) {
        let parts = parts(items, swap);
        for part in &parts {
            match one(items, part, (swaps, shelf), place) {
                Ok((old, new)) => {
                    made.pairs.push(Pair { old, new, place: place.clone(), blend: parts.len() > 1 });
                }
                Err((what, help)) => findings.error(codes::BAD_SWAP, place.clone(), what, help),
            }
        }
    }
    for Pair { old, .. } in &made.pairs {
        if made.pairs.iter().any(|pair| pair.new == *old) {
            let place = places.first().cloned().unwrap_or_default();
            let what = format!("\"{}\" is to come in and to go out", shown(old));
            findings.error(codes::BAD_SWAP, place, what, "swap each ingredient one way only");
        }
    }
    must_be_used(document, &made.pairs);
    stand_in(document, &made.pairs);
    made.dropped = drop_proportions(document, &made.pairs);
    made
}

/// What stands between the parts of a blend.
const AND: &str = " + ";

/// A swap for each part of a blend, `verjus + lemon juice`; the swap itself where something is called so.
fn parts(items: &Items, swap: &Swap) -> Vec<Swap> {
    let known = find(items, &swap.new).is_some() || larder::find(swap.new.trim()).is_some();
    if known || !swap.new.contains(AND) {
        return vec![swap.clone()];
    }
    let part = |new: &str| Swap { old: swap.old.clone(), new: new.trim().to_owned() };
    swap.new.split(AND).map(part).collect()
}

/// What is wrong, and what to do.
type Fault = (String, String);

/// Takes one out and lets the other in; gives both names.
fn one<'s>(
    items: &mut DeArray<'s>,
    swap: &Swap,
    (swaps, shelf): (&[Swap], Option<&Shelf<'s>>),
    place: &Range<usize>,
) -> Result<(String, String), Fault> {
    let Some(old) = find(items, &swap.old) else { return Err(unknown_old(items, swap)) };
    let name = |items: &Items, at: usize| items.get(at).and_then(name_in).unwrap_or_default().to_owned();
    let (new, fresh) = match find(items, &swap.new) {
        Some(at) => (at, false),
        None => match arrival(items, swap, shelf, place) {
            Some(arrival) => arrival,
            None => return Err(unknown_new(items, swap, shelf)),
        },
    };
    if old == new {
        let what = format!("\"{}\" cannot take its own place", shown(&swap.old));
        return Err((what, "name another ingredient to come in".to_owned()));
    }
    if fresh && let Some(role) = role_of(items, old) {
        put(items, new, "role", text(role), place);
        if let Some(least) = least(items, old, new) {
            put(items, new, "min", least, place);
        }
    }
    put(items, old, "out", DeValue::Boolean(true), place);
    forget(items, old, "must");
    // What goes out by another swap stays out.
    if !swaps.iter().any(|s| find(items, &s.old) == Some(new)) {
        forget(items, new, "out");
    }
    Ok((name(items, old), name(items, new)))
}

/// What comes in from outside the brief, and whether it is new there: the house knows its prices, so it is
/// asked first.
fn arrival<'s>(
    items: &mut DeArray<'s>,
    swap: &Swap,
    shelf: Option<&Shelf<'s>>,
    place: &Range<usize>,
) -> Option<(usize, bool)> {
    let of_house = shelf.and_then(|shelf| shelf.find(&swap.new).and_then(|at| house::whole(shelf, at)));
    if let Some(item) = of_house {
        items.push(item);
        return Some((items.len() - 1, true));
    }
    let entry = larder::find(swap.new.trim())?;
    if let Some(at) = find(items, &entry.name) {
        return Some((at, false));
    }
    items.push(fresh(&entry.name, place));
    Some((items.len() - 1, true))
}

/// The candidate of a name: its own, else its own but for the letter case, else its larder entry's.
fn find(items: &Items, name: &str) -> Option<usize> {
    let name = name.trim();
    let exact = items.iter().position(|item| name_in(item) == Some(name));
    let folded = || items.iter().position(|i| name_in(i).is_some_and(|n| n.eq_ignore_ascii_case(name)));
    let larder = |item: &Item| item.get_ref().as_table().is_some_and(|t| word(t, "larder") == Some(name));
    let by_larder = || items.iter().position(larder);
    exact.or_else(folded).or_else(by_larder)
}

fn unknown_old(items: &Items, swap: &Swap) -> Fault {
    let names: Vec<&str> = items.iter().filter_map(name_in).collect();
    let meant = closest(&swap.old, names.iter().copied());
    let help = guess(meant, || format!("what goes out is one of {}", names.join("; ")));
    (format!("the brief has no ingredient \"{}\" to take out", shown(&swap.old)), help)
}

fn unknown_new(items: &Items, swap: &Swap, shelf: Option<&Shelf<'_>>) -> Fault {
    let own = items.iter().filter_map(name_in);
    let own = own.chain(shelf.into_iter().flat_map(Shelf::names));
    let help = guess(closest(&swap.new, own), || match larder::closest(&swap.new) {
        Some(entry) => format!("did you mean \"{}\" of the larder?", entry.name),
        None => "`washline larder` lists what is built in; or add it as a [[candidate]]".to_owned(),
    });
    (format!("neither the brief nor the larder has \"{}\"", shown(&swap.new)), help)
}

/// The role that a candidate states, or that its larder entry has.
fn role_of(items: &Items, at: usize) -> Option<String> {
    let table = items.get(at)?.get_ref().as_table()?;
    let own = word(table, "role").map(str::to_owned);
    own.or_else(|| larder::find(word(table, "larder")?).map(|entry| entry.role.keyword().to_owned()))
}

/// The least that is poured of what goes out, where both are poured or both weighed: less of what comes in is not tasted
/// either. What comes from the house may know its own.
fn least<'s>(items: &Items<'s>, old: usize, new: usize) -> Option<DeValue<'s>> {
    let table = |at: usize| items.get(at).and_then(|item| item.get_ref().as_table());
    let (old, new) = (table(old)?, table(new)?);
    let least = old.get("min").filter(|_| !new.contains_key("min") && is_powder(old) == is_powder(new));
    least.map(|least| least.get_ref().clone())
}

fn is_powder(table: &DeTable) -> bool {
    let entry = word(table, "larder").and_then(larder::find);
    word(table, "form")
        .map_or(entry.is_some_and(|entry| entry.label.form == Form::Powder), |form| form == "powder")
}

fn put<'s>(items: &mut Items<'s>, at: usize, key: &'static str, value: DeValue<'s>, place: &Range<usize>) {
    if let Some(table) = items.get_mut(at).and_then(table_mut) {
        put_at(table, key, value, place);
    }
}

fn forget(items: &mut Items, at: usize, key: &str) {
    if let Some(table) = items.get_mut(at).and_then(table_mut) {
        table.remove(key);
    }
}

/// What comes in has to be used, and all parts of a blend; where several are offered for one that goes out, at least one of them.
fn must_be_used(document: &mut DeTable, pairs: &[Pair]) {
    for Pair { old, new, place, blend } in pairs {
        let offered: Vec<&str> = pairs.iter().filter(|p| p.old == *old).map(|p| p.new.as_str()).collect();
        if offered.len() == 1 || *blend {
            if let Some(items) = list_mut(document, "candidate")
                && let Some(candidate) = find(items, new)
            {
                put(items, candidate, "must", DeValue::Boolean(true), place);
            }
        } else if offered.first() == Some(&new.as_str()) {
            choose_among(document, &offered, place);
        }
    }
}

fn choose_among(document: &mut DeTable, names: &[&str], place: &Range<usize>) {
    let among = names.iter().map(|name| Spanned::new(place.clone(), text((*name).to_owned()))).collect();
    let mut rule = DeTable::new();
    put_at(&mut rule, "among", DeValue::Array(among), place);
    let one = DeValue::parse("1").map_or(DeValue::Boolean(false), Spanned::into_inner);
    put_at(&mut rule, "min", one, place);
    if !document.contains_key("choose") {
        put_at(document, "choose", DeValue::Array(DeArray::new()), place);
    }
    if let Some(rules) = list_mut(document, "choose") {
        rules.push(Spanned::new(place.clone(), DeValue::Table(rule)));
    }
}

/// In groups by name what comes in stands where what goes out stood.
fn stand_in(document: &mut DeTable, pairs: &[Pair]) {
    let Some(rules) = list_mut(document, "choose") else { return };
    for rule in rules.iter_mut().filter_map(table_mut) {
        let Some(among) = list_mut(rule, "among") else { continue };
        for Pair { old, new, .. } in pairs {
            let member = |among: &DeArray, name: &str| {
                among.iter().position(|item| item.get_ref().as_str() == Some(name))
            };
            if let (Some(at), None) = (member(among, old), member(among, new)) {
                let span = among.get(at).map(Spanned::span).unwrap_or_default();
                among.push(Spanned::new(span, text(new.clone())));
            }
        }
    }
}

/// Drops the proportions with what goes out; gives them in words.
fn drop_proportions(document: &mut DeTable, pairs: &[Pair]) -> Vec<String> {
    let mut dropped = Vec::new();
    let Some(rules) = list_mut(document, "proportion") else { return dropped };
    let kept: DeArray = std::mem::replace(rules, DeArray::new())
        .into_iter()
        .filter(|rule| {
            let side = |key| word(rule.get_ref().as_table()?, key);
            let (of, to) = (side("of"), side("to"));
            let gone = pairs.iter().any(|pair| [of, to].contains(&Some(pair.old.as_str())));
            if gone {
                dropped.push(format!("{} to {}", of.unwrap_or_default(), to.unwrap_or_default()));
            }
            !gone
        })
        .collect();
    *rules = kept;
    dropped
}

/// After the settings: a swap changes the drink as little as it can, unless the brief aims near
/// something itself or a setting says what to aim for. And it needs a reference.
pub fn aim_near(
    document: &mut DeTable,
    changes: &Changes,
    places: &[Range<usize>],
    made: &mut Made,
    findings: &mut Findings,
) {
    let Some(place) = places.first() else { return };
    if !document.contains_key("reference") {
        let what = "a swap needs the spec that the drink comes from";
        findings.error(codes::NO_REFERENCE, place.clone(), what, "add [reference] with its pours");
        return;
    }
    let own = document.get("aim").and_then(|aim| aim.get_ref().as_table());
    if own.is_some_and(|aim| aim.contains_key("nearest"))
        || changes.settings.iter().any(|setting| setting.is_under("aim"))
    {
        return;
    }
    let words = own.map(|aim| {
        let word = |value: &DeValue| match value {
            DeValue::Table(_) => Some("notes".to_owned()),
            other => other.as_str().map(str::to_owned),
        };
        let parts = aim.iter().filter_map(|(key, value)| Some((key.get_ref(), word(value.get_ref())?)));
        parts.map(|(key, value)| format!("{key} {value}")).collect::<Vec<_>>().join(", ")
    });
    made.aside = words.filter(|words| !words.is_empty());
    put_at(document, "aim", table_of("nearest", text("reference"), place), place);
}
