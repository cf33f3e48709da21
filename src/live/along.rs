//! What is possible along one end of a limit: how far it can go before nothing can be poured, and where the set of
//! ingredients changes. Every place that is told was solved.

use serde::{Deserialize, Serialize};

use super::told::{Told, told};
use super::{Beside, read};
use crate::answer::{Frame, sweep_answer};
use crate::brief::edit::Demand;
use crate::brief::{Brief, Side, Target};
use crate::finding::Finding;
use crate::read::{Over, measure_named};
use crate::render::html::live::{Zone, grid, way_sentences, zones};
use crate::scenario::sweep::{Question, Run, Sweep, Way, sweep};
use crate::solve::{Ending, Stop};

/// So many places of a strip are looked at, and what lies between two that differ is halved.
const PLACES: usize = 15;

/// Which end of which strip.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Along {
    /// Which tab asks.
    pub tab: String,
    /// The text of the brief.
    pub text: String,
    /// The measure.
    pub key: String,
    /// `min` or `max`.
    pub side: String,
    /// Where the strip begins and ends.
    pub axis: [f64; 2],
}

/// What is possible there.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Possible {
    /// Drawn over the strip.
    pub drawing: String,
    /// In words.
    pub said: Vec<String>,
    /// Stretches in which a spec can be poured, from where to where.
    pub open: Vec<[f64; 2]>,
}

/// Solves the brief along one end of a strip.
///
/// # Errors
/// What is wrong with the brief, or with the question.
pub fn along(ask: &Along, house: &Beside, stop: &Stop) -> Result<Possible, Vec<Told>> {
    let found = solved(ask, house, stop).map_err(|findings| told(&ask.text, &findings))?;
    let Some((frame, swept, key, side)) = found else { return Ok(Possible::default()) };
    let all: Vec<Zone> = zones_of(&swept);
    let over = Over {
        key: format!("targets.{key}.{}", side.keyword()),
        parts: vec!["targets".to_owned(), key.clone(), side.keyword().to_owned()],
        pack: None,
        own: None,
    };
    let switches = Sweep { points: Vec::new(), ..swept };
    let answer = sweep_answer(&over, &switches);
    let said =
        answer.as_ref().map_or_else(Vec::new, |answer| way_sentences(&frame, answer, &key, side, &all));
    let open = all.iter().filter(|zone| zone.pourable).map(|zone| [zone.from, zone.to]).collect();
    Ok(Possible { drawing: zones(&all, ask.axis).into_string(), said, open })
}

type Solved = Option<(Frame, Sweep, String, Side)>;

fn solved(ask: &Along, house: &Beside, stop: &Stop) -> Result<Solved, Vec<Finding>> {
    let reading = read(&ask.text, house)?;
    let brief = &reading.brief;
    let measure = measure_named(brief, &ask.key)
        .map_err(|fault| vec![Finding::placeless("unknown-name", fault.what, fault.help)])?;
    let side = if ask.side == "min" { Side::Min } else { Side::Max };
    let frame = Frame::of(brief);
    let Some(gauge) = frame.gauge(brief.measure_name(measure)) else { return Ok(None) };
    let grain = grid(gauge, ask.axis);
    let Some(values) = places(ask.axis, grain) else { return Ok(None) };
    // Places are counted in whole steps of the grid, so that the halving meets them exactly.
    let value = |place: f64| (place * grain * 1e9).round() / 1e9;
    let at = |place: f64| Ok(asked(brief, Target { measure, min: None, max: None }, side, value(place)));
    let run = Run { workers: 1, stop, told: &|_| () };
    let key = gauge.key.clone();
    let mut swept = sweep(&at, &Way { values, grain: 1.0 }, run)?;
    let sides = swept.switches.iter_mut().flat_map(|switch| [&mut switch.before, &mut switch.after]);
    swept.points.iter_mut().chain(sides).for_each(|point| point.at = value(point.at));
    Ok(Some((frame, swept, key, side)))
}

/// The brief with the end at a value.
fn asked(brief: &Brief, none: Target, side: Side, value: f64) -> Question {
    let mut moved = brief.clone();
    let at = moved.targets.iter().position(|target| target.measure == none.measure).unwrap_or_else(|| {
        moved.targets.push(none);
        moved.targets.len() - 1
    });
    Demand::Target(at, side).set(&mut moved, value);
    match (moved.targets[at].min, moved.targets[at].max) {
        (Some(min), Some(max)) if min > max => Question::Crossed,
        _ => Question::Brief(Box::new(moved)),
    }
}

/// Places of a strip in steps of its grid, from its beginning to its end.
fn places([low, high]: [f64; 2], grain: f64) -> Option<Vec<f64>> {
    let (first, last) = ((low.max(0.0) / grain).ceil(), (high / grain).floor());
    if !(first.is_finite() && last.is_finite()) || last - first < 1.0 || last - first > 1e6 {
        return None;
    }
    let share = |at: usize| first + ((last - first) * at as f64 / (PLACES - 1) as f64).round();
    let mut values: Vec<f64> = (0..PLACES).map(share).collect();
    values.dedup();
    Some(values)
}

/// Stretches of the way with the same set of ingredients.
fn zones_of(swept: &Sweep) -> Vec<Zone> {
    let sides = swept.switches.iter().flat_map(|switch| [&switch.before, &switch.after]);
    let mut all: Vec<_> = swept.points.iter().chain(sides).collect();
    all.sort_by(|a, b| a.at.total_cmp(&b.at));
    let alike = |a: &&crate::scenario::sweep::Point, b: &&crate::scenario::sweep::Point| a.set() == b.set();
    let runs = all.chunk_by(alike).filter(|run| run.iter().all(|point| point.ending != Ending::Stopped));
    runs.filter_map(|run| {
        Some(Zone { from: run.first()?.at, to: run.last()?.at, pourable: run.first()?.spec.is_some() })
    })
    .collect()
}
