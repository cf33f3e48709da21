//! A given spec beside the brief.

use super::card;
use super::glass;
use super::page::{Ink, Page};
use super::service;
use crate::quantity::UnitSystem;
use crate::report::gather::{CheckAnswer, Miss, With};
use crate::report::words;

/// Writes the card, what is in the glass, and the verdict.
pub fn write(page: &mut Page, answer: &CheckAnswer, units: UnitSystem) {
    page.heading(&answer.title);
    page.gap();
    card::write(page, &answer.frame, &answer.spec, units);
    if !answer.spec.change.is_empty() {
        let moves = words::moves(&answer.spec.change, units);
        page.paragraph(2, Ink::Plain, &format!("Against the reference: {moves}."));
    }
    page.section("In the glass");
    glass::write(page, &answer.frame, &answer.spec, units);
    page.section("What each ingredient brings");
    super::brings(page, &answer.frame, &answer.spec, units);
    verdict_lines(page, answer, units);
    service::write(page, &answer.frame, &answer.service, &[]);
}

fn verdict_lines(page: &mut Page, answer: &CheckAnswer, units: UnitSystem) {
    page.gap();
    if answer.meets {
        page.paragraph(2, Ink::Good, &words::verdict(answer));
        return;
    }
    page.paragraph(2, Ink::Alarm, &words::verdict(answer));
    for miss in &answer.misses {
        match miss {
            Miss::Rule { rule } => page.item(rule),
            // What the typical composition misses stands in the table above.
            Miss::Target { with: With::Typical, .. } => {}
            Miss::Target { with: With::Worst, .. } => page.item(&words::miss(&answer.frame, miss, units)),
        }
    }
}
