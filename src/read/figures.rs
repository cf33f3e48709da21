//! Figures as people have them: with a unit, or one where a range is meant.
//!
//! `volume = { min = "3 1/4 fl oz" }`, `strength = "80 proof"`, `sugar = "46 brix"`, `strength = 12`, `hold = "close"`,
//! or a `[reference]` alone. Each is turned into what the contract has for it, at its own place in the text, before
//! the walk along the schema: what follows knows numbers only.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::findings::Findings;
use super::shape::{self, shown};
use super::tables::{Item, moved, table_mut, word, words_in};
use super::{codes, measured, tables};
use crate::brief::Measure;
use crate::quantity::{Currency, NotAQuantity};

/// What was said in few words.
#[derive(Debug, Default)]
pub struct Said {
    /// Targets of one figure, by their keys.
    pub about: Vec<(String, f64)>,
    /// How near the reference is held, where a word says so.
    pub hold: Option<Near>,
}

/// How near a drink stays to its reference.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Near {
    /// A guest hardly notices.
    Close,
    /// A guest knows the drink again.
    Loose,
}

/// A value that takes the place of another: TOML, or nothing.
#[derive(Debug)]
pub struct Rewritten {
    path: Vec<String>,
    value: Option<String>,
    place: Range<usize>,
}

/// Finds everything in a document that is written so.
pub fn find(document: &DeTable, findings: &mut Findings) -> (Vec<Rewritten>, Said) {
    let mut look = Look { units: Units::of(document), rewritten: vec![], said: Said::default(), findings };
    look.candidates(document);
    look.targets(document);
    look.hold(document);
    (look.rewritten, look.said)
}

/// Puts what was found into the document.
pub fn put<'s>(document: &mut DeTable<'s>, all: &'s [Rewritten]) {
    for one in all {
        let value = one.value.as_deref().and_then(|text| DeValue::parse(text).ok());
        replace(document, &one.path, value.map(|value| moved(value, &|_| one.place.clone())), &one.place);
    }
}

fn replace<'s>(table: &mut DeTable<'s>, path: &'s [String], value: Option<Item<'s>>, place: &Range<usize>) {
    match path {
        [] => {}
        [key] => match value {
            Some(value) => tables::put(table, key.as_str(), value, place),
            None => drop(table.remove(key.as_str())),
        },
        [first, rest @ ..] => match table.get_mut(first.as_str()).map(Spanned::get_mut) {
            Some(DeValue::Table(inner)) => replace(inner, rest, value, place),
            Some(DeValue::Array(items)) => {
                let Some((which, rest)) = rest.split_first() else { return };
                let item = which.parse::<usize>().ok().and_then(|at| items.get_mut(at));
                if let Some(inner) = item.and_then(table_mut) {
                    replace(inner, rest, value, place);
                }
            }
            _ => {}
        },
    }
}

/// What the units of a brief's own are.
struct Units {
    currency: Option<Currency>,
    properties: Vec<(String, String)>,
}

impl Units {
    fn of(document: &DeTable) -> Self {
        Self {
            currency: word(document, "currency").and_then(|code| Currency::parse(code).ok()),
            properties: words_in(document, "properties", "unit"),
        }
    }

    /// The figure of a text in the unit of a target.
    fn read(&self, key: &str, text: &str) -> Result<f64, NotAQuantity> {
        if let Some(measure) = Measure::BUILT_IN.into_iter().find(|measure| measure.keyword() == key) {
            measured::target(measure, text, self.currency.as_ref())
        } else {
            let unit = self.properties.iter().find(|(name, _)| name == key).map(|(_, unit)| unit.as_str());
            measured::property(text, unit.unwrap_or_default())
        }
    }
}

struct Look<'f> {
    units: Units,
    rewritten: Vec<Rewritten>,
    said: Said,
    findings: &'f mut Findings,
}

impl Look<'_> {
    fn put(&mut self, path: &[&str], value: Option<String>, place: Range<usize>) {
        let path = path.iter().map(|part| (*part).to_owned()).collect();
        self.rewritten.push(Rewritten { path, value, place });
    }

    fn rewrite(&mut self, path: &[&str], value: String, place: Range<usize>) {
        self.put(path, Some(value), place);
    }

    /// Takes out what could not be read, with the reason.
    fn refuse(&mut self, path: &[&str], place: Range<usize>, fault: NotAQuantity) {
        // Words alone are of the wrong kind where a number is wanted.
        let words = fault.what.ends_with(measured::NO_NUMBER);
        let code = if words { codes::WRONG_TYPE } else { codes::BAD_QUANTITY };
        self.findings.error(code, place.clone(), fault.what, fault.help);
        self.findings.spoil(path.join("."));
        self.put(path, None, place);
    }

    /// Strength, sugar and acid of ingredients.
    fn candidates(&mut self, document: &DeTable) {
        let Some(DeValue::Array(items)) = document.get("candidate").map(Spanned::get_ref) else { return };
        for (at, item) in items.iter().enumerate() {
            let DeValue::Table(table) = item.get_ref() else { continue };
            for key in ["strength", "sugar", "brix", "acid"] {
                if let Some(value) = table.get(key) {
                    self.figure(&["candidate", &at.to_string(), key], key, value);
                }
            }
        }
    }

    /// One figure, or a typical one with its ends.
    fn figure(&mut self, path: &[&str], key: &str, value: &Spanned<DeValue>) {
        match value.get_ref() {
            DeValue::String(text) => match measured::content(key, text) {
                Ok((unit, number)) => {
                    self.moved(path, key, unit);
                    let path = [&path[..path.len() - 1], &[unit]].concat();
                    self.rewrite(&path, format!("{number:?}"), value.span());
                }
                Err(fault) => self.refuse(path, value.span(), fault),
            },
            DeValue::Table(ends) if ends.iter().any(|(_, end)| end.get_ref().is_str()) => {
                self.ends(path, key, ends, value.span());
            }
            _ => {}
        }
    }

    /// A figure that moves to another key, as sugar in Brix does.
    fn moved(&mut self, path: &[&str], key: &str, unit: &str) {
        if key != unit {
            self.put(path, None, 0..0);
        }
    }

    fn ends(&mut self, path: &[&str], key: &str, ends: &DeTable, place: Range<usize>) {
        let mut written = Vec::new();
        let mut units = Vec::new();
        for (name, end) in ends {
            let number = match end.get_ref() {
                DeValue::String(text) => match measured::content(key, text) {
                    Ok((unit, number)) => {
                        units.push(unit);
                        number
                    }
                    Err(fault) => return self.refuse(path, end.span(), fault),
                },
                other => shape::number(other).0,
            };
            written.push(format!("{:?} = {number:?}", name.get_ref()));
        }
        let unit = units.first().copied().unwrap_or(key);
        if units.len() < ends.len() && unit != key || units.iter().any(|other| *other != unit) {
            let help = "write typical, min and max in the same unit";
            return self.refuse(
                path,
                place,
                NotAQuantity::new("the figures of this range differ in unit", help),
            );
        }
        self.moved(path, key, unit);
        let path = [&path[..path.len() - 1], &[unit]].concat();
        self.rewrite(&path, format!("{{ {} }}", written.join(", ")), place);
    }

    fn targets(&mut self, document: &DeTable) {
        let Some(DeValue::Table(targets)) = document.get("targets").map(Spanned::get_ref) else { return };
        for (key, value) in targets {
            let key = key.get_ref().as_ref();
            match value.get_ref() {
                DeValue::Table(sides) => {
                    for (side, limit) in sides {
                        self.limit(&["targets", key, side.get_ref()], key, limit);
                    }
                }
                DeValue::String(text) => match self.units.read(key, text) {
                    Ok(figure) => self.about(key, figure, value.span()),
                    Err(fault) => self.refuse(&["targets", key], value.span(), fault),
                },
                number @ (DeValue::Integer(_) | DeValue::Float(_)) => {
                    let figure = shape::number(number).0;
                    if figure.is_finite() {
                        self.about(key, figure, value.span());
                    }
                }
                _ => {}
            }
        }
    }

    /// A target of one figure: that figure, give or take what is usual.
    fn about(&mut self, key: &str, figure: f64, place: Range<usize>) {
        let width = measured::width(key, figure);
        let (min, max) = ((figure - width).max(figure.min(0.0)), figure + width);
        self.said.about.push((key.to_owned(), figure));
        self.rewrite(&["targets", key], format!("{{ min = {min:?}, max = {max:?} }}"), place);
    }

    fn limit(&mut self, path: &[&str], key: &str, limit: &Spanned<DeValue>) {
        let DeValue::String(text) = limit.get_ref() else { return };
        match self.units.read(key, text) {
            Ok(figure) => self.rewrite(path, format!("{figure:?}"), limit.span()),
            Err(fault) => self.refuse(path, limit.span(), fault),
        }
    }

    fn hold(&mut self, document: &DeTable) {
        match document.get("hold") {
            Some(hold) => match hold.get_ref() {
                DeValue::String(word) => {
                    self.hold_word(word, hold.span());
                    if !document.contains_key("reference") {
                        let what = "this needs the spec that the drink comes from";
                        let help = "add [reference] with its pours";
                        self.findings.error(codes::NO_REFERENCE, hold.span(), what, help);
                    }
                }
                DeValue::Table(entries) => {
                    for (key, within) in entries {
                        self.limit(&["hold", key.get_ref()], key.get_ref(), within);
                    }
                }
                _ => {}
            },
            None if document.contains_key("reference") && !document.contains_key("aim") => {
                // A reference alone: what is near it.
                self.said.hold = (!document.contains_key("targets")).then_some(Near::Close);
            }
            None => {}
        }
        if let Some(reference) = document.get("reference").filter(|_| !document.contains_key("aim")) {
            self.rewrite(&["aim"], "{ nearest = \"reference\" }".to_owned(), reference.span());
        }
    }

    fn hold_word(&mut self, word: &str, place: Range<usize>) {
        self.said.hold = match word.trim() {
            "close" => Some(Near::Close),
            "loose" => Some(Near::Loose),
            _ => {
                let what = format!("`hold` cannot be \"{}\"", shown(word));
                let help = "write \"close\" or \"loose\", or a [hold] table: strength = 0.5";
                self.findings.error(codes::UNKNOWN_WORD, place.clone(), what, help);
                self.findings.spoil("hold");
                None
            }
        };
        self.put(&["hold"], None, place);
    }
}
