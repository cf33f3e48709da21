//! In how many serves each of several specs holds, all of them poured in the same serves: the same hand,
//! the same fruit, the same ice. So the shares can be held against each other.

use std::num::NonZeroUsize;
use std::panic::resume_unwind;
use std::thread;

use super::{Service, Share, glance, threads};
use crate::brief::Brief;
use crate::model::Model;
use crate::model::serves::{Run, SERVES, Serves};
use crate::solve::Spec;

/// How the first of some specs does in service, at a glance ([`Service`] without lots, other makes and fresh serves), and
/// the share of every one's serves within all targets, in their order; nothing where there is no spec.
pub fn services(brief: &Brief, specs: &[Spec]) -> Option<(Service, Vec<Share>)> {
    let (first, others) = specs.split_first()?;
    let (serves, limits) = (Serves::new(brief, Run::First), Model::new(brief).targets());
    // Of the first as much is asked as of all others together: each has half of the threads.
    let half = NonZeroUsize::new(threads().get() / 2).unwrap_or(NonZeroUsize::MIN);
    let share = |spec: &Spec| Share::of(serves.holding(&spec.pours, &limits, half), SERVES);
    let (service, others) = thread::scope(|scope| {
        let others = scope.spawn(|| others.iter().map(share).collect::<Vec<Share>>());
        let service = glance(brief, &first.pours, (&serves, &limits), half);
        (service, others.join().unwrap_or_else(|fault| resume_unwind(fault)))
    });
    let shares = std::iter::once(service.within_all).chain(others).collect();
    Some((service, shares))
}
