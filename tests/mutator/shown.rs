//! What is shown of a whole answer: written in every form, and every figure is the drink's, by a second physics.

use std::sync::{Arc, mpsc};
use std::time::Duration;

use washline::answer::{check_answer, explained};
use washline::brief::{Brief, Measure};
use washline::explain::explain;
use washline::quantity::UnitSystem;
use washline::read::read;
use washline::render::{Colour, Extent, Format, Look, html, write};
use washline::solve::{Ending, Solved, Stop, solve};

use super::run::{known, sound, usable};
use crate::glass;

/// Relative difference of two figures of the same thing.
const SAME: f64 = 1e-9;

/// A flag that is raised when patience ends, as long as the sender is not dropped.
fn patience(time: Duration) -> (Arc<Stop>, mpsc::Sender<()>) {
    let stop = Arc::new(Stop::default());
    let (alive, ended) = mpsc::channel();
    let flag = Arc::clone(&stop);
    std::thread::spawn(move || {
        if ended.recv_timeout(time) == Err(mpsc::RecvTimeoutError::Timeout) {
            flag.raise();
        }
    });
    (stop, alive)
}

/// What is shown of every spec is what the pours measure, and it is within every limit.
fn honest(brief: &Brief, solved: &Solved) -> Result<(), String> {
    let mut measures = Measure::BUILT_IN.to_vec();
    measures.extend((0..brief.properties.len()).map(Measure::Property));
    for spec in solved.specs.iter().chain(&solved.unrounded) {
        let own = glass::measure(brief, spec.pours.iter().map(|p| (p.candidate, p.amount)));
        for &measure in &measures {
            let (shown, own) = (spec.served.value(measure), own.value(brief, measure));
            let same = shown == own || (shown.is_nan() && own.is_nan());
            if !same && (shown - own).abs() > SAME * own.abs().max(1e-6) {
                return Err(format!("{measure:?}: shown {shown}, measured {own}: {spec:?}"));
            }
        }
    }
    for spec in &solved.specs {
        for target in &brief.targets {
            let value = spec.served.value(target.measure);
            let low = target.min.is_some_and(|min| value < min - SAME * min.abs());
            let high = target.max.is_some_and(|max| value > max + SAME * max.abs());
            if low || high || value.is_nan() {
                return Err(format!("{target:?} is {value}: {spec:?}"));
            }
        }
    }
    Ok(())
}

/// Every form of an answer: written, with no figure that is none, and JSON is JSON.
fn written(brief: &Brief, solved: &Solved, stop: &Stop) -> Result<(), String> {
    let answer = explained(brief, solved, &explain(brief, solved, stop));
    let checked = solved.specs.first().map(|best| check_answer(brief, &best.pours));
    for format in [Format::Text, Format::Json, Format::Markdown, Format::Csv] {
        for units in [UnitSystem::Metric, UnitSystem::UsOunces] {
            let look = Look { units, colour: Colour::Styled, extent: Extent::Full, ..Look::default() };
            let mut texts = vec![write(&answer, format, look)];
            texts.extend(checked.as_ref().map(|checked| write(checked, format, look)));
            for text in texts {
                no_strange_figure(&text)?;
                if format == Format::Json {
                    serde_json::from_str::<serde_json::Value>(&text).map_err(|e| format!("{e}: {text}"))?;
                }
            }
        }
    }
    no_strange_figure(&html::write(&answer, UnitSystem::Metric, &html::Imprint::default()))?;
    if solved.ending == Ending::Found && checked.is_some_and(|checked| !checked.meets) {
        return Err("the best spec does not meet its own brief".to_owned());
    }
    Ok(())
}

fn no_strange_figure(text: &str) -> Result<(), String> {
    let strange = |word: &str| matches!(word, "NaN" | "inf" | "-inf" | "-0" | "-0.0" | "-0.00");
    let word =
        text.split(|c: char| !(c.is_alphanumeric() || c == '.' || c == '-')).find(|word| strange(word));
    word.map_or(Ok(()), |word| Err(format!("{word} is shown:\n{text}")))
}

/// Reads a file, answers it and looks at what is shown of the answer; a search that needs longer than `time` is
/// given up, and what it has by then has to hold as well. Tells how it ended.
pub fn answer(text: &str, time: Duration) -> Result<&'static str, String> {
    let brief = match read(text.as_bytes(), &[]) {
        Ok(reading) => reading.brief,
        Err(findings) => {
            return known(&findings)
                .and_then(|()| sound(&findings, text.as_bytes()))
                .map(|()| "refused")
                .map_err(|what| format!("{what}\n{text}"));
        }
    };
    let (stop, _alive) = patience(time);
    let solved = solve(&brief, &stop);
    usable(&brief)
        .and_then(|()| honest(&brief, &solved))
        .and_then(|()| written(&brief, &solved, &stop))
        .map_err(|what| format!("{what}\n{text}"))?;
    Ok(match solved.ending {
        Ending::Found => "found",
        Ending::Conflict => "conflict",
        Ending::Stopped => "stopped",
    })
}
