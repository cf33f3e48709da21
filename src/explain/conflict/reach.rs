//! What each target could be: with the rules alone, and beside the rest of a core.

use crate::brief::{Brief, Goal, Measure, Side};
use crate::explain::demand::{Demand, without};
use crate::explain::oracle::Effort;
use crate::model::{Model, Objective, Sense};
use crate::solve::SearchMode;
use crate::tolerance;

/// How many nodes one search may look at.
const EACH: u64 = 6_000;

/// What a measure could be if no target stood in its way.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Reach {
    /// Its key.
    pub target: String,
    /// Which measure.
    #[serde(skip)]
    pub measure: Measure,
    /// Its least, as far as one was found.
    pub min: End,
    /// Its greatest.
    pub max: End,
}

/// One end of what can be reached; in JSON what was found.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
#[serde(into = "Option<f64>")]
pub struct End {
    /// The furthest value that a spec was found to have; `None`: no spec, or no end.
    pub found: Option<f64>,
    /// It is proved that no spec goes beyond this; the found value itself, where that is proved.
    pub beyond: f64,
}

impl From<End> for Option<f64> {
    fn from(end: End) -> Self {
        end.found
    }
}

/// What a target of a core could be beside the rest of that core.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Clash {
    /// Which target.
    pub demand: Demand,
    /// It is proved that it comes no nearer to its limit than this.
    pub nearest: f64,
}

/// The reach of every measure that the brief bounds, over pourable specs that keep every rule. Where
/// an ingredient has no `max`, the volume target still bounds it, as everywhere.
pub fn reach(brief: &Brief, effort: &Effort) -> Vec<Reach> {
    let targets: Vec<Demand> = Demand::all(brief).into_iter().filter(|d| d.is_target()).collect();
    let bare = without(brief, &targets);
    let mut model = Model::new(&bare);
    model.spread = None;
    for (column, bounded) in model.columns.iter_mut().zip(Model::new(brief).columns) {
        if brief.candidates[column.candidate].most.is_none() {
            column.most = bounded.most;
        }
    }
    let mut measures: Vec<Measure> = vec![];
    for measure in brief.targets.iter().map(|t| t.measure).chain(brief.hold.iter().map(|h| h.measure)) {
        if !measures.contains(&measure) {
            measures.push(measure);
        }
    }
    let of = |measure| {
        let unbounded = measure == Measure::SugarAcid && without_acid(&model, effort);
        let endless = End { found: None, beyond: f64::INFINITY };
        let max = if unbounded { endless } else { end(&model, measure, Side::Max, effort) };
        let min = end(&model, measure, Side::Min, effort);
        Reach { target: brief.measure_name(measure).to_owned(), measure, min, max }
    };
    measures.into_iter().map(of).collect()
}

/// The least or greatest value of a measure.
fn end(model: &Model, measure: Measure, side: Side, effort: &Effort) -> End {
    let sense = if side == Side::Min { Sense::Low } else { Sense::High };
    let objective = Objective::goal(model, Goal::Measure(measure), sense);
    let found = effort.seek_within(EACH, model, &objective, SearchMode::Least, None);
    let best = found.entries.first().map(|entry| entry.score);
    let beyond = objective.value(best.map_or(found.bound, |best| best.min(found.bound)));
    End { found: best.map(|score| objective.value(score)), beyond }
}

/// Whether sugar can be poured without any acid, so that sugar per acid has no greatest value.
fn without_acid(model: &Model, effort: &Effort) -> bool {
    let mut sweet = model.clone();
    let acid = model.per_unit(|c| c.portion.masses.acid);
    for (column, acid) in sweet.columns.iter_mut().zip(acid) {
        if acid > 0.0 {
            column.most = 0.0;
        }
    }
    let objective = Objective::goal(&sweet, Goal::Measure(Measure::Sugar), Sense::High);
    let found = effort.seek(&sweet, &objective, SearchMode::Any, None);
    found.entries.first().is_some_and(|e| objective.value(e.score) > 0.0)
}

/// How near a target of a core comes to its limit if the rest of the core is kept.
pub fn clash(brief: &Brief, core: &[Demand], effort: &Effort) -> Option<Clash> {
    let target = |volume: bool| {
        let own = |d: &&Demand| matches!(d, Demand::Target(at, _) if (brief.targets[*at].measure == Measure::Volume) == volume);
        core.iter().rev().find(own).copied()
    };
    let demand = target(false).or_else(|| target(true))?;
    let Demand::Target(at, side) = demand else { return None };
    let rest: Vec<Demand> =
        Demand::all(brief).into_iter().filter(|d| *d == demand || !core.contains(d)).collect();
    let open = without(brief, &rest);
    let mut model = Model::new(&open);
    model.spread = None;
    let towards = if side == Side::Min { Side::Max } else { Side::Min };
    let nearest = end(&model, brief.targets[at].measure, towards, effort).beyond;
    let limit = brief.targets[at].limit(side)?;
    // Where too little is proved there is nothing to say.
    let told = match side {
        Side::Min => !tolerance::meets_min(nearest, limit),
        Side::Max => !tolerance::meets_max(nearest, limit),
    };
    told.then_some(Clash { demand, nearest })
}
