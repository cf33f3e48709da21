//! Ways out that stay the drink: what has to be used, what the aim speaks of and the base of the reference are kept,
//! and not one way is offered but several, each with its drink.

use super::enough;
use super::relax::{Relaxed, relative, relaxed};
use crate::brief::{Aim, Brief, Goal, Role, poured};
use crate::explain::demand::Demand;
use crate::explain::loosen::Change;
use crate::explain::oracle::{Oracle, Set};
use crate::tolerance;

/// More ways than this are no help.
const WAYS: usize = 3;
/// The share of the reference's base that has to stay in the glass for it to be the same drink. Common practice, no
/// source.
const STAYS: f64 = 0.5;

/// A way out, and whether the drink stays itself on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Route {
    /// What changes, and the best spec then.
    pub relaxed: Relaxed,
    /// Whether what has to be used, the aim's ingredient and the reference's base are kept.
    pub keeps: bool,
}

/// The brief with everything in it that makes it this drink: of the aim's ingredient a least pour, of the base of the
/// reference half of what the reference pours.
pub fn kept(brief: &Brief) -> Brief {
    let mut kept = brief.clone();
    if let Aim::Highest(Goal::Ingredient(at)) = brief.aim
        && let Some(candidate) = kept.candidates.get_mut(at)
    {
        candidate.must = !candidate.out;
    }
    for pour in brief.reference.iter().flat_map(|reference| &reference.pours) {
        let candidate = &mut kept.candidates[pour.candidate];
        if candidate.role == Role::Base && !candidate.out && pour.amount > 0.0 {
            let half = candidate.step.up(STAYS * pour.amount);
            candidate.must = true;
            candidate.least = candidate.least.max(candidate.most.map_or(half, |most| half.min(most)));
        }
    }
    kept
}

/// At most three ways out, the smallest change first, each changing something that those before it leave; where the
/// drink cannot be kept on any, the one way that gives it up.
pub fn routes(oracle: &mut Oracle, cores: &[Set], alone: &[Change]) -> Vec<Route> {
    let kept = kept(oracle.model.brief);
    let mut inner = Oracle::new(&kept, oracle.demands.clone(), oracle.effort);
    let known: Vec<_> = oracle.witnesses.iter().filter(|(_, spec)| keeps(&kept, spec)).cloned().collect();
    known.into_iter().for_each(|(_, spec)| inner.witness(spec, 0));
    let rules = |change: &Change| !change.demand.is_target() && !matches!(change.demand, Demand::Must(_));
    let inside: Vec<Change> = if kept == *oracle.model.brief {
        alone.iter().filter(|change| rules(change)).cloned().collect()
    } else {
        enough(&mut inner, |demand| !demand.is_target() && !matches!(demand, Demand::Must(_)))
    };
    let mut routes: Vec<Route> = vec![];
    let mut fixed: Set = 0;
    while routes.len() < WAYS && !(routes.is_empty() && fixed != 0) {
        let Some(relaxed) = relaxed(&mut inner, cores, &inside, fixed) else { break };
        // The next way leaves alone what this one changes most.
        let most = relaxed.changes.iter().max_by(|a, b| relative(a).total_cmp(&relative(b)));
        let Some(most) = most.map(|change| change.demand) else { break };
        fixed |= inner.those(|demand| demand == most);
        routes.push(Route { relaxed, keeps: true });
    }
    if routes.is_empty() {
        let way = relaxed(oracle, cores, alone, 0);
        routes.extend(way.map(|relaxed| Route { relaxed, keeps: false }));
    }
    routes
}

/// Whether a spec pours what has to be used.
fn keeps(kept: &Brief, spec: &crate::solve::Spec) -> bool {
    let must = |at: &usize| kept.candidates[*at].must;
    (0..kept.candidates.len())
        .filter(must)
        .all(|at| tolerance::meets_min(poured(&spec.pours, at), kept.candidates[at].least))
}
