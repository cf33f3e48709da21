//! A given spec beside the brief.

use super::card;
use super::glass;
use super::page::{Ink, Page};
use crate::quantity::UnitSystem;
use crate::report::gather::{CheckAnswer, Miss};
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
    page.gap();
    if answer.meets {
        page.paragraph(2, Ink::Good, "This spec meets every target and every rule of the brief.");
        return;
    }
    let missed = answer.misses.iter().filter(|m| matches!(m, Miss::Target { .. })).count();
    let broken = answer.misses.len() - missed;
    page.paragraph(2, Ink::Alarm, &format!("This spec {}.", verdict(missed, broken)));
    for miss in &answer.misses {
        if let Miss::Rule { rule } = miss {
            page.item(rule);
        }
    }
}

fn verdict(missed: usize, broken: usize) -> String {
    let misses = format!("misses {}", words::counted(missed, "target"));
    let breaks = format!("breaks {}", words::counted(broken, "rule"));
    match (missed, broken) {
        (_, 0) => misses,
        (0, _) => breaks,
        _ => format!("{misses} and {breaks}"),
    }
}
