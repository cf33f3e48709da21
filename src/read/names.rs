//! Every name that a brief can refer to.

use std::collections::BTreeMap;

use super::codes;
use super::file::{At, Candidate, File, listed};
use super::findings::{Findings, guess, guess_key};
use super::shape::{self, shown};
use crate::brief::{Goal, Measure, Property};
use crate::larder;
use crate::quantity::Currency;

/// What the names of a brief mean.
#[derive(Debug, Default)]
pub struct Names {
    /// Candidates in the order of the file; empty where one has no name.
    candidates: Vec<String>,
    /// The first candidate of each name.
    places: BTreeMap<String, usize>,
    /// Properties in the order of the file.
    properties: Vec<String>,
    /// Whether every candidate is known by its name.
    complete: bool,
    /// The currency that the file names, if it can be read: money may stand with its sign.
    currency: Option<Currency>,
}

impl Names {
    /// Collects the names and reports those that lack, stand twice or are taken.
    pub fn collect(file: &File, properties: &[Property], findings: &mut Findings) -> Self {
        let mut names = Self {
            complete: !findings.is_spoiled("candidate"),
            properties: properties.iter().map(|p| p.name.clone()).collect(),
            currency: file.currency.as_ref().and_then(|code| Currency::parse(code).ok()),
            ..Self::default()
        };
        let candidates = listed(file.candidate.as_ref());
        for (at, candidate) in candidates.iter().enumerate() {
            let name = called(candidate);
            let Some(name) = name.filter(|n| !n.trim().is_empty()) else {
                names.nameless(at, name, candidate, findings);
                continue;
            };
            names.candidates.push(name.value.clone());
            match names.places.get(&name.value).map(|first| &candidates[*first]).and_then(called) {
                None => drop(names.places.insert(name.value.clone(), at)),
                Some(first) => {
                    let what = format!("there is a second ingredient named \"{}\"", shown(name));
                    findings.repeated(codes::DUPLICATE_NAME, name.place(), what, first.place.start);
                }
            }
        }
        names
    }

    fn nameless<T>(
        &mut self,
        at: usize,
        name: Option<&At<String>>,
        candidate: &At<T>,
        findings: &mut Findings,
    ) {
        self.complete = false;
        self.candidates.push(String::new());
        if !findings.is_spoiled(&format!("candidate.{at}.name")) {
            let place = name.map_or_else(|| candidate.place(), At::place);
            let help = "give it a name = \"…\", or larder = \"…\" to take a built-in one";
            findings.error(codes::NO_NAME, place, "this ingredient has no name", help);
        }
    }

    /// The name of a candidate.
    pub fn of(&self, candidate: usize) -> &str {
        self.candidates.get(candidate).map_or("", String::as_str)
    }

    /// The candidate of a name, silently.
    pub fn find(&self, name: &str) -> Option<usize> {
        self.places.get(name).copied()
    }

    /// The currency that the file names.
    pub fn currency(&self) -> Option<&Currency> {
        self.currency.as_ref()
    }

    /// All names of candidates.
    pub fn candidates(&self) -> impl Iterator<Item = &str> {
        self.places.keys().map(String::as_str)
    }

    /// The candidate that a name refers to; a finding where there is none.
    pub fn candidate(&self, name: &At<String>, findings: &mut Findings) -> Option<usize> {
        let found = self.find(name);
        if found.is_none() && self.complete {
            let help = guess(findings.closest(name, self.candidates()), || match larder::find(name) {
                Some(_) => format!("the larder has it: add [[candidate]] with larder = \"{}\"", shown(name)),
                None => "add it as a [[candidate]]".to_owned(),
            });
            let what = format!("no ingredient is named \"{}\"", shown(name));
            findings.error(codes::UNKNOWN_NAME, name.place(), what, help);
        }
        found
    }

    /// The measure of a name: a target name or a property.
    pub fn measure(&self, name: &str) -> Option<Measure> {
        let built_in = Measure::BUILT_IN.into_iter().find(|m| m.keyword() == name);
        built_in.or_else(|| self.property(name).map(Measure::Property))
    }

    /// The property of a name.
    pub fn property(&self, name: &str) -> Option<usize> {
        self.properties.iter().position(|p| p == name)
    }

    /// All names of measures.
    pub fn measures(&self) -> impl Iterator<Item = &str> {
        Measure::BUILT_IN
            .iter()
            .map(|m| -> &str { m.keyword() })
            .chain(self.properties.iter().map(String::as_str))
    }

    /// The measure that a key names; a finding where there is none.
    pub fn measure_key(&self, key: &At<String>, table: &str, findings: &mut Findings) -> Option<Measure> {
        let found = self.measure(key);
        if found.is_none() && !findings.is_spoiled("properties") {
            let also = shape::also(key, &|ours| self.measure(ours).is_some());
            let help = guess_key(also.or_else(|| findings.closest(key, self.measures())), || {
                let keys = self.measures().collect::<Vec<_>>().join(", ");
                format!("the keys here are {keys}; declare anything else under [properties]")
            });
            let what = format!("`{}` is nothing that is measured, so no key of {table}", shown(key));
            findings.error(codes::UNKNOWN_KEY, key.place(), what, help);
        }
        found
    }

    /// What a word of the aim names: a measure, a property or an ingredient, in that order.
    pub fn goal(&self, word: &At<String>, findings: &mut Findings) -> Option<Goal> {
        let found = self.measure(word).map(Goal::Measure).or_else(|| self.find(word).map(Goal::Ingredient));
        if found.is_none() && self.complete && !findings.is_spoiled("properties") {
            let also = shape::also(word, &|ours| self.measure(ours).is_some());
            let near = || findings.closest(word, self.measures().chain(self.candidates()));
            let help = guess(also.or_else(near), || "name a target, a property or an ingredient".to_owned());
            let what = format!("nothing is named \"{}\"", shown(word));
            findings.error(codes::UNKNOWN_NAME, word.place(), what, help);
        }
        found
    }
}

/// What a candidate is called.
fn called(candidate: &At<Candidate>) -> Option<&At<String>> {
    candidate.name.as_ref().or(candidate.larder.as_ref()).or(candidate.house.as_ref())
}
