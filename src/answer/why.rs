//! Why the answer is as it is: who is in play, what waits behind each limit, and what conflicts.

use super::spec::{self, Change as Moved, SpecLine};
use crate::brief::{Brief, Side};
use crate::explain::conflict::{Clash, Conflict, Route, Steps};
use crate::explain::demand::Demand;
use crate::explain::in_play::InPlay;
use crate::explain::loosen::Change;
use crate::explain::steps::NextPourable;
use crate::quantity::Unit;
use crate::solve::Spec;

/// Ingredients by how often they are used in specs near the best.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct InPlayLine {
    /// At most so many % worse than the best.
    pub within: f64,
    /// In every such spec.
    pub always: Vec<String>,
    /// In some.
    pub sometimes: Vec<String>,
    /// In none.
    pub never: Vec<String>,
}

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

/// What a target could be with the rules alone.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct ReachLine {
    /// The target's key.
    pub target: String,
    /// Its least; nothing where it is not known.
    pub min: Option<f64>,
    /// Its greatest; nothing where nothing bounds it, or it is not known.
    pub max: Option<f64>,
    /// It is proved that it does not go under this, nor over the second.
    #[serde(skip)]
    pub beyond: (f64, f64),
}

/// What kind of figure a change is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Knob {
    /// A target.
    Target,
    /// How far a measure may be from the reference.
    Hold,
    /// How much of the glass is left free, %.
    Headroom,
    /// The glass, ml.
    Glass,
    /// How many ingredients.
    Most,
    /// How many of a group.
    Choose,
    /// A ratio of two ingredients.
    Proportion,
    /// An ingredient's least or most.
    Ingredient(Unit),
}

/// A change of one figure of the brief.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Need {
    /// What is changed: a target's key, or a rule's name.
    pub target: String,
    /// `min` or `max`.
    pub side: Side,
    /// The brief's figure.
    pub asked: f64,
    /// What is needed; nothing where only giving the limit up helps.
    pub needed: Option<f64>,
    /// What kind of figure it is.
    #[serde(skip)]
    pub knob: Knob,
    /// The key of the measure that it is a figure of, where it is one.
    #[serde(skip)]
    pub gauge: String,
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

/// Whether smaller pour steps would do.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct StepsLine {
    /// Whether free amounts would meet the brief, all its rules kept.
    pub in_the_way: bool,
    /// A smaller step that would do, ml.
    pub smaller: Option<f64>,
}

/// A way out and its drink.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct RouteLine {
    /// What changes.
    pub changes: Vec<Need>,
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
    pub reach: Vec<ReachLine>,
    /// Changes of which any one is enough.
    pub enough: Vec<Need>,
    /// The smallest total relative change.
    pub relax: Vec<Need>,
    /// The best spec at `relax`.
    pub spec: Option<SpecLine>,
    /// At most three ways out, each with its drink, the smallest change first.
    pub routes: Vec<RouteLine>,
    /// Whether `cores` are proved to be all.
    pub complete: bool,
    /// Whether every change is proved to be the smallest of its kind.
    pub proved: bool,
    /// Whether smaller steps would do.
    pub steps: StepsLine,
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
    pub need: Need,
    /// The best score then.
    pub score: f64,
    /// What that spec pours differently from the best.
    pub change: Vec<Moved>,
}

/// Names for the ingredients in play.
pub fn in_play(brief: &Brief, found: &InPlay) -> InPlayLine {
    let names = |all: &[usize]| all.iter().map(|at| brief.candidates[*at].name.clone()).collect();
    InPlayLine {
        within: found.within,
        always: names(&found.always),
        sometimes: names(&found.sometimes),
        never: names(&found.never),
    }
}

/// What waits behind looser limits, against the best spec.
pub fn next(brief: &Brief, best: &Spec, found: &[NextPourable]) -> Vec<NextLine> {
    let line = |next: &NextPourable| NextLine {
        need: need(brief, &next.change),
        score: next.spec.score,
        change: spec::changes(brief, &best.pours, &next.spec.pours),
    };
    found.iter().map(line).collect()
}

/// A conflict in the words of the brief.
pub fn conflict(brief: &Brief, found: &Conflict) -> ConflictLine {
    let items = |core: &Vec<Demand>| core.iter().map(|d| item(brief, *d)).collect::<Vec<Item>>();
    let cores: Vec<Vec<Item>> = found.cores.iter().map(items).collect();
    let name = |measure| brief.measure_name(measure).to_owned();
    let relaxed = found.relaxed.as_ref();
    ConflictLine {
        core: cores.first().cloned().unwrap_or_default(),
        cores,
        reach: found
            .reach
            .iter()
            .map(|r| ReachLine {
                target: name(r.measure),
                min: r.min.found,
                max: r.max.found,
                beyond: (r.min.beyond, r.max.beyond),
            })
            .collect(),
        enough: found.enough.iter().map(|c| need(brief, c)).collect(),
        relax: relaxed.map_or_else(Vec::new, |r| r.changes.iter().map(|c| need(brief, c)).collect()),
        spec: relaxed.map(|r| spec::line(brief, &r.spec, None)),
        routes: found.routes.iter().map(|route| route_line(brief, route)).collect(),
        complete: found.complete,
        proved: found.enough.iter().all(|c| c.proved) && relaxed.is_none_or(|r| r.proved),
        steps: match found.steps {
            Steps::NotInTheWay => StepsLine { in_the_way: false, smaller: None },
            Steps::Smaller(step) => StepsLine { in_the_way: true, smaller: Some(step) },
            Steps::InTheWay => StepsLine { in_the_way: true, smaller: None },
        },
        total: relaxed.map_or(f64::NAN, |r| r.total),
        clash: found.clash.zip(found.cores.first()).map(|(clash, core)| clash_line(brief, clash, core)),
    }
}

fn route_line(brief: &Brief, route: &Route) -> RouteLine {
    let Route { relaxed, keeps } = route;
    RouteLine {
        changes: relaxed.changes.iter().map(|c| need(brief, c)).collect(),
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

/// A change in the words of the brief.
pub fn need(brief: &Brief, change: &Change) -> Need {
    let (knob, measure) = match change.demand {
        Demand::Target(at, _) => (Knob::Target, Some(brief.targets[at].measure)),
        Demand::Hold(at) => (Knob::Hold, Some(brief.hold[at].measure)),
        Demand::Glass if change.target == "headroom" => (Knob::Headroom, None),
        Demand::Glass => (Knob::Glass, None),
        Demand::Most => (Knob::Most, None),
        Demand::Choose(..) => (Knob::Choose, None),
        Demand::Proportion(..) => (Knob::Proportion, None),
        Demand::Must(at) | Demand::Largest(at) => (Knob::Ingredient(brief.candidates[at].unit()), None),
    };
    Need {
        target: change.target.clone(),
        side: change.side,
        asked: change.asked,
        needed: change.needed,
        knob,
        gauge: measure.map_or_else(String::new, |m| brief.measure_name(m).to_owned()),
    }
}
