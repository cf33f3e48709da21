//! From the brief as written to the question: units resolved, names turned into indices, steps
//! rounded inwards. What cannot be resolved is reported, and something harmless stands in for it so
//! that the rest is judged in the same run; a brief with an error is never handed out.

mod aim;
mod brought;
mod cost;
mod groups;
mod ingredient;
mod label;
mod limits;
mod made;
mod mix;
mod notebook;
mod order;
mod pours;
pub mod quantity;
mod serve;
mod spread;
mod stage;
mod stored;

pub use limits::CUSTOMARY;

use super::figures::{Near, Said};
use super::file::{self, At, File, entries, listed};
use super::findings::Findings;
use super::house::Brought;
use super::kept::{KeptSpec, kept_of};
use super::names::Names;
use super::shape::shown;
use super::{HeldBy, codes, rules};
use crate::brief::{Aim, Answer, Brief, Candidate, Goal, HoldFor, Measure, Menu, Per, Property, Variation};
use crate::quantity::{Currency, Unit};

/// More ingredients than any bar has; beyond it the file is something else.
const MOST_CANDIDATES: usize = 20_000;

/// What is known of a brief beside its text.
#[derive(Debug, Clone, Copy)]
pub struct Asked<'a> {
    /// Who decides what is held where the brief does not.
    pub held: HeldBy,
    /// What `[[bring]]` brought in.
    pub brought: &'a [Brought],
    /// What was said in words.
    pub said: &'a Said,
}

/// What a brief as written comes to.
#[derive(Debug)]
pub struct Lowered {
    /// The question.
    pub brief: Brief,
    /// Who decided what is held.
    pub held: HeldBy,
    /// The specs that it keeps.
    pub kept: Vec<KeptSpec>,
}

/// The question of a brief as written.
pub fn lower(file: &File, asked: Asked<'_>, findings: &mut Findings) -> Option<Lowered> {
    let written = listed(file.candidate.as_ref());
    if let Some(extra) = written.get(MOST_CANDIDATES) {
        let what = format!("there are {} ingredients", written.len());
        let help = format!("a brief has at most {MOST_CANDIDATES}");
        findings.error(codes::TOO_MANY, extra.place(), what, help);
        return None;
    }
    let properties = properties(file, findings);
    let names = Names::collect(file, &properties, findings);
    let mut bar = serve::bar(file, findings);
    let candidates = ingredient::all(written, &names, &properties, findings);
    let candidates = made::all(written, candidates, &names, &properties, findings);
    let candidates = stage::all(written, candidates, &bar);
    serve::put_ice(file, &candidates, &mut bar.serve, findings);
    let hand = file.variation.as_ref().and_then(|variation| variation.pour_error.as_ref());
    let candidates = pours::all(written, candidates, &bar, hand, findings);
    let mut brief = assemble(file, &names, properties, candidates, bar, findings)?;
    let held = if file.hold.is_some() || asked.said.hold.is_some() { HeldBy::Brief } else { asked.held };
    if held == HeldBy::Custom || asked.said.hold.is_some() {
        brief.hold = limits::customary(&brief, asked.said.hold.unwrap_or(Near::Close));
    }
    let about = asked.said.about.iter().filter_map(|(key, figure)| Some((names.measure(key)?, *figure)));
    brief.about = about.collect();
    brought::leave_out(&mut brief, asked.brought, findings);
    brief.weighed = notebook::weighed(file, &brief, findings);
    rules::check(file, &brief, findings);
    let kept = kept_of(file, &brief, findings);
    brief.tasted = notebook::tasted(file, &brief, &kept, findings);
    Some(Lowered { brief, held, kept })
}

fn assemble(
    file: &File,
    names: &Names,
    properties: Vec<Property>,
    candidates: Vec<Candidate>,
    mut bar: serve::Bar,
    findings: &mut Findings,
) -> Option<Brief> {
    let reference = limits::reference(file, names, &candidates, findings);
    serve::shift(file, &candidates, reference.as_ref(), &mut bar.serve);
    let bar_step = bar.step.unit();
    let aim = aim::aim(file, names, findings).unwrap_or(Aim::Lowest(Goal::Measure(Measure::Volume)));
    let currency = currency(file, findings)?;
    let brief = Brief {
        title: file.title.as_ref().map_or("Untitled drink", |t| t.as_str()).to_owned(),
        resolution: aim::resolution(file, aim, &candidates, &currency),
        currency,
        serve: bar.serve,
        targets: limits::targets(file, names, findings),
        aim,
        menu: menu(file, findings),
        serves: file.menu.as_ref().and_then(|menu| menu.serves.as_ref()).map(|serves| serves.value),
        choose: groups::choose(file, names, &candidates, findings),
        proportions: groups::proportions(file, names, findings),
        notes: aim::notes(file, &candidates, findings),
        hold: limits::hold(file, names, findings),
        answer: answer(file),
        variation: variation(file, bar_step, findings),
        about: vec![],
        properties,
        candidates,
        reference,
        tasted: vec![],
        weighed: vec![],
    };
    Some(brief)
}

/// The currency; the code of no currency where none is given.
fn currency(file: &File, findings: &mut Findings) -> Option<Currency> {
    let Some(code) = &file.currency else { return Currency::parse(Currency::NONE).ok() };
    Currency::parse(code)
        .map_err(|fault| findings.error(codes::BAD_CURRENCY, code.place(), fault.what, fault.help))
        .or_else(|()| Currency::parse(Currency::NONE))
        .ok()
}

fn properties(file: &File, findings: &mut Findings) -> Vec<Property> {
    let mut properties = Vec::new();
    for (name, property) in entries(file.properties.as_ref()) {
        if Measure::BUILT_IN.iter().any(|m| m.keyword() == name.as_str()) || name.trim().is_empty() {
            let what = format!("`{}` cannot be the name of a property", shown(name));
            let help = "it is measured without being declared: give the property another name";
            findings.error(codes::RESERVED_NAME, name.place(), what, help);
        }
        properties.push(Property {
            name: name.value.clone(),
            unit: property.unit.as_ref().map(|u| u.value.clone()).unwrap_or_default(),
            per: property.per.as_ref().map_or(Per::Serve, |per| per.0),
        });
    }
    properties
}

fn menu(file: &File, findings: &mut Findings) -> Option<Menu> {
    let menu = file.menu.as_ref()?;
    if menu.price.is_none() && menu.serves.is_none() && !findings.is_spoiled("menu.price") {
        let help = "price: what is on the menu, tax included; or serves: how many go out in a week";
        findings.error(codes::MISSING_KEY, menu.place(), "[menu] has no `price`", help);
    }
    Some(Menu { price: menu.price.as_ref()?.value, tax: menu.tax.as_ref().map_or(0.0, |tax| tax.value) })
}

fn answer(file: &File) -> Answer {
    let Some(answer) = &file.answer else { return Answer::default() };
    Answer {
        alternatives: answer.alternatives.as_ref().map_or(Answer::default().alternatives, |a| a.value),
        within: answer.within.as_ref().map(|w| w.value),
        steady: answer.steady.as_ref().map_or(Answer::default().steady, |levels| steady(&levels.value)),
    }
}

/// The levels in their order, each once.
fn steady(levels: &[At<f64>]) -> Vec<f64> {
    let mut levels: Vec<f64> = levels.iter().map(|level| level.value).collect();
    levels.sort_by(f64::total_cmp);
    levels.dedup();
    levels
}

fn variation(file: &File, bar_step: Option<f64>, findings: &mut Findings) -> Variation {
    let Some(variation) = &file.variation else { return Variation { bar_step, ..Variation::default() } };
    let hold = match variation.hold.as_ref().map(|hold| hold.value.0) {
        None | Some(file::HoldWish::Typical) => HoldFor::Typical,
        Some(file::HoldWish::Worst) => HoldFor::Worst,
        Some(file::HoldWish::Share(percent)) => HoldFor::Share(percent / 100.0),
    };
    let pour_error =
        variation.pour_error.as_ref().and_then(|error| spread::poured(error, Unit::Ml, findings));
    Variation { hold, pour_error, bar_step }
}
