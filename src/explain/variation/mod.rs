//! How sure: how often a spec holds with fruit, hand and ice as they come, what makes it miss, and what
//! it costs to be certain.

mod apart;
pub mod certainty;
mod interval;
pub mod lean;
mod shares;
pub mod steadier;
mod variance;

pub use apart::{Lots, Off, Ranged};
pub use interval::Share;
pub use lean::Lean;
pub use shares::{glances, services};
pub use variance::Part;

use std::num::NonZeroUsize;

use crate::brief::{Brief, HoldFor, Limit, Measure, Pour, PourError, Poured, Side};
use crate::liquid::Form;
use crate::model::Model;
use crate::simulate::{Cause, Run, SERVES, Serves, Tally, melt_reach, threads};

/// How many missed serves are gone over to see what would have mended them.
const GONE_OVER: usize = 1000;
/// A result leans on a range from this share of a target's variance on.
const LEANS: f64 = 0.01;

/// How a spec does in service.
#[derive(Debug, Clone, PartialEq)]
pub struct Service {
    /// How many serves were simulated.
    pub draws: usize,
    /// The share within all targets.
    pub within_all: Share,
    /// Every target, in the order of the brief.
    pub targets: Vec<TargetService>,
    /// The side that is missed most often; nothing where nothing was missed.
    pub worst: Option<Missed>,
    /// The share within all targets in serves that no spec was chosen by; only where the brief asks
    /// for a share.
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
    pub any_make: Option<Share>,
    /// What was assumed.
    pub assumed: Assumed,
    /// The ranges it leans on that are judgement or from memory.
    pub leans: Vec<Lean>,
}

/// One target in service.
#[derive(Debug, Clone, PartialEq)]
pub struct TargetService {
    /// The target.
    pub measure: Measure,
    /// The share of serves within it.
    pub within: Share,
    /// Between which values nine of ten serves lie; nothing where a serve has no such figure.
    pub spread: Option<(f64, f64)>,
    /// What its variance comes from, the largest part first.
    pub parts: Vec<Part>,
}

/// A side of a target that serves miss, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct Missed {
    /// The target.
    pub measure: Measure,
    /// Which side.
    pub side: Side,
    /// The share of all serves that miss it.
    pub share: f64,
    /// Its share of the serves that miss anything.
    pub of_misses: f64,
    /// Whether the spec misses it with everything as it should be.
    pub at_rest: bool,
    /// The share of its misses that a single cause, put right, would mend; the greatest first.
    pub mended: Vec<(Cause, f64)>,
    /// The share that exact pours would mend.
    pub by_hand: f64,
    /// The share that typical compositions would mend.
    pub by_nature: f64,
    /// The share that the ice's typical melt would mend.
    pub by_ice: f64,
}

/// What a service check assumed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Assumed {
    /// How liquids are poured that do not state their own way.
    pub poured: Poured,
    /// The standard deviation of a pour in the bar's step.
    pub pour_error: PourError,
    /// Whether the brief says so.
    pub stated: bool,
    /// The melt was drawn within so many ml per ml poured.
    pub melt: f64,
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
    whole(brief, pours, (&Serves::new(brief, Run::First), &limits), threads)
}

/// The same, in serves that other specs are poured in as well.
fn whole(
    brief: &Brief,
    pours: &[Pour],
    (serves, limits): (&Serves, &[Limit]),
    threads: NonZeroUsize,
) -> Service {
    let fresh = || Serves::new(brief, Run::Fresh).holding(pours, limits, threads);
    Service {
        fresh: matches!(brief.variation.hold, HoldFor::Share(_)).then(|| Share::of(fresh(), SERVES)),
        lots: apart::lots(serves, pours, limits, threads),
        any_make: apart::any_make(brief, pours, limits, threads),
        ..glance(brief, pours, (serves, limits), threads)
    }
}

/// The same but for what takes further serves: lots by themselves, other makes, and those that no spec was chosen by.
fn glance(
    brief: &Brief,
    pours: &[Pour],
    (serves, limits): (&Serves, &[Limit]),
    threads: NonZeroUsize,
) -> Service {
    let tally = serves.tally(pours, limits, threads);
    let leans = lean::leans(brief, pours);
    let parts = variance::parts(brief, pours, serves, &tally.within);
    let counts = |lean: &Lean| {
        parts.iter().flatten().any(|p| p.cause == Cause::Nature(lean.candidate) && p.share >= LEANS)
    };
    let leans: Vec<Lean> = leans.into_iter().filter(counts).collect();
    let targets = tally.within.iter().zip(parts.into_iter().zip(tally.spreads())).map(
        |((measure, within), (parts, spread))| TargetService {
            measure: *measure,
            within: Share::of(*within, tally.draws),
            spread,
            parts,
        },
    );
    let poured = brief.variation.pour_error.unwrap_or(Poured::Jigger);
    Service {
        draws: tally.draws,
        within_all: Share::of(tally.within_all, tally.draws),
        targets: targets.collect(),
        worst: missed(pours, limits, serves, &tally),
        fresh: None,
        lots: None,
        hand: apart::hand(brief, pours),
        drawn: apart::drawn(brief, pours),
        held: apart::held(brief, pours, limits),
        any_make: None,
        assumed: Assumed {
            poured,
            pour_error: poured.error(Form::Liquid, None, None),
            stated: brief.variation.pour_error.is_some(),
            melt: melt_reach(brief),
        },
        leans,
    }
}

/// The side that is missed most, and what each cause has to do with it.
fn missed(pours: &[Pour], limits: &[Limit], serves: &Serves, tally: &Tally) -> Option<Missed> {
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
    let mut mended: Vec<(Cause, f64)> =
        causes(pours).map(|cause| (cause, put_right(&|other| other == cause))).collect();
    mended.retain(|(_, share)| *share > 0.0);
    mended.sort_by(|a, b| b.1.total_cmp(&a.1));
    Some(Missed {
        measure: limit.first()?.measure,
        side: limit.first()?.side,
        share: most as f64 / tally.draws as f64,
        of_misses: most as f64 / tally.misses.len() as f64,
        at_rest: bad.first().is_some_and(|one| serves.meeting(pours, limit, &[*one], |_| false).is_empty()),
        mended,
        by_hand: put_right(&|cause| matches!(cause, Cause::Pour(_))),
        by_nature: put_right(&|cause| matches!(cause, Cause::Nature(_))),
        by_ice: put_right(&|cause| cause == Cause::Ice),
    })
}

/// Everything that can differ from serve to serve of a spec.
fn causes(pours: &[Pour]) -> impl Iterator<Item = Cause> + '_ {
    let of = |pour: &Pour| [Cause::Nature(pour.candidate), Cause::Pour(pour.candidate)];
    pours.iter().flat_map(of).chain([Cause::Ice])
}
