//! `washline sweep BRIEF --over KEY=FROM..TO`

use super::args::SweepArgs;
use super::exit::{Exit, Failure};
use super::progress::Progress;
use super::{clock, input, output};
use crate::answer::{Outcome, Over, SweepAnswer, sweep_answer};
use crate::finding::Finding;
use crate::read::{Axis, Numbers, Place};
use crate::render::{html, write};
use crate::scenario::sweep::{Question, Run, Told, Way, sweep};

/// More points than this show nothing that these do not.
const MOST: usize = 10_000;

/// Solves the brief along the axis and writes the curve.
pub fn run(args: &SweepArgs) -> Result<Exit, Failure> {
    output::refuse_existing(&args.show)?;
    let (key, from, to) = over(&args.over)?;
    let page = input::page_of(&args.brief)?;
    let refused = |findings| page.refused(findings);
    let axis = Axis::of(&page.bytes, &page.changes, key).map_err(refused)?;
    let way = way(&axis, from, to, args.steps)?;
    warn(&page, &axis, from);
    let stop = clock::stop_after(args.time_limit);
    let progress = Progress::new(way.values.len());
    let told = |told: Told| match told {
        Told::Done => progress.step(),
        Told::More(count) => progress.more(count),
    };
    let ask = |value: f64| {
        axis.at(&page.bytes, value).map(|place| match place {
            Place::Reading(reading) => Question::Brief(Box::new(reading.brief)),
            Place::Crossed(_) => Question::Crossed,
        })
    };
    let found = sweep(&ask, &way, Run { workers: clock::workers(), stop: &stop, told: &told });
    progress.finish();
    let found = found.map_err(refused)?;
    let Some(mut answer) = sweep_answer(&Over::from(&axis), &found) else {
        return Err(page.refused(crossed(&page, &axis, from)));
    };
    let imprint = page.imprint(&args.brief);
    answer.asked = Some(args.brief.asked());
    output::report(&args.show, |units| html::write(&answer, units, &imprint))?;
    let text = write(&answer, args.show.format.into(), output::look(&args.show));
    output::deliver(&text, &args.show)?;
    Ok(exit(&answer))
}

/// Says once what is worth a second look.
fn warn(page: &input::Page, axis: &Axis, value: f64) {
    if let Ok(Place::Reading(reading)) = axis.at(&page.bytes, value) {
        page.warn(&reading.warnings);
    }
}

/// The limits stand the wrong way round at every point: that is a brief that asks nothing.
fn crossed(page: &input::Page, axis: &Axis, value: f64) -> Vec<Finding> {
    match axis.at(&page.bytes, value) {
        Ok(Place::Crossed(findings)) | Err(findings) => findings,
        Ok(Place::Reading(_)) => Vec::new(),
    }
}

fn exit(answer: &SweepAnswer) -> Exit {
    let some = |outcome: Outcome| answer.points.iter().any(|p| p.outcome == outcome);
    match (some(Outcome::Stopped), some(Outcome::Found)) {
        (true, _) => Exit::Stopped,
        (false, true) => Exit::Answered,
        (false, false) => Exit::Unmet,
    }
}

fn bad(what: String, help: &str) -> Failure {
    Failure::placeless("bad-sweep", what, help)
}

/// The key and the two ends of `KEY=FROM..TO`.
fn over(text: &str) -> Result<(&str, f64, f64), Failure> {
    let help = "write it as KEY=FROM..TO, for example --over targets.strength.max=8..16";
    let wrong = || bad(format!("--over {text} names no value and two ends"), help);
    let (key, range) = text.rsplit_once('=').ok_or_else(wrong)?;
    let (from, to) = range.split_once("..").ok_or_else(wrong)?;
    let end = |text: &str| text.trim().parse::<f64>().ok().filter(|n| n.is_finite());
    let digit = |text: &str| text.trim().starts_with(|c: char| c.is_ascii_digit() || c == '-');
    let (Some(low), Some(high)) = (end(from), end(to)) else { return Err(wrong()) };
    if key.trim().is_empty() || !digit(from) || !digit(to) {
        return Err(wrong());
    }
    if low == high {
        return Err(bad(format!("--over {text} goes nowhere"), "give it two different ends"));
    }
    Ok((key.trim(), low, high))
}

/// The points, evenly from end to end.
fn way(axis: &Axis, from: f64, to: f64, steps: usize) -> Result<Way, Failure> {
    if !(2..=MOST).contains(&steps) {
        let what = format!("--steps {steps} is not possible");
        return Err(bad(what, "give from 2 to 10000 points; switches are found between them"));
    }
    let share = |at: usize| at as f64 / (steps - 1) as f64;
    let mut values: Vec<f64> = (0..steps).map(|at| neat(from + (to - from) * share(at))).collect();
    let mut grain = 0.0;
    if axis.numbers == Numbers::Whole {
        if from.fract() != 0.0 || to.fract() != 0.0 {
            let what = format!("`{}` takes whole numbers", axis.key);
            return Err(bad(what, "give it whole ends"));
        }
        values.iter_mut().for_each(|value| *value = value.round());
        values.dedup();
        grain = 1.0;
    }
    if let (Some(first), Some(last)) = (values.first_mut(), Some(from)) {
        *first = last;
    }
    if let Some(last) = values.last_mut() {
        *last = to;
    }
    Ok(Way { values, grain })
}

/// A value without the dust of its arithmetic: twelve digits.
fn neat(value: f64) -> f64 {
    format!("{value:.11e}").parse().unwrap_or(value)
}
