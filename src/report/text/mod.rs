//! Text for people: 80 columns, plain characters, the same with and without colour.

mod alternatives;
mod bar;
mod batch;
mod brings;
mod card;
mod check;
mod glass;
mod hangs;
mod larder;
mod page;
mod service;
mod substitutes;
mod sweep;
mod why;

use super::gather::{
    BatchAnswer, CheckAnswer, Frame, LarderAnswer, Outcome, SpecAnswer, SpecLine, SubstitutesAnswer,
    SweepAnswer,
};
use super::{Exporter, Look, words};
use crate::quantity::UnitSystem;
use page::{Ink, Page};

#[cfg(test)]
pub use page::{uncoloured, width};

/// Writes text.
pub struct Text {
    look: Look,
}

impl Text {
    /// A writer with this look.
    pub fn new(look: Look) -> Self {
        Self { look }
    }
}

impl Exporter for Text {
    fn spec(&self, answer: &SpecAnswer) -> String {
        let mut page = Page::new(self.look.colour);
        page.heading(&answer.title);
        if answer.outcome == Outcome::Conflict || answer.best.is_none() {
            without_spec(&mut page, answer, self.look);
        } else {
            with_spec(&mut page, answer, self.look);
        }
        cautions(&mut page, &answer.cautions);
        page.finish()
    }

    fn substitutes(&self, answer: &SubstitutesAnswer) -> String {
        let mut page = Page::new(self.look.colour);
        substitutes::write(&mut page, answer, self.look.units);
        page.finish()
    }

    fn sweep(&self, answer: &SweepAnswer) -> String {
        let mut page = Page::new(self.look.colour);
        sweep::write(&mut page, answer, self.look.units);
        page.finish()
    }

    fn check(&self, answer: &CheckAnswer) -> String {
        let mut page = Page::new(self.look.colour);
        check::write(&mut page, answer, self.look.units);
        cautions(&mut page, &answer.cautions);
        page.finish()
    }

    fn batch(&self, answer: &BatchAnswer) -> String {
        let mut page = Page::new(self.look.colour);
        batch::write(&mut page, answer, self.look.units);
        cautions(&mut page, &answer.cautions);
        page.finish()
    }

    fn larder(&self, answer: &LarderAnswer) -> String {
        let mut page = Page::new(self.look.colour);
        larder::write(&mut page, answer);
        page.finish()
    }
}

/// The card, what is in the glass, the alternatives, and what is proved.
fn with_spec(page: &mut Page, answer: &SpecAnswer, look: Look) {
    let Some(best) = &answer.best else { return };
    let units = look.units;
    if answer.outcome == Outcome::Stopped {
        page.gap();
        page.paragraph(0, Ink::Alarm, &words::outcome_sentences(answer, units));
    }
    page.gap();
    card::write(page, &answer.frame, best, units);
    page.gap();
    page.paragraph(2, Ink::Strong, &words::aim_sentence(answer, best.score, units));
    if !best.change.is_empty() {
        let moves = words::moves(&best.change, units);
        page.paragraph(2, Ink::Plain, &format!("Against the reference: {moves}."));
    }
    swap(page, answer, units);
    page.section("In the glass");
    glass::write(page, &answer.frame, best, units);
    page.section("What each ingredient brings");
    brings(page, &answer.frame, best, units);
    if let Some(reference) = answer.reference.as_ref().filter(|_| !best.change.is_empty()) {
        page.section("Beside the reference");
        brings::against(page, &answer.frame, reference, best, units);
    }
    if let Some(service) = &answer.service {
        let certainty = answer.certainty.as_ref();
        let certainty = certainty.map_or_else(Vec::new, |c| words::certainty_sentences(answer, c, units));
        service::write(page, &answer.frame, service, &certainty);
    }
    if !answer.alternatives.is_empty() {
        page.section("Next best, each with another set of ingredients");
        alternatives::write(page, answer, best, units);
    }
    page.gap();
    if answer.outcome != Outcome::Stopped {
        page.paragraph(2, Ink::Plain, &words::outcome_sentences(answer, units));
    }
    if let Some(sentence) = words::without_steps(answer, units) {
        page.paragraph(2, Ink::Plain, &sentence);
    }
    why::found(page, answer, units);
}

/// What was swapped, where anything was.
fn swap(page: &mut Page, answer: &SpecAnswer, units: UnitSystem) {
    let Some(swap) = &answer.swap else { return };
    page.section("The swap");
    for sentence in words::swap_sentences(&answer.frame, swap, units) {
        page.paragraph(2, Ink::Plain, &sentence);
    }
}

/// What each pour and the ice bring; and how sweet the sugar is.
fn brings(page: &mut Page, frame: &Frame, spec: &SpecLine, units: UnitSystem) {
    brings::write(page, frame, spec, units);
    if let Some(sentence) = words::sweetness_sentence(spec) {
        page.gap();
        page.paragraph(2, Ink::Plain, &sentence);
    }
}

/// Why there is no spec, and what free amounts would give.
fn without_spec(page: &mut Page, answer: &SpecAnswer, look: Look) {
    page.gap();
    page.paragraph(0, Ink::Alarm, &words::outcome_sentences(answer, look.units));
    swap(page, answer, look.units);
    page.gap();
    for sentence in answer.certainty.iter().flat_map(|c| words::certainty_sentences(answer, c, look.units)) {
        page.paragraph(0, Ink::Plain, &sentence);
    }
    if let Some(conflict) = &answer.conflict {
        why::conflict(page, answer, conflict, look.units);
        return;
    }
    if let Some(free) = &answer.unrounded {
        page.section("With free amounts");
        card::write(page, &answer.frame, free, look.units);
        page.gap();
        glass::write(page, &answer.frame, free, look.units);
    } else {
        page.section("What was asked for");
        glass::write_asked(page, &answer.frame, look.units);
    }
}

fn cautions(page: &mut Page, cautions: &[String]) {
    if cautions.is_empty() {
        return;
    }
    page.section("Mind");
    for caution in cautions {
        page.item(caution);
    }
}
