//! What each target could be: with the rules alone, and beside the rest of a core.

use crate::brief::{Brief, Goal, Measure, Side};
use crate::explain::demand::{Demand, without};
use crate::explain::oracle::Effort;
use crate::model::{Model, Objective, Sense, Source};
use crate::solve::Quest;

/// What a measure could be if no target stood in its way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reach {
    /// Which measure.
    pub measure: Measure,
    /// Its least; `None` where that is not known.
    pub min: Option<f64>,
    /// Its greatest; `None` where nothing bounds it, or that is not known.
    pub max: Option<f64>,
}

/// What a target of a core could be beside the rest of that core.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Clash {
    /// Which target.
    pub demand: Demand,
    /// How near to its limit it comes.
    pub nearest: f64,
}

/// The reach of every measure that the brief bounds, over pourable specs that keep every rule. Where
/// an ingredient has no `max`, the volume target still bounds it, as everywhere.
pub fn reach(brief: &Brief, effort: &Effort) -> Vec<Reach> {
    let mut model = Model::new(brief);
    model.limits.retain(|limit| limit.source == Source::Glass);
    model.spread = None;
    let mut measures: Vec<Measure> = vec![];
    for measure in brief.targets.iter().map(|t| t.measure).chain(brief.hold.iter().map(|h| h.measure)) {
        if !measures.contains(&measure) {
            measures.push(measure);
        }
    }
    let of = |measure| {
        let unbounded = measure == Measure::SugarAcid && without_acid(&model, effort);
        let max = if unbounded { None } else { end(&model, measure, Side::Max, effort) };
        Reach { measure, min: end(&model, measure, Side::Min, effort), max }
    };
    measures.into_iter().map(of).collect()
}

/// The least or greatest value of a measure; `None` where no spec is found or it is not proved.
fn end(model: &Model, measure: Measure, side: Side, effort: &Effort) -> Option<f64> {
    let sense = if side == Side::Min { Sense::Low } else { Sense::High };
    let objective = Objective::goal(model, Goal::Measure(measure), sense);
    let found = effort.seek(model, &objective, Quest::Least, None);
    let entry = found.entries.first().filter(|_| found.complete)?;
    Some(objective.value(entry.score))
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
    let found = effort.seek(&sweet, &objective, Quest::Any, None);
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
    let nearest = end(&model, brief.targets[at].measure, towards, effort)?;
    Some(Clash { demand, nearest })
}
