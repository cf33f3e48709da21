//! Why the answer is as it is: who is in play, what waits behind each limit, and what conflicts.

use super::spec::{self, SpecLine};
use crate::brief::{Brief, Side};
use crate::explain::conflict::{Clash, Conflict, Reach, Route, Steps};
use crate::explain::demand::Demand;
use crate::explain::loosen::Change;
use crate::explain::steps::NextPourable;
use crate::solve::Spec;

/// A demand of the brief.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
#[serde(untagged)]
pub enum Item {
    /// A side of a target.
    Target {
        /// The target's key.
        target: String,
        /// `min` or `max`.
        side: Side,
        /// The limit.
        limit: f64,
    },
    /// Any other rule.
    Rule {
        /// In words.
        rule: String,
    },
}

/// How near a target of the first core comes to its limit beside the rest of that core.
#[derive(Debug, Clone, PartialEq)]
pub struct ClashLine {
    /// The target.
    pub item: Item,
    /// How near it comes.
    pub nearest: f64,
    /// The rest of the core.
    pub beside: Vec<Item>,
}

/// A way out and its drink.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct RouteLine {
    /// What changes.
    pub changes: Vec<Change>,
    /// The sum of the relative changes, 1 for all of a figure.
    pub total: f64,
    /// Whether what has to be used, the aim's ingredient and the reference's base stay in the glass.
    pub keeps: bool,
    /// Whether it is proved that no smaller change of its kind would do.
    pub proved: bool,
    /// The best spec then.
    pub spec: SpecLine,
}

/// Why no spec meets the brief.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct ConflictLine {
    /// The first of `cores`.
    pub core: Vec<Item>,
    /// Irreducible sets that cannot be kept together.
    pub cores: Vec<Vec<Item>>,
    /// What each target could be with the rules alone.
    pub reach: Vec<Reach>,
    /// Changes of which any one is enough.
    pub enough: Vec<Change>,
    /// The smallest total relative change.
    pub relax: Vec<Change>,
    /// The best spec at `relax`.
    pub spec: Option<SpecLine>,
    /// At most three ways out, each with its drink, the smallest change first.
    pub routes: Vec<RouteLine>,
    /// Whether `cores` are proved to be all.
    pub complete: bool,
    /// Whether every change is proved to be the smallest of its kind.
    pub proved: bool,
    /// Whether smaller steps would do.
    pub steps: Steps,
    /// The sum of the relative changes of `relax`, 1 for all of a figure.
    #[serde(skip)]
    pub total: f64,
    /// The figure of the first core, for the sentence that says why.
    #[serde(skip)]
    pub clash: Option<ClashLine>,
}

/// A looser limit and the better spec behind it.
#[derive(Debug, Clone, PartialEq)]
pub struct NextLine {
    /// How far the limit has to move.
    pub need: Change,
    /// The best score then.
    pub score: f64,
    /// What that spec pours differently from the best.
    pub change: Vec<spec::Change>,
}

/// What waits behind looser limits, against the best spec.
pub fn next(brief: &Brief, best: &Spec, found: &[NextPourable]) -> Vec<NextLine> {
    let line = |next: &NextPourable| NextLine {
        need: next.change.clone(),
        score: next.spec.score,
        change: spec::changes(brief, &best.pours, &next.spec.pours),
    };
    found.iter().map(line).collect()
}

/// A conflict in the words of the brief.
pub fn conflict(brief: &Brief, found: &Conflict) -> ConflictLine {
    let items = |core: &Vec<Demand>| core.iter().map(|d| item(brief, *d)).collect::<Vec<Item>>();
    let cores: Vec<Vec<Item>> = found.cores.iter().map(items).collect();
    let relaxed = found.relaxed.as_ref();
    ConflictLine {
        core: cores.first().cloned().unwrap_or_default(),
        cores,
        reach: found.reach.clone(),
        enough: found.enough.clone(),
        relax: relaxed.map_or_else(Vec::new, |r| r.changes.clone()),
        spec: relaxed.map(|r| spec::line(brief, &r.spec, None)),
        routes: found.routes.iter().map(|route| route_line(brief, route)).collect(),
        complete: found.complete,
        proved: found.enough.iter().all(|c| c.proved) && relaxed.is_none_or(|r| r.proved),
        steps: found.steps,
        total: relaxed.map_or(f64::NAN, |r| r.total),
        clash: found.clash.zip(found.cores.first()).map(|(clash, core)| clash_line(brief, clash, core)),
    }
}

fn route_line(brief: &Brief, route: &Route) -> RouteLine {
    let Route { relaxed, keeps } = route;
    RouteLine {
        changes: relaxed.changes.clone(),
        total: relaxed.total,
        keeps: *keeps,
        proved: relaxed.proved,
        spec: spec::line(brief, &relaxed.spec, None),
    }
}

fn clash_line(brief: &Brief, clash: Clash, core: &[Demand]) -> ClashLine {
    let rest = core.iter().filter(|d| **d != clash.demand);
    ClashLine {
        item: item(brief, clash.demand),
        nearest: clash.nearest,
        beside: rest.map(|d| item(brief, *d)).collect(),
    }
}

fn item(brief: &Brief, demand: Demand) -> Item {
    let target = |(side, limit): (Side, f64)| Item::Target { target: demand.name(brief), side, limit };
    match demand.rule(brief) {
        Some(rule) => Item::Rule { rule },
        None => demand.asked(brief).map_or_else(|| Item::Rule { rule: demand.name(brief) }, target),
    }
}
