//! The nearest looser value of each limit at which something better can be poured.
//!
//! Nobody pours free amounts, so what a limit costs at its margin is not what loosening it brings: the
//! limit is left out, only specs that are better than the best are let in, and what it bounds is made
//! to miss it by as little as possible.

use super::demand::Demand;
use super::loosen::{Better, Change, changed, loosen};
use super::oracle::Effort;
use crate::brief::{Aim, Brief, Nearest};
use crate::model::{Model, Objective};
use crate::solve::{Ending, Solved, Spec, Stop};

/// How many nodes one search may look at, and all together, at thirty candidates.
const EACH: u64 = 2_500;
const ALL: u64 = 9_000;

/// A better spec behind a looser limit.
#[derive(Debug, Clone, PartialEq)]
pub struct NextPourable {
    /// How far the limit has to move.
    pub change: Change,
    /// The best spec then, scored as the brief asks.
    pub spec: Spec,
}

/// What waits behind looser limits.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Next {
    /// Every demand that something better waits behind, in the order of the brief.
    pub found: Vec<NextPourable>,
    /// Demands of which it is not proved: something may wait behind them, or nearer than was found.
    pub open: Vec<Demand>,
}

/// Looks behind every demand.
pub fn next_pourable(brief: &Brief, solved: &Solved, stop: &Stop) -> Next {
    let mut next = Next::default();
    let best = solved.specs.first().filter(|_| solved.ending == Ending::Found);
    let Some(best) = best.filter(|_| brief.aim != Aim::Nearest(Nearest::Middle)) else {
        // Nothing is known to be better than, or the aim itself moves with the limits.
        return Next { open: Demand::all(brief), ..next };
    };
    let Some(better) = Better::than(brief, best.score) else { return next };
    let effort = Effort::wide(stop, brief.candidates.len(), EACH, ALL);
    for demand in Demand::all(brief) {
        if effort.spent() {
            next.open.push(demand);
            continue;
        }
        next.found.extend(behind(brief, demand, &better, &effort));
        next.open.extend(effort.cut_short().then_some(demand));
    }
    next
}

fn behind(brief: &Brief, demand: Demand, better: &Better, effort: &Effort) -> Option<NextPourable> {
    let loosened = loosen(brief, demand, Some(better), effort)?;
    let change = loosened.changes.into_iter().find(|c| c.needed.is_some())?;
    let spec = best_at(brief, &change, &loosened.spec, effort);
    better.has(spec.score).then_some(NextPourable { change, spec })
}

/// The best spec of the brief with a change made; `known` is one of its specs.
fn best_at(brief: &Brief, change: &Change, known: &Spec, effort: &Effort) -> Spec {
    let loose = changed(brief, change);
    let model = Model::new(&loose);
    let objective = Objective::of(&Model::new(brief));
    let score = objective.score(&model, &known.pours, &known.served);
    let known = Spec { score: objective.value(score), ..known.clone() };
    effort.best(&model, &objective, Some(score)).unwrap_or(known)
}
