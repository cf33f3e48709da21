//! Steadier specs, in words.

use super::service::{complaint, of_100};
use super::{listed, moves, range_words, score_text};
use crate::answer::{Frame, SpecAnswer, SteadierLine, SteadiestLine};
use crate::explain::variation::Kind;
use crate::explain::variation::steadier::Opens;
use crate::quantity::{UnitSystem, number};

/// A side that is missed in less than this share of the serves is not told.
const TOLD: f64 = 0.05;

/// `In 78 of 100 serves: 0.95 GBP.`, or that nothing holds so often.
pub fn level_sentence(answer: &SpecAnswer, line: &SteadierLine, units: UnitSystem) -> String {
    let level = number::trimmed(line.level, 1);
    match line.spec.as_ref().zip(line.within_all) {
        Some((spec, share)) => {
            let score = score_text(&answer.aim, &answer.frame, spec.score, units);
            let best = if line.proved { "the best that does" } else { "the best found that does" };
            format!("Holds in at least {level} of 100 serves ({}): {score}, {best}.", of_100(share))
        }
        None if line.proved => format!("No spec holds in {level} of 100 serves."),
        None => format!("No spec was found that holds in {level} of 100 serves."),
    }
}

/// The same with what it changes: `Holds in …: 0.95 GBP, the best that does: +2.5 ml lime juice.`
pub fn level_line(answer: &SpecAnswer, line: &SteadierLine, units: UnitSystem) -> String {
    let sentence = level_sentence(answer, line, units);
    match &line.spec {
        Some(spec) => format!("{}: {}.", sentence.trim_end_matches('.'), moves(&spec.change, units)),
        None => sentence,
    }
}

/// How much the steadiest spec holds, what takes the rest out, and what would open more; where a level was not reached.
pub fn steadiest_sentences(answer: &SpecAnswer, line: &SteadiestLine, units: UnitSystem) -> Vec<String> {
    let score = score_text(&answer.aim, &answer.frame, line.spec.score, units);
    let mut texts = vec![format!(
        "The most that any spec looked at holds in is {}, at {score}.",
        of_100(line.within_all.found)
    )];
    let blame: Vec<String> = line
        .blame
        .iter()
        .filter(|side| side.share >= TOLD)
        .map(|side| format!("{} {}", of_100(side.share), complaint(&answer.frame, &side.target, side.side)))
        .collect();
    if !blame.is_empty() {
        texts.push(format!("Of its serves {}.", listed(&blame)));
    }
    texts.extend(line.opens.iter().map(|opens| opened(&answer.frame, opens, units)));
    texts
}

/// `With volume 105 to 140 ml instead of 115 to 135 ml it holds in 78 of 100.`
fn opened(frame: &Frame, opens: &Opens, units: UnitSystem) -> String {
    match opens {
        Opens::Limits { target, min, max, within_all } => {
            let Some(gauge) = frame.gauge(target) else { return String::new() };
            let wide = crate::answer::Gauge { min: *min, max: *max, ..gauge.clone() };
            format!(
                "With {} {} instead of {} it holds in {}.",
                gauge.label,
                range_words(&wide, units),
                range_words(gauge, units),
                of_100(*within_all)
            )
        }
        Opens::Cause { cause, ingredient, within_all } => {
            let what = match (cause, ingredient) {
                (Kind::Ice, _) => "the ice always the same".to_owned(),
                (Kind::Pour, Some(name)) => format!("{name} poured exactly"),
                (Kind::Composition, Some(name)) => format!("{name} always the same"),
                (_, None) => "everything always the same".to_owned(),
            };
            format!("With {what} it holds in {}.", of_100(*within_all))
        }
    }
}
