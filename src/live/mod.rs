//! A brief that is played with: its text changes a piece at a time, and what can be poured then comes back at once.
//!
//! The state is the text and nothing else: whoever plays holds it, sends it with every question, and gets the next one.
//! Files, sockets and clocks are the business of `cli`.

mod along;
mod asks;
mod play;
mod told;
mod tries;
mod wire;

pub use along::{Along, Possible, along};
pub use asks::{Begin, Find, OnDisk, Save, begun, found};
pub use play::{Play, edited};
pub use told::{Told, told};
pub use tries::{Trial, Try, tries};
pub use wire::{received, sent};

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use serde::{Deserialize, Serialize};

use crate::answer::{explained, spec_answer, track};
use crate::brief::HoldFor;
use crate::explain::variation::glances;
use crate::explain::{Explanation, explain};
use crate::finding::Finding;
use crate::quantity::UnitSystem;
use crate::read::{Changes, House, Reading, read_changed};
use crate::render::html::live::{Axes, Depth, View, fragments, refused};
use crate::render::html::{self, Imprint};
use crate::scenario::swap;
use crate::solve::{FIRST, Solved, Stop, solve};

/// A question: the text as it is, what is to change in it, and how much is to be said of it.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Ask {
    /// Counts up in a tab: no answer of an older question shows over that of a newer one.
    pub seq: u64,
    /// Which tab asks.
    pub tab: String,
    /// The text of the brief.
    pub text: String,
    /// What changes.
    pub edits: Vec<Play>,
    /// From where to where the strips reach that stay as they are, by the key of their measure.
    pub axes: Axes,
    /// Whether an end of a strip is held: nothing is scaled anew under a hand.
    pub held: bool,
}

/// An answer: pieces of the page by their ids, and the text that they are about.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Reply {
    /// The number of the question.
    pub seq: u64,
    /// The text with the changes; the text as it was where they were refused.
    pub text: String,
    /// Whether the changes were taken.
    pub taken: bool,
    /// Whether more is still to be said: alternatives, shares, ways out.
    pub more: bool,
    /// What is wrong, or worth a second look.
    pub findings: Vec<Told>,
    /// What the drink is called.
    pub title: String,
    /// The pieces.
    pub fragments: BTreeMap<&'static str, String>,
}

/// What stands beside every question: the house that the brief names.
pub type Beside = Option<Arc<House>>;

/// A text and its house, read.
type Known = (String, Beside, Arc<Reading>);

/// What was read last. A hand that drags sends the same text again and again, with another change.
static READ: Mutex<Vec<Known>> = Mutex::new(vec![]);
/// So many readings are kept: what is sent, and what becomes of it, in a tab or two.
const KEPT: usize = 4;

/// How a brief is read here.
fn read(text: &str, house: &Beside) -> Result<Arc<Reading>, Vec<Finding>> {
    let same_house = |own: &Beside| match (own, house) {
        (Some(own), Some(house)) => Arc::ptr_eq(own, house),
        (own, house) => own.is_none() && house.is_none(),
    };
    // Whoever held the list and failed left it whole: entries are pushed and removed, never changed.
    let known = || READ.lock().unwrap_or_else(PoisonError::into_inner);
    let mut all = known();
    if let Some(at) = all.iter().position(|(own, beside, _)| own == text && same_house(beside)) {
        let found = all.remove(at);
        let reading = Arc::clone(&found.2);
        all.push(found);
        return Ok(reading);
    }
    drop(all);
    let changes = Changes { house: house.clone(), ..Changes::default() };
    let reading = Arc::new(read_changed(text.as_bytes(), &changes)?);
    let mut all = known();
    all.push((text.to_owned(), house.clone(), Arc::clone(&reading)));
    let from = all.len().saturating_sub(KEPT);
    all.drain(..from);
    Ok(reading)
}

/// Changes the text and answers it as deep as is asked: [`Depth::Glass`] the best spec alone, [`Depth::Others`] what is
/// as good, what comes next and how often each holds, [`Depth::Reasons`] what it hangs on.
pub fn answer(ask: &Ask, house: &Beside, depth: Depth, stop: &Stop) -> Reply {
    let text = match edited(&ask.text, &ask.edits, house) {
        Ok(text) => text,
        Err(findings) => return refusal(ask, findings),
    };
    let reading = match read(&text, house) {
        Ok(reading) => reading,
        // Text that she wrote herself stays as she wrote it; a change that spoils it is not taken.
        Err(findings) if ask.edits.is_empty() || ask.edits.iter().any(|play| play.whole().is_some()) => {
            let told = told(&text, &findings);
            let fragments = refused().into_iter().collect();
            return Reply { seq: ask.seq, text, taken: true, findings: told, fragments, ..Reply::default() };
        }
        Err(findings) => {
            let mut told = told(&text, &findings);
            let fields: Vec<String> = ask.edits.iter().filter_map(Play::field).collect();
            told.iter_mut().for_each(|one| one.fields.extend(fields.iter().cloned()));
            return refusal(ask, told);
        }
    };
    let (solved, why) = asked(&reading, depth, stop);
    let mut answer = match &why {
        Some(why) => explained(&reading.brief, &solved, why),
        None => spec_answer(&reading.brief, &solved),
    };
    answer.track = track(&reading.brief, &reading.kept, solved.specs.first());
    let view = View {
        brief: &reading.brief,
        answer: &answer,
        axes: &ask.axes,
        held: ask.held,
        depth,
        units: UnitSystem::Metric,
    };
    Reply {
        seq: ask.seq,
        taken: true,
        more: depth == Depth::Glass,
        findings: told(&text, &reading.warnings),
        title: reading.brief.title.clone(),
        fragments: fragments(&view).into_iter().collect(),
        text,
    }
}

/// What is solved and explained for an answer of some depth.
fn asked(reading: &Reading, depth: Depth, stop: &Stop) -> (Solved, Option<Explanation>) {
    let brief = &reading.brief;
    if depth == Depth::Glass && !matches!(brief.variation.hold, HoldFor::Share(_)) {
        return (swap::best(brief, &stop.within(FIRST)), None);
    }
    let solved = solve(brief, stop);
    if depth == Depth::Reasons || solved.specs.is_empty() {
        let why = explain(brief, &solved, stop);
        return (solved, Some(why));
    }
    let (service, shares) = glances(brief, &solved.specs, stop).unzip();
    let why = Explanation { service, shares: shares.unwrap_or_default(), ..Explanation::default() };
    (solved, Some(why))
}

/// The page as it was, and why nothing changed.
fn refusal(ask: &Ask, findings: Vec<Told>) -> Reply {
    Reply { seq: ask.seq, text: ask.text.clone(), findings, ..Reply::default() }
}

/// The answer as the page that `--report` writes.
///
/// # Errors
/// What is wrong with the text.
pub fn report(text: &str, house: &Beside, imprint: &Imprint, stop: &Stop) -> Result<String, Vec<Told>> {
    let reading = read(text, house).map_err(|findings| told(text, &findings))?;
    let solved = solve(&reading.brief, stop);
    let mut answer = explained(&reading.brief, &solved, &explain(&reading.brief, &solved, stop));
    answer.track = track(&reading.brief, &reading.kept, solved.specs.first());
    Ok(html::write(&answer, UnitSystem::Metric, imprint))
}
