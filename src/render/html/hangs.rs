//! What the answer hangs on: every limit and price that is worth something, in one table.

use maud::{Markup, html};

use super::picture::{Said, name};
use super::table::sideways;
use crate::answer::{NextLine, SpecAnswer, SpecLine};
use crate::quantity::UnitSystem;
use crate::render::words;

/// One line: a limit or a price, moved.
struct Row {
    change: String,
    now: String,
    gain: String,
    pours: String,
}

/// The table of limits and prices; nothing where nothing would change anything.
pub fn hangs(answer: &SpecAnswer, best: &SpecLine, units: UnitSystem) -> Option<Markup> {
    let groups = [limits(answer, best, units), prices(answer)];
    let never = answer.sensitivity.as_ref().and_then(words::never_sentence);
    if groups.iter().all(Vec::is_empty) {
        return None;
    }
    Some(html! {
        (sideways(&html! {
            table.hangs id="hangs-table" {
                caption { "What it hangs on: each limit and price alone, moved as little as it takes for another spec." }
                thead { tr { @for head in ["nearest change", "now", "gain", "pours"] { th scope="col" { (head) } } } }
                @for group in groups.iter().filter(|group| !group.is_empty()) {
                    tbody {
                        @for row in group {
                            tr {
                                th scope="row" { (name(&row.change)) }
                                @for cell in [&row.now, &row.gain, &row.pours] { td { (Said(cell)) } }
                            }
                        }
                    }
                }
            }
        }))
        @if let Some(never) = never { p.note { (Said(&never)) } }
    })
}

/// Looser limits that bring something, the greatest gain first.
fn limits(answer: &SpecAnswer, best: &SpecLine, units: UnitSystem) -> Vec<Row> {
    let mut next: Vec<&NextLine> =
        answer.next.iter().filter(|n| words::shows(answer, best.score, n, units)).collect();
    let gain = |n: &NextLine| (n.score - best.score).abs();
    next.sort_by(|a, b| gain(b).total_cmp(&gain(a)));
    next.iter()
        .map(|line| {
            let (change, now) = words::need_parts(&answer.frame, &line.need, units);
            Row {
                change,
                now: now.unwrap_or_else(|| "–".to_owned()),
                gain: words::worse_words(answer, best.score, line.score, units).unwrap_or_default(),
                pours: words::moves(&line.change, units),
            }
        })
        .collect()
}

/// Prices at which another spec is the best.
fn prices(answer: &SpecAnswer) -> Vec<Row> {
    let turns = answer.sensitivity.as_ref().map_or_else(Vec::new, |found| words::price_turns(answer, found));
    let row = |turn: words::PriceTurn| Row {
        change: turn.change,
        now: turn.now,
        gain: "–".to_owned(),
        pours: if turn.used { "another spec" } else { "it comes in" }.to_owned(),
    };
    turns.into_iter().map(row).collect()
}
