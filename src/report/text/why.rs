//! Why the answer is as it is: what conflicts and what would help, or who is in play.

use super::page::{Ink, Page};
use super::{card, glass, hangs};
use crate::quantity::{UnitSystem, number};
use crate::report::gather::{ConflictLine, SpecAnswer};
use crate::report::words;

/// So many conflicts are listed; JSON has them all.
const CORES: usize = 6;

/// What conflicts, what alone would be enough, and the smallest change of all.
pub fn conflict(page: &mut Page, answer: &SpecAnswer, conflict: &ConflictLine, units: UnitSystem) {
    let frame = &answer.frame;
    let reach = words::reach_sentences(frame, conflict, units);
    let clash = words::conflict_sentence(frame, conflict, units);
    for sentence in if reach.is_empty() { clash.into_iter().collect() } else { reach } {
        page.paragraph(0, Ink::Strong, &sentence);
    }
    if let Some(sentence) = words::steps_sentence(conflict, units) {
        page.paragraph(0, Ink::Plain, &sentence);
    }
    cores(page, answer, conflict, units);
    page.section("Any one of these changes would be enough");
    for need in &conflict.enough {
        page.item(&words::need(frame, need, units));
    }
    if conflict.enough.is_empty() {
        page.paragraph(2, Ink::Plain, "None: no single change was found to be enough.");
    }
    if !conflict.proved {
        page.paragraph(2, Ink::Faint, "Not everything was searched: smaller changes may do.");
    }
    let Some(spec) = &conflict.spec else { return };
    page.section(&format!("The smallest change in all ({})", number::percent(conflict.total, 0)));
    for need in &conflict.relax {
        page.item(&words::need(frame, need, units));
    }
    page.gap();
    page.paragraph(2, Ink::Plain, "The best spec then:");
    page.gap();
    card::write(page, frame, spec, units);
    page.gap();
    glass::write(page, frame, spec, units);
}

fn cores(page: &mut Page, answer: &SpecAnswer, conflict: &ConflictLine, units: UnitSystem) {
    if conflict.cores.is_empty() {
        return;
    }
    page.section("What does not go together");
    for core in conflict.cores.iter().take(CORES) {
        page.item(&words::core_words(&answer.frame, core, units));
    }
    let more = conflict.cores.len().saturating_sub(CORES);
    let rest = match (more, conflict.complete) {
        (0, true) => String::new(),
        (0, false) => "There may be more.".to_owned(),
        (more, _) => format!("And {}.", words::counted(more, "more set")),
    };
    if !rest.is_empty() {
        page.paragraph(2, Ink::Faint, &rest);
    }
}

/// What holds the spec back and what that is worth, what prices would change, and who is in play.
pub fn found(page: &mut Page, answer: &SpecAnswer, units: UnitSystem) {
    let Some(best) = &answer.best else { return };
    if let Some(found) = &answer.sensitivity {
        hangs::limits(page, answer, found, units);
    }
    let shown: Vec<_> = answer.next.iter().filter(|n| words::shows(answer, best.score, n, units)).collect();
    if !shown.is_empty() {
        page.section("What the nearest looser limit would bring, in pours");
        for next in shown {
            page.item(&words::next(answer, best.score, next, units));
        }
    }
    if let Some(found) = &answer.sensitivity {
        hangs::prices(page, found);
    }
    if let Some(in_play) = &answer.in_play {
        page.section("Ingredients in play");
        for sentence in words::in_play_sentences(in_play) {
            page.paragraph(2, Ink::Plain, &sentence);
        }
    }
}
