//! Preparations made in house: composition, ranges and cost by mass balance, in the order in which
//! they need each other. No recursion: a chain of preparations may be as long as the file.

use std::collections::BTreeSet;

use super::label::Composition;
use super::{cost, ingredient, mix, order};
use crate::brief::{Candidate, Origin, Part, Preparation, Property};
use crate::larder;
use crate::liquid::Form;
use crate::quantity::Amount;
use crate::quantity::number::trimmed;
use crate::read::codes;
use crate::read::file::{self, At, By, FIGURES, Made, entries};
use crate::read::findings::{Findings, guess};
use crate::read::names::Names;
use crate::read::shape::shown;

/// Solids that the volume does not know matter from this share of the mass; common practice, no source.
const UNCOUNTED: f64 = 0.02;
/// More raw parts than any recipe has; beyond it nested preparations could grow without bound.
const MOST_PARTS: usize = 100;
/// How many names of a cycle are worth showing.
const SHOWN: usize = 6;

/// Works out all preparations among the candidates.
pub fn all(
    written: &[At<file::Candidate>],
    candidates: Vec<Candidate>,
    names: &Names,
    properties: &[Property],
    findings: &mut Findings,
) -> Vec<Candidate> {
    let mut kitchen = Kitchen { written, candidates, names, properties };
    let (order, broken) = kitchen.order(findings);
    for at in order {
        let prepared = if broken.contains(&at) {
            kitchen.look_over(at, findings);
            None
        } else {
            kitchen.prepared(at, findings)
        };
        match prepared {
            Some(prepared) => kitchen.candidates[at] = prepared,
            None => kitchen.spoil(at, findings),
        }
    }
    kitchen.candidates
}

struct Kitchen<'f> {
    written: &'f [At<file::Candidate>],
    candidates: Vec<Candidate>,
    names: &'f Names,
    properties: &'f [Property],
}

impl<'f> Kitchen<'f> {
    fn made(&self, at: usize) -> Option<&'f At<Made>> {
        self.written.get(at).and_then(|candidate| candidate.made.as_ref())
    }

    fn parts(&self, at: usize) -> &'f [(At<String>, At<f64>)] {
        self.made(at).map_or(&[], |made| entries(made.parts.as_ref()))
    }

    /// The preparations in such an order that each comes after those that it needs, and which of them
    /// need themselves.
    fn order(&self, findings: &mut Findings) -> (Vec<usize>, BTreeSet<usize>) {
        let count = self.written.len();
        let made = (0..count).filter(|at| self.made(*at).is_some());
        let needs = |at: usize, nth: usize| {
            let (name, _) = self.parts(at).get(nth)?;
            Some(self.names.find(name).filter(|next| self.made(*next).is_some()))
        };
        let order = order::order(count, made, needs);
        for cycle in &order.cycles {
            let closing = self.parts(cycle.closed_by.0).get(cycle.closed_by.1);
            if let Some((closing, _)) = closing {
                self.cycle(&cycle.members, closing, findings);
            }
        }
        let broken = order.cycles.into_iter().flat_map(|cycle| cycle.members).collect();
        (order.sorted, broken)
    }

    fn cycle(&self, cycle: &[usize], closing: &At<String>, findings: &mut Findings) {
        let mut names: Vec<String> = cycle.iter().take(SHOWN).map(|at| shown(self.names.of(*at))).collect();
        if cycle.len() > SHOWN {
            names.push(format!("{} more", cycle.len() - SHOWN));
        }
        names.push(shown(closing));
        let what = format!("this preparation needs itself: {}", names.join(" ← "));
        let help =
            "take one of the parts out, or buy it in: give it figures or a larder name instead of made";
        findings.error(codes::PREP_CYCLE, closing.place(), what, help);
    }

    /// Finds what else is wrong with a preparation that needs itself.
    fn look_over(&self, at: usize, findings: &mut Findings) {
        let (Some(written), Some(made)) = (self.written.get(at), self.made(at)) else { return };
        own_figures(written, findings);
        if let Some(by) = &made.by {
            self.fetched(at, by.0, findings);
        }
    }

    /// Water that costs nothing stands in for a preparation that could not be worked out.
    fn spoil(&mut self, at: usize, findings: &mut Findings) {
        findings.spoil(format!("candidate.{at}.made"));
        if let Some(candidate) = self.candidates.get_mut(at) {
            candidate.cost_per_unit = Some(0.0);
        }
    }

    fn prepared(&self, at: usize, findings: &mut Findings) -> Option<Candidate> {
        let (written, made, stated) = (self.written.get(at)?, self.made(at)?, self.candidates.get(at)?);
        own_figures(written, findings);
        let by = made.by.as_ref()?.0;
        let parts = self.fetched(at, by, findings)?;
        let Some((composition, amounts, uncounted)) = mixed(by, &parts) else {
            let help = "give at least one part more than 0, and leave out what weighs nothing";
            findings.error(codes::MADE_OF_NOTHING, made.place(), "the parts come to nothing", help);
            return None;
        };
        if uncounted > UNCOUNTED {
            warn_uncounted(made, uncounted, findings);
        }
        let loss = made.loss.as_ref().map_or(0.0, |loss| loss.value);
        let kept = 1.0 - loss / 100.0;
        let used: Vec<(f64, Candidate)> =
            amounts.iter().zip(parts).map(|(amount, (_, part))| (amount / kept, part)).collect();
        let mut prepared = self.described(stated, &composition, &used, kept);
        // What `carries` names has been checked when the candidate was first read.
        ingredient::carry(written, self.properties, &mut prepared.carries, &mut Findings::default());
        let raw = raw(&used);
        if raw.len() > MOST_PARTS {
            too_many(made, findings);
            return None;
        }
        prepared.origin = Origin::Made(Preparation { parts: raw, loss });
        prepared.cost_per_unit = cost_of(&used).map(|cost| cost / prepared.yielded);
        cost::state(&mut prepared, written, self.names.currency(), findings);
        if written.role.is_none() {
            prepared.role = ingredient::common_role(composition.label.form);
        }
        Some(prepared)
    }

    /// The parts as ingredients.
    fn fetched(&self, at: usize, by: By, findings: &mut Findings) -> Option<Vec<(f64, Candidate)>> {
        if self.parts(at).len() > MOST_PARTS {
            too_many(self.made(at)?, findings);
            return None;
        }
        let mut parts = Vec::new();
        let mut whole = true;
        for (name, share) in self.parts(at) {
            let Some(part) = self.part(name, findings) else {
                whole = false;
                continue;
            };
            if by == By::Volume && part.label.form == Form::Powder {
                let what = format!("\"{}\" is a powder and has no volume", shown(name));
                findings.error(
                    codes::POWDER_BY_VOLUME,
                    name.place(),
                    what,
                    "weigh the parts: by = \"weight\"",
                );
                whole = false;
            }
            if share.value > 0.0 {
                parts.push((share.value, part));
            }
        }
        whole.then_some(parts)
    }

    /// A part by its name: a candidate or a larder entry, such as water.
    fn part(&self, name: &At<String>, findings: &mut Findings) -> Option<Candidate> {
        if let Some(candidate) = self.names.find(name).and_then(|at| self.candidates.get(at)) {
            return Some(candidate.clone());
        }
        if let Some(entry) = larder::find(name.trim()) {
            return Some(ingredient::from_entry(entry, self.properties));
        }
        let known = larder::all().iter().map(|e| e.name.as_str());
        let meant = findings.closest(name, self.names.candidates().chain(known));
        let help = guess(meant, || "name another candidate, a larder entry or water".to_owned());
        let what = format!("neither an ingredient nor the larder has the name \"{}\"", shown(name));
        findings.error(codes::UNKNOWN_NAME, name.place(), what, help);
        None
    }

    /// The candidate with all that follows from its parts but the money.
    fn described(
        &self,
        stated: &Candidate,
        composition: &Composition,
        used: &[(f64, Candidate)],
        kept: f64,
    ) -> Candidate {
        let carried = |property: usize| {
            used.iter().map(|(amount, part)| amount * kept * part.carries.get(property).unwrap_or(&0.0)).sum()
        };
        let allergens = used.iter().flat_map(|(_, part)| part.allergens.iter().copied());
        let handling = used.iter().flat_map(|(_, part)| part.handling.iter().copied());
        Candidate {
            label: composition.label,
            natural: composition.natural,
            portion: composition.portion,
            carries: (0..self.properties.len()).map(carried).collect(),
            allergens: ingredient::sorted(allergens.chain(stated.allergens.iter().copied())),
            handling: ingredient::sorted(handling.chain(stated.handling.iter().copied())),
            ..stated.clone()
        }
    }
}

/// A preparation's composition follows from its parts: figures of its own are a mistake.
fn own_figures(written: &At<file::Candidate>, findings: &mut Findings) {
    for (key, place) in FIGURES.into_iter().zip(written.figures()) {
        if let Some(place) = place {
            let what = format!("`{key}` of a preparation follows from its parts");
            let help = "leave it out; or leave made out and state all figures";
            findings.error(codes::MADE_AND_LABEL, place, what, help);
        }
    }
}

fn mixed(by: By, parts: &[(f64, Candidate)]) -> Option<(Composition, Vec<f64>, f64)> {
    let mixture = mix::mix(by, parts.iter().map(|(share, part)| (*share, part.label)))?;
    let natural = mix::natural(by, parts, &mixture.label);
    let portion = mixture.label.portion().ok()?;
    Some((Composition { label: mixture.label, natural, portion }, mixture.amounts, mixture.uncounted))
}

fn too_many(made: &At<Made>, findings: &mut Findings) {
    let what = format!("this preparation has more than {MOST_PARTS} raw parts");
    findings.error(codes::TOO_MANY, made.place(), what, "put fewer parts into it");
}

fn warn_uncounted(made: &At<Made>, uncounted: f64, findings: &mut Findings) {
    let what = format!(
        "{} % of this preparation's mass are solids that are neither sugar nor acid: they add no volume here",
        trimmed(100.0 * uncounted, 1)
    );
    let help = "measure its density and figures and state those instead of made where that matters";
    findings.warning(codes::UNCOUNTED_SOLIDS, made.place(), what, help);
}

/// What the parts cost together; unknown where one of them is.
fn cost_of(used: &[(f64, Candidate)]) -> Option<f64> {
    used.iter().map(|(amount, part)| part.cost_per_unit.map(|cost| amount * cost)).sum()
}

/// The raw parts for one unit, nested preparations taken apart where they are not bought in.
fn raw(used: &[(f64, Candidate)]) -> Vec<Part> {
    let mut raw: Vec<Part> = Vec::new();
    for (amount, part) in used {
        match &part.origin {
            Origin::Made(inner) if part.price.is_none() => {
                for piece in &inner.parts {
                    let value = piece.per_unit.value * amount / part.yielded;
                    put(&mut raw, Part { per_unit: Amount { value, ..piece.per_unit }, ..piece.clone() });
                }
            }
            _ => put(
                &mut raw,
                Part {
                    name: part.name.clone(),
                    per_unit: Amount { value: *amount, unit: part.unit() },
                    price: part.price.clone(),
                    yielded: part.yielded,
                    density: part.portion.mass,
                },
            ),
        }
    }
    raw
}

/// Adds a raw part to those that are there.
fn put(raw: &mut Vec<Part>, part: Part) {
    match raw.iter_mut().find(|there| there.name == part.name) {
        Some(there) => there.per_unit.value += part.per_unit.value,
        None => raw.push(part),
    }
}
