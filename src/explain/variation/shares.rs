//! In how many serves each of several specs holds, all of them poured in the same serves: the same hand,
//! the same fruit, the same ice. So the shares can be held against each other.

use std::num::NonZeroUsize;

use super::{Service, Share};
use crate::brief::Brief;
use crate::explain::side_by_side::side_by_side;
use crate::model::Model;
use crate::simulate::{Run, SERVES, Serves, threads};
use crate::solve::{Spec, Stop};

/// How the first of some specs does in service, and the share of every one's serves within all targets, in their
/// order; nothing where there is no spec.
pub fn services(brief: &Brief, specs: &[Spec]) -> Option<(Service, Vec<Share>)> {
    beside(brief, specs, true, &Stop::default())
}

/// The same at a glance: without lots by themselves, other makes, and serves that no spec was chosen by; nothing where it
/// is stopped.
pub fn glances(brief: &Brief, specs: &[Spec], stop: &Stop) -> Option<(Service, Vec<Share>)> {
    beside(brief, specs, false, stop)
}

fn beside(brief: &Brief, specs: &[Spec], further: bool, stop: &Stop) -> Option<(Service, Vec<Share>)> {
    let (serves, limits) = (Serves::new(brief, Run::First), Model::new(brief).targets());
    // One spec a thread where there are several; the first, of which the most is asked, begins.
    let each = NonZeroUsize::new(threads().get() / specs.len().max(1)).unwrap_or(NonZeroUsize::MIN);
    let numbers: Vec<usize> = (0..specs.len()).collect();
    let found = side_by_side(&numbers, threads().get(), |at| match (*at, &specs[*at].pours) {
        _ if stop.raised() => None,
        (0, pours) => {
            let service = super::of(brief, pours, (&serves, &limits), each, further);
            Some((service.within_all, Some(service)))
        }
        (_, pours) => Some((Share::of(serves.holding(pours, &limits, each), SERVES), None)),
    });
    let found: Option<Vec<_>> = found.into_iter().collect();
    let (shares, services): (Vec<Share>, Vec<Option<Service>>) = found?.into_iter().unzip();
    Some((services.into_iter().next()??, shares))
}
