//! What the nearest looser limit would bring in pours, as bars from the best's score on.

use maud::{Markup, html};

use super::picture::{Room, Said, Told, across, behind, picture, table};
use crate::quantity::UnitSystem;
use crate::report::gather::{NextLine, SpecAnswer, SpecLine};
use crate::report::words;

/// Those whose gain is as large as is shown, the largest first.
pub fn shown<'a>(answer: &'a SpecAnswer, best: &SpecLine, units: UnitSystem) -> Vec<&'a NextLine> {
    let mut shown: Vec<&NextLine> =
        answer.next.iter().filter(|n| words::shows(answer, best.score, n, units)).collect();
    shown.sort_by(|a, b| gain(b, best).total_cmp(&gain(a, best)));
    shown
}

fn gain(next: &NextLine, best: &SpecLine) -> f64 {
    (next.score - best.score).abs()
}

/// What one sentence says about them.
pub fn answer(answer: &SpecAnswer, best: &SpecLine, next: &[&NextLine], units: UnitSystem) -> String {
    let Some(first) = next.first() else { return String::new() };
    let worth = words::worse_words(answer, best.score, first.score, units).unwrap_or_default();
    format!("Most of all this: {} would bring {worth}.", words::need(&answer.frame, &first.need, units))
}

/// Draws a bar for each and says what it is.
pub fn figure(answer: &SpecAnswer, best: &SpecLine, next: &[&NextLine], units: UnitSystem) -> Markup {
    let most = next.iter().map(|n| gain(n, best)).filter(|g| g.is_finite()).fold(0.0, f64::max);
    html! {
        figure.looser {
            ul.gains {
                @for (at, line) in next.iter().enumerate() {
                    @let need = words::need(&answer.frame, &line.need, units);
                    @let worth = words::worse_words(answer, best.score, line.score, units).unwrap_or_default();
                    li {
                        span.what { (Said(&need)) }
                        (picture("pic-gain", Room::Strip(20.0), &told(at, &need, &worth), &bar(gain(line, best), most)))
                        span.figure { (Said(&worth)) }
                        span.margin { (Said(&words::moves(&line.change, units))) }
                    }
                }
            }
            figcaption { "Each limit alone, moved no further than it takes for a better spec that can be poured." }
            (behind(&as_table(answer, best, next, units)))
        }
    }
}

fn bar(gain: f64, most: f64) -> Markup {
    let share = if most > 0.0 && gain.is_finite() { gain / most } else { 0.0 };
    html! {
        rect.gain x="0" y="3" height="14" width=(across(share)) {}
        line.surface x1="1" x2="1" y1="0" y2="20" {}
    }
}

fn told(at: usize, need: &str, worth: &str) -> Told {
    Told { id: format!("looser-{at}"), title: format!("What it brings: {need}"), text: format!("{worth}.") }
}

fn as_table(answer: &SpecAnswer, best: &SpecLine, next: &[&NextLine], units: UnitSystem) -> Markup {
    let rows: Vec<Vec<String>> = next
        .iter()
        .map(|line| {
            vec![
                words::need(&answer.frame, &line.need, units),
                words::score_text(&answer.aim, &answer.frame, line.score, units),
                words::worse_words(answer, best.score, line.score, units).unwrap_or_default(),
                words::moves(&line.change, units),
            ]
        })
        .collect();
    table("Looser limits", &["limit", "then", "against the best", "pours"], &rows)
}
