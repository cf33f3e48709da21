//! A brief along one of its values.

use super::spec::{self, SpecLine};
use super::spec_answer::aim_line;
use super::{AimLine, Asked, FORMAT, Frame, axis};
use crate::explain::variation::within_all;
use crate::read::Over;
use crate::scenario::sweep::{Point, Sweep, Switch};
use crate::solve::Ending;

/// A trade-off curve.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct SweepAnswer {
    /// Version of this object.
    pub format: u32,
    /// What the drink is called.
    pub title: String,
    /// The key of the value that moves.
    pub over: String,
    /// Every point, in the order of the sweep.
    pub points: Vec<PointLine>,
    /// Where the set of ingredients switches, in the order of the sweep.
    pub switches: Vec<SwitchLine>,
    /// The pack of a price that moves.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pack: Option<String>,
    /// The unit of the value that moves; empty where it has none.
    pub unit: String,
    /// ISO 4217.
    pub currency: String,
    /// What is aimed for at every point.
    pub aim: AimLine,
    /// The value that moves, in words: `most strength`.
    #[serde(skip)]
    pub moved: String,
    /// The value that the brief itself has there, where it has one.
    #[serde(skip)]
    pub own: Option<f64>,
    /// What was asked, where that is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub asked: Option<Asked>,
    /// The question, as it is at the first point that asks one.
    #[serde(skip)]
    pub frame: Frame,
}

/// One point.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct PointLine {
    /// The value there.
    pub at: f64,
    /// How the search ended.
    pub outcome: Ending,
    /// The aim's value of the best spec.
    pub score: Option<f64>,
    /// The best spec.
    pub spec: Option<SpecLine>,
}

impl PointLine {
    /// The names of its ingredients; none where no spec meets the brief.
    pub fn names(&self) -> Vec<&str> {
        let mut names: Vec<&str> =
            self.spec.iter().flat_map(|s| &s.pours).map(|p| p.ingredient.as_str()).collect();
        names.sort_unstable();
        names
    }
}

/// A switch.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct SwitchLine {
    /// The first value at which the new set is the best.
    pub at: f64,
    /// The old set, in card order; empty where no spec meets the brief.
    pub from: Vec<String>,
    /// The new set.
    pub to: Vec<String>,
    /// The last value at which the old set was found the best.
    pub before: f64,
    /// The score there.
    pub score_before: Option<f64>,
    /// The score at `at`.
    pub score: Option<f64>,
    /// The spec at `before`.
    #[serde(skip)]
    pub spec_before: Option<SpecLine>,
    /// The spec at `at`.
    #[serde(skip)]
    pub spec: Option<SpecLine>,
}

/// Builds the curve. `None` where no point asks anything.
pub fn sweep_answer(over: &Over, sweep: &Sweep) -> Option<SweepAnswer> {
    let brief = sweep.first.as_deref()?;
    Some(SweepAnswer {
        format: FORMAT,
        title: brief.title.clone(),
        over: over.key.clone(),
        points: sweep.points.iter().map(point).collect(),
        switches: sweep.switches.iter().map(switch).collect(),
        pack: over.pack.clone(),
        unit: axis::unit(brief, &over.parts, over.pack.as_deref()),
        currency: brief.currency.code().to_owned(),
        aim: aim_line(brief),
        moved: axis::words(brief, &over.parts),
        own: over.own,
        asked: None,
        frame: Frame::of(brief),
    })
}

fn spec(point: &Point) -> Option<SpecLine> {
    point.brief.as_deref().zip(point.spec.as_ref()).map(|(brief, spec)| spec::line(brief, spec, None))
}

fn point(point: &Point) -> PointLine {
    let served = point.brief.as_deref().zip(point.spec.as_ref());
    let share = served.map(|(brief, spec)| within_all(brief, &spec.pours));
    let spec = spec(point).map(|spec| spec.in_service(share));
    PointLine { at: point.at, outcome: point.ending, score: spec.as_ref().map(|spec| spec.score), spec }
}

fn switch(switch: &Switch) -> SwitchLine {
    SwitchLine {
        at: switch.after.at,
        from: used(&switch.before),
        to: used(&switch.after),
        before: switch.before.at,
        score_before: switch.before.spec.as_ref().map(|spec| spec.score),
        score: switch.after.spec.as_ref().map(|spec| spec.score),
        spec_before: spec(&switch.before),
        spec: spec(&switch.after),
    }
}

/// The names of a point's ingredients, in card order.
fn used(point: &Point) -> Vec<String> {
    let Some((brief, spec)) = point.brief.as_deref().zip(point.spec.as_ref()) else { return Vec::new() };
    spec.pours.iter().map(|pour| brief.candidates[pour.candidate].name.clone()).collect()
}
