//! Specs that are steadier than the best: by how much of the aim they are paid for, and what stands in the way of more.

use super::interval::NORMAL;
use super::variance::{Kind, told};
use super::{Share, threads};
use crate::brief::{Brief, HoldFor, Limit, Measure, Pour, Side};
use crate::model::Model;
use crate::simulate::{Run, SERVES, Serves, Tally};
use crate::solve::levels::{Level, Steady};
use crate::solve::{Solved, Spec, Stop, levels};

/// So many serves tell what one cause does.
const CAUSES: usize = 4000;
/// No more ways than this are told of what would open more.
const WAYS: usize = 4;
/// A way is worth telling from this many more serves of 100 on.
const WORTH: f64 = 0.02;

/// Steadier specs.
#[derive(Debug, Clone, PartialEq)]
pub struct Steadier {
    /// Every level that the best does not meet.
    pub levels: Vec<Level>,
    /// The spec that holds in the most serves, of all that were looked at.
    pub steadiest: Option<Steadiest>,
}

/// The spec that holds in the most serves.
#[derive(Debug, Clone, PartialEq)]
pub struct Steadiest {
    /// The spec.
    pub spec: Spec,
    /// Its share.
    pub within: Share,
    /// The sides of targets that its serves miss, the most often missed first.
    pub blame: Vec<Blamed>,
    /// What would let more of its serves hold, the most first.
    pub opens: Vec<Opens>,
}

/// A side of a target and the share of serves that miss it.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Blamed {
    /// The target's key.
    pub target: String,
    /// `min` or `max`.
    pub side: Side,
    /// The share of all serves.
    pub share: f64,
}

/// One change, and the share of the same spec's serves within all targets then.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
#[serde(untagged)]
pub enum Opens {
    /// Wider limits.
    Limits {
        /// The target's key.
        target: String,
        /// Its lower limit then.
        min: Option<f64>,
        /// Its upper limit then.
        max: Option<f64>,
        /// The share then.
        within_all: f64,
    },
    /// Nothing of a cause.
    Cause {
        /// What would always be as it should.
        cause: Kind,
        /// Of which ingredient; nothing of the ice.
        ingredient: Option<String>,
        /// The share then.
        within_all: f64,
    },
}

impl Opens {
    /// The share of serves then.
    fn within_all(&self) -> f64 {
        match self {
            Self::Limits { within_all, .. } | Self::Cause { within_all, .. } => *within_all,
        }
    }
}

/// Looks for steadier specs; nothing where the brief asks for none, or for a share of serves itself.
pub fn steadier(brief: &Brief, solved: &Solved, stop: &Stop) -> Option<Steadier> {
    if brief.answer.steady.is_empty() || matches!(brief.variation.hold, HoldFor::Share(_)) {
        return None;
    }
    let asked: Vec<f64> = brief.answer.steady.iter().map(|percent| percent / 100.0).collect();
    let found = levels::levels(brief, solved, &asked, stop);
    let steadiest = found.steadiest.map(|steady| steadiest(brief, steady));
    Some(Steadier { levels: found.levels, steadiest })
}

fn steadiest(brief: &Brief, steady: Steady) -> Steadiest {
    let (serves, limits) = (Serves::new(brief, Run::First), Model::new(brief).targets());
    let tally = serves.tally(&steady.spec.pours, &limits, threads());
    let mut blame: Vec<Blamed> = limits
        .iter()
        .zip(&tally.missed)
        .map(|(limit, missed)| Blamed {
            target: brief.measure_name(limit.measure).to_owned(),
            side: limit.side,
            share: *missed as f64 / tally.draws as f64,
        })
        .filter(|blamed| blamed.share > 0.0)
        .collect();
    blame.sort_by(|a, b| b.share.total_cmp(&a.share));
    let mut opens = wider(brief, &serves, &steady.spec.pours, &limits, &tally);
    opens.extend(without(brief, &serves, &steady.spec.pours, &limits));
    opens.sort_by(|a, b| b.within_all().total_cmp(&a.within_all()));
    opens.truncate(WAYS);
    Steadiest { within: Share::of(steady.within, SERVES), spec: steady.spec, blame, opens }
}

/// Every missed measure's limits moved out to where nine of ten serves lie, one measure at a time.
fn wider(brief: &Brief, serves: &Serves, pours: &[Pour], limits: &[Limit], tally: &Tally) -> Vec<Opens> {
    let missed = |measure: Measure| {
        limits.iter().zip(&tally.missed).any(|(limit, missed)| limit.measure == measure && *missed > 0)
    };
    let measures = tally.within.iter().map(|(measure, _)| measure).zip(tally.spreads());
    let way = |(measure, spread): (&Measure, Option<(f64, f64)>)| {
        let (low, high) = spread?;
        let moved: Vec<Limit> = limits.iter().map(|limit| outwards(*limit, *measure, (low, high))).collect();
        // What held within tighter limits holds within these.
        let more = serves.meeting(pours, &moved, &tally.misses, |_| true).len();
        let at = |side: Side| {
            moved.iter().find(|l| l.measure == *measure && l.side == side).map(|limit| limit.value)
        };
        (more as f64 >= WORTH * tally.draws as f64).then(|| Opens::Limits {
            target: brief.measure_name(*measure).to_owned(),
            min: at(Side::Min),
            max: at(Side::Max),
            within_all: (tally.within_all + more) as f64 / tally.draws as f64,
        })
    };
    measures.filter(|(measure, _)| missed(**measure)).filter_map(way).collect()
}

/// A limit of a measure moved out to an end of its serves, to as many digits as the measure is told with.
fn outwards(limit: Limit, measure: Measure, (low, high): (f64, f64)) -> Limit {
    if limit.measure != measure {
        return limit;
    }
    let scale = 10_f64.powi(i32::try_from(measure.digits()).unwrap_or(0));
    let value = match limit.side {
        Side::Min => limit.value.min(((low * scale).floor() / scale).max(0.0)),
        Side::Max => limit.value.max((high * scale).ceil() / scale),
    };
    Limit { value, ..limit }
}

/// Every cause put right, one at a time.
fn without(brief: &Brief, serves: &Serves, pours: &[Pour], limits: &[Limit]) -> Vec<Opens> {
    let numbers: Vec<usize> = (0..CAUSES.min(SERVES)).collect();
    let held = serves.meeting(pours, limits, &numbers, |_| true);
    super::causes(pours)
        .filter_map(|cause| {
            let then = serves.meeting(pours, limits, &numbers, |other| other != cause);
            let gained = then.iter().filter(|number| held.binary_search(number).is_err()).count();
            let lost = held.len() + gained - then.len();
            let (by, half) = difference(gained, lost, numbers.len());
            let within_all = then.len() as f64 / numbers.len() as f64;
            let (cause, ingredient) = told(brief, cause);
            (by >= WORTH && by > half).then_some(Opens::Cause { cause, ingredient, within_all })
        })
        .collect()
}

/// The difference of two shares of the same serves, and half of its 95 % interval: the variance of a difference of paired
/// counts (`McNemar`, *Psychometrika* 12 (1947) 153).
pub fn difference(gained: usize, lost: usize, serves: usize) -> (f64, f64) {
    let (gained, lost, serves) = (gained as f64, lost as f64, serves as f64);
    let by = gained - lost;
    let variance = (gained + lost - by * by / serves).max(0.0);
    (by / serves, NORMAL * variance.sqrt() / serves)
}
