//! How sure: how often a spec holds with fruit, hand and ice as they come, what makes it miss, and what
//! it costs to be certain.

mod apart;
pub mod certainty;
mod interval;
pub mod lean;
mod shares;
pub mod steadier;
mod variance;

pub use apart::{Good, Lots, Off, Ranged};
pub use interval::Share;
pub use lean::Lean;
pub use shares::{glances, services};
pub use variance::{Kind, Part};

use std::num::NonZeroUsize;

use crate::brief::{Brief, HoldFor, Limit, Measure, Pour, Poured, Side};
use crate::liquid::Form;
use crate::model::Model;
use crate::simulate::{Cause, Run, SERVES, Serves, Tally, melt_reach, threads};

/// How many missed serves are gone over to see what would have mended them.
const GONE_OVER: usize = 1000;
/// A result leans on a range from this share of a target's variance on.
const LEANS: f64 = 0.01;

/// How a spec does in service.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Service {
    /// How many serves were simulated.
    pub draws: usize,
    /// The share within all targets.
    #[serde(flatten)]
    pub within_all: Share,
    /// Every target, in the order of the brief.
    pub targets: Vec<TargetService>,
    /// The side that is missed most often; nothing where nothing was missed.
    pub most_missed: Option<Missed>,
    /// The share within all targets in serves that no spec was chosen by; only where the brief asks
    /// for a share.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fresh: Option<Share>,
    /// Serves from a typical lot beside what differs from lot to lot; nothing where no lot differs.
    pub lots: Option<Lots>,
    /// How far off each pour is.
    pub hand: Vec<Off>,
    /// The figures that are drawn from a range.
    pub drawn: Vec<Ranged>,
    /// The figures that stand still at their typical value although makes differ.
    pub held: Vec<Ranged>,
    /// The share within all targets, did nobody know which make is poured.
    pub any_make: Option<f64>,
    /// Standard deviation of a pour in the bar's step, ml.
    pub pour_error: f64,
    /// The part of it that grows with the amount, as a share of it.
    pub pour_share: f64,
    /// How liquids are poured that do not say it themselves; nothing where the brief states a figure.
    pub poured: Option<&'static str>,
    /// Whether the brief states it.
    #[serde(skip)]
    pub stated: bool,
    /// The melt was drawn within so many ml per ml poured.
    pub melt_within: f64,
    /// The ranges it leans on that are judgement or from memory.
    pub judged: Vec<Lean>,
}

/// One target in service.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct TargetService {
    /// The target.
    #[serde(skip)]
    pub measure: Measure,
    /// Its key.
    pub target: String,
    /// The share of serves within it.
    pub within: f64,
    /// Its 95 % interval.
    pub interval: [f64; 2],
    /// Between which values nine of ten serves lie; nothing where a serve has no such figure.
    pub spread: Option<[f64; 2]>,
    /// What its variance comes from, the largest part first.
    pub varies_with: Vec<Part>,
}

/// A side of a target that serves miss, and why.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Missed {
    /// The target's key.
    pub target: String,
    /// Which side.
    pub side: Side,
    /// The share of all serves that miss it.
    pub share: f64,
    /// Its share of the serves that miss anything.
    pub of_misses: f64,
    /// Whether the spec misses it with everything as it should be.
    pub at_rest: bool,
    /// The share of its misses that a single cause, put right, would mend; the greatest first.
    pub mended: Vec<Part>,
    /// The share that exact pours would mend.
    pub by_pours: f64,
    /// The share that typical compositions would mend.
    pub by_compositions: f64,
    /// The share that the ice's typical melt would mend.
    pub by_ice: f64,
}

/// Serves a spec thousands of times.
pub fn service(brief: &Brief, pours: &[Pour]) -> Service {
    service_on(brief, pours, threads())
}

/// The share of a spec's serves within all targets, and nothing else.
pub fn within_all(brief: &Brief, pours: &[Pour]) -> Share {
    let limits = Model::new(brief).targets();
    Share::of(Serves::new(brief, Run::First).holding(pours, &limits, threads()), SERVES)
}

/// The same on so many threads; the result does not depend on it.
pub fn service_on(brief: &Brief, pours: &[Pour], threads: NonZeroUsize) -> Service {
    let limits = Model::new(brief).targets();
    of(brief, pours, (&Serves::new(brief, Run::First), &limits), threads, true)
}

/// The same, in serves that other specs are poured in as well; what takes further serves (lots by themselves, other
/// makes, and those that no spec was chosen by) only where that is asked for.
fn of(
    brief: &Brief,
    pours: &[Pour],
    (serves, limits): (&Serves, &[Limit]),
    threads: NonZeroUsize,
    further: bool,
) -> Service {
    let in_share = matches!(brief.variation.hold, HoldFor::Share(_));
    let fresh = || Share::of(Serves::new(brief, Run::Fresh).holding(pours, limits, threads), SERVES);
    let any_make = || apart::any_make(brief, pours, limits, threads);
    let tally = serves.tally(pours, limits, threads);
    let leans = lean::leans(brief, pours);
    let parts = variance::parts(brief, pours, serves, &tally.within);
    let counts = |lean: &Lean| {
        parts.iter().flatten().any(|p| p.of == Cause::Nature(lean.candidate) && p.share >= LEANS)
    };
    let judged: Vec<Lean> = leans.into_iter().filter(counts).collect();
    let targets = tally.within.iter().zip(parts.into_iter().zip(tally.spreads())).map(
        |((measure, within), (varies_with, spread))| {
            let share = Share::of(*within, tally.draws);
            TargetService {
                measure: *measure,
                target: brief.measure_name(*measure).to_owned(),
                within: share.found,
                interval: share.interval(),
                spread: spread.map(|(low, high)| [low, high]),
                varies_with,
            }
        },
    );
    let poured = brief.variation.pour_error.unwrap_or(Poured::Jigger);
    let error = poured.error(Form::Liquid, None, None);
    Service {
        draws: tally.draws,
        within_all: Share::of(tally.within_all, tally.draws),
        targets: targets.collect(),
        most_missed: missed(brief, pours, limits, serves, &tally),
        fresh: (further && in_share).then(fresh),
        lots: further.then(|| apart::lots(brief, serves, pours, limits, threads)).flatten(),
        hand: apart::hand(brief, pours),
        drawn: apart::drawn(brief, pours),
        held: apart::held(brief, pours, limits),
        any_make: further.then(any_make).flatten().map(|share| share.found),
        pour_error: error.fixed,
        pour_share: error.share,
        poured: poured.keyword(),
        stated: brief.variation.pour_error.is_some(),
        melt_within: melt_reach(brief),
        judged,
    }
}

/// The side that is missed most, and what each cause has to do with it.
fn missed(brief: &Brief, pours: &[Pour], limits: &[Limit], serves: &Serves, tally: &Tally) -> Option<Missed> {
    let most = tally.missed.iter().copied().max().filter(|most| *most > 0)?;
    let at = tally.missed.iter().position(|missed| *missed == most)?;
    let limit = limits.get(at..=at)?;
    let mut bad: Vec<usize> = vec![];
    for some in tally.misses.chunks(GONE_OVER) {
        if bad.len() >= GONE_OVER {
            break;
        }
        let fine = serves.meeting(pours, limit, some, |_| true);
        bad.extend(some.iter().filter(|number| fine.binary_search(number).is_err()));
    }
    bad.truncate(GONE_OVER);
    let put_right = |still: &dyn Fn(Cause) -> bool| {
        let mended = serves.meeting(pours, limit, &bad, |cause| !still(cause));
        mended.len() as f64 / bad.len() as f64
    };
    let mut mended: Vec<Part> =
        causes(pours).map(|cause| Part::new(brief, cause, put_right(&|other| other == cause))).collect();
    mended.retain(|part| part.share > 0.0);
    mended.sort_by(|a, b| b.share.total_cmp(&a.share));
    Some(Missed {
        target: brief.measure_name(limit.first()?.measure).to_owned(),
        side: limit.first()?.side,
        share: most as f64 / tally.draws as f64,
        of_misses: most as f64 / tally.misses.len() as f64,
        at_rest: bad.first().is_some_and(|one| serves.meeting(pours, limit, &[*one], |_| false).is_empty()),
        mended,
        by_pours: put_right(&|cause| matches!(cause, Cause::Pour(_))),
        by_compositions: put_right(&|cause| matches!(cause, Cause::Nature(_))),
        by_ice: put_right(&|cause| cause == Cause::Ice),
    })
}

/// Everything that can differ from serve to serve of a spec.
fn causes(pours: &[Pour]) -> impl Iterator<Item = Cause> + '_ {
    let of = |pour: &Pour| [Cause::Nature(pour.candidate), Cause::Pour(pour.candidate)];
    pours.iter().flat_map(of).chain([Cause::Ice])
}
