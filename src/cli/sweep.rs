//! `washline sweep BRIEF --over KEY=FROM..TO`

use super::args::SweepArgs;
use super::exit::{Exit, Failure};
use super::progress::progress;
use super::{clock, input, output};
use crate::answer::sweep_answer;
use crate::finding::Finding;
use crate::read::{Axis, Place};
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
    let progress = progress(way.values.len());
    let told = |told: Told| match told {
        Told::Done => progress.inc(1),
        Told::More(count) => progress.inc_length(count as u64),
    };
    let ask = |value: f64| question(&axis, &page, value);
    let found = sweep(&ask, &way, Run { workers: clock::workers(), stop: &stop, told: &told });
    progress.finish_and_clear();
    let found = found.map_err(refused)?;
    let Some(mut answer) = sweep_answer(&axis.over, &found) else {
        return Err(page.refused(crossed(&page, &axis, from)));
    };
    let imprint = page.imprint();
    answer.asked = Some(args.brief.asked());
    output::show(&args.show, &answer, &imprint)?;
    Ok(Exit::of_all(answer.points.iter().map(|point| point.outcome)))
}

/// What is asked at a place of the axis.
pub fn question(axis: &Axis, page: &input::Page, value: f64) -> Result<Question, Vec<Finding>> {
    axis.at(&page.bytes, value).map(|place| match place {
        Place::Reading(reading) => Question::Brief(Box::new(reading.brief)),
        Place::Crossed(_) => Question::Crossed,
    })
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
    if axis.whole {
        if from.fract() != 0.0 || to.fract() != 0.0 {
            let what = format!("`{}` takes whole numbers", axis.over.key);
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
