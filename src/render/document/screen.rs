//! What fits on a screen: what to pour, what that reaches and how often it holds, its figures, what else there
//! is, what to mind, and the words that show more.

use super::Kind::{Figure, Short, Words};
use super::{
    Block, Cell, Document, Part, Row, Section, Table, Tone, card, columns, conflict, figures, steadier,
};
use crate::answer::{Asked, ConflictLine, SpecAnswer, SpecLine};
use crate::quantity::UnitSystem;
use crate::render::words;
use crate::solve::Ending;

/// So many alternatives stand on a screen.
const OTHERS: usize = 2;

/// The best spec on a screen.
pub fn found(answer: &SpecAnswer, best: &SpecLine, units: UnitSystem) -> Vec<Section> {
    let frame = &answer.frame;
    let mut first = card(answer, best, units);
    if !best.change.is_empty() {
        first.push(Block::plain(words::against(best, units)));
    }
    if let Some(swap) = &answer.swap {
        first.extend(words::swap_sentences(frame, swap, units).into_iter().map(Block::plain));
    }
    first.extend(asked(answer.asked.as_ref()).map(Block::plain));
    let certainty = answer.certainty.as_ref().map(|c| words::certainty_sentences(answer, c, units));
    first.extend(certainty.into_iter().flatten().take(1).map(Block::plain));
    let mut sections = vec![Section::bare(Part::Card, first)];
    sections.push(Section::bare(Part::Glass, vec![Block::Table(figures::table(frame, best, units))]));
    // What holds more often says more than what tastes of something else: a screen has room for one of them.
    match steadier::line(answer, units) {
        Some(line) => sections.push(Section::bare(Part::Steadier, vec![line])),
        None => sections.extend(others(answer, best, units)),
    }
    sections.extend(mind(&answer.care));
    sections
}

/// What the best spec pours, and what that reaches; before it, where it is not proved.
pub fn card(answer: &SpecAnswer, best: &SpecLine, units: UnitSystem) -> Vec<Block> {
    let stopped = (answer.outcome == Ending::Stopped)
        .then(|| Block::said(words::outcome_sentences(answer, units), Tone::Alarm));
    let headline = Block::said(words::headline(answer, best, units), Tone::Strong);
    stopped.into_iter().chain(card::blocks(&answer.frame, best, units)).chain([headline]).collect()
}

/// The next best in a line each: what comes for what, and what it reaches.
fn others(answer: &SpecAnswer, best: &SpecLine, units: UnitSystem) -> Option<Section> {
    let row = |(at, spec): (usize, &SpecLine)| {
        let score = words::score_text(&answer.aim, &answer.frame, spec.score, units);
        let notes = words::notes_turn(best, spec).map_or_else(String::new, |turn| format!(", {turn}"));
        Row::plain(vec![
            Cell::amount((at + 1).to_string(), "", Tone::Strong),
            Cell::words(words::exchanged(&spec.change, units) + &notes),
            Cell::measured(&score, Tone::Plain),
            Cell::words(spec.within_all.map_or_else(String::new, words::holds_in)),
        ])
    };
    let (score, _) = words::score_column(&answer.aim, &answer.frame, units);
    let heads = [(Figure, ""), (Words, "next best"), (Figure, score.as_str()), (Short, "in service")];
    let rows = answer.alternatives.iter().take(OTHERS).enumerate().map(row);
    let table = Table::spoken(columns(heads), rows).block()?;
    Some(Section::bare(Part::Alternatives, vec![table]))
}

/// What was changed in the brief for this answer, where anything was.
pub fn asked(asked: Option<&Asked>) -> Option<String> {
    asked.filter(|asked| !asked.set.is_empty() || !asked.swap.is_empty()).map(words::changed)
}

/// What asks for care, in one paragraph.
pub fn mind(care: &[String]) -> Option<Section> {
    let text = format!("Mind: {}", care.join(" "));
    (!care.is_empty()).then(|| Section::bare(Part::Mind, vec![Block::plain(text)]))
}

/// Why there is no spec, the smallest change, and the drink that it gives.
pub fn unmet(answer: &SpecAnswer, found: &ConflictLine, units: UnitSystem) -> Vec<Section> {
    let mut said = vec![Block::said(words::outcome_sentences(answer, units), Tone::Alarm)];
    said.extend(conflict::clash(answer, found, units));
    let mut sections = vec![Section::bare(Part::Conflict, said)];
    sections.extend(conflict::ways_out(answer, found, units));
    sections.extend(mind(&answer.care));
    sections
}

/// What stands on a screen, and the words that show more of the whole.
pub fn with_more(sections: Vec<Section>, full: &Document) -> Document {
    Document { title: full.title.clone(), sections, more: Some(more(full)) }
}

/// The words that show more: of the whole document, the parts that the screen leaves out.
pub fn more(full: &Document) -> String {
    let mut parts: Vec<&str> = vec![];
    for section in &full.sections {
        let word = section.part.word();
        if Part::named(word).is_some() && !parts.contains(&word) {
            parts.push(word);
        }
    }
    format!("More: --full, or --only with one of {}.", parts.join(", "))
}
