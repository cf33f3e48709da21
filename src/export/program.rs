//! The program behind a brief, for any solver: mixed-integer around the best spec, or linear around the
//! optimum with free pours.

use crate::brief::{Brief, poured};
use crate::free;
use crate::model::{Column, LinearProgram, Model, Needed, Objective, Pours};
use crate::search::Entry;
use crate::solve::outer::{Best, OuterApproximation, free_outer, outer};
use crate::solve::{Ending, SearchLimits, Spec, Stop, Wanted, measured, within};

/// In the search for further points, no more nodes than this.
const NODES: u64 = 400_000;

/// A program, and what it was laid around.
#[derive(Debug, Clone)]
pub struct Exported<'b> {
    /// The brief as numbers, units and all, as the variables count them.
    pub model: Model<'b>,
    /// What is made least.
    pub objective: Objective,
    /// Which amounts may be poured.
    pub pours: Pours,
    /// The program.
    pub plain: LinearProgram,
    /// The points at which it is exact.
    pub outer: OuterApproximation,
    /// The spec at the first of them; `None` where none meets the brief.
    pub best: Option<Spec>,
    /// How the search for it ended.
    pub ending: Ending,
}

/// The program of a brief.
pub fn program<'b>(brief: &'b Brief, pours: Pours, stop: &Stop) -> Exported<'b> {
    match pours {
        Pours::Steps => stepped(brief, stop),
        Pours::Free => freed(brief, stop),
    }
}

fn stepped<'b>(brief: &'b Brief, stop: &Stop) -> Exported<'b> {
    let model = Model::new(brief);
    let objective = Objective::of(&model);
    let found = within::search(&model, &objective, Wanted::best(1), stop);
    let entry = found.entries.first();
    let units = units(&model, entry);
    let best = entry.map(|e| Best { units: &units, score: e.score });
    // Around a spec that may not be the best there is nothing to prove.
    let limits = SearchLimits { stop, nodes: if found.complete { NODES } else { 0 } };
    let outer = outer(&model, &objective, best, limits);
    let best = entry.map(|e| measured(&model, &objective, e));
    let ending = match (found.complete, &best) {
        (false, _) => Ending::Stopped,
        (true, None) => Ending::Conflict,
        (true, Some(_)) => Ending::Found,
    };
    exported(model, objective, Pours::Steps, outer, (best, ending))
}

/// The program of a brief, as it is poured in steps, laid around one of its specs.
pub fn around<'b>(brief: &'b Brief, spec: &Spec, stop: &Stop) -> Exported<'b> {
    let model = Model::new(brief);
    let objective = Objective::of(&model);
    let amount = |column: &Column| poured(&spec.pours, column.candidate) / column.unit;
    let units: Vec<f64> = model.columns.iter().map(amount).collect();
    let score = objective.score(&model, &spec.pours, &spec.served);
    let outer =
        outer(&model, &objective, Some(Best { units: &units, score }), SearchLimits { stop, nodes: 0 });
    exported(model, objective, Pours::Steps, outer, (Some(spec.clone()), Ending::Found))
}

/// Units of every column of an entry; nothing is used where there is none.
fn units(model: &Model, entry: Option<&Entry>) -> Vec<f64> {
    let mut units = vec![0.0; model.columns.len()];
    entry.into_iter().flat_map(|e| e.set.iter().zip(&e.units)).for_each(|(c, u)| units[*c] = *u);
    units
}

fn freed<'b>(brief: &'b Brief, stop: &Stop) -> Exported<'b> {
    let stepped = Model::new(brief);
    // Free pours are no worse than any pourable spec: the best one is a place to start from.
    let found = within::search(&stepped, &Objective::of(&stepped), Wanted::best(1), stop);
    let known = found.entries.first().map(|entry| {
        let units = units(&stepped, Some(entry));
        units.iter().zip(&stepped.columns).map(|(u, c)| u * c.unit).collect::<Vec<f64>>()
    });
    let mut model = Model::new(brief).freed();
    for column in &mut model.columns {
        let unit = std::mem::replace(&mut column.unit, 1.0);
        column.least *= unit;
        column.most *= unit;
        column.unstepped *= unit;
    }
    let objective = Objective::of(&model);
    let found = free::optimum(&model, &objective, known.as_deref());
    let around = found.as_ref().map(|found| Best { units: &found.units, score: found.score });
    let outer = free_outer(&model, &objective, around);
    let best = found.map(|found| {
        let (pours, served) = free::measure(&model, &found.units);
        Spec { pours, served, score: objective.value(found.score) }
    });
    let ending = if best.is_some() { Ending::Found } else { Ending::Conflict };
    exported(model, objective, Pours::Free, outer, (best, ending))
}

fn exported(
    model: Model<'_>,
    objective: Objective,
    pours: Pours,
    outer: OuterApproximation,
    (best, ending): (Option<Spec>, Ending),
) -> Exported<'_> {
    let needed: Vec<Needed> = outer
        .further
        .iter()
        .map(|f| Needed { expansion: &f.expansion, limits: &f.limits, scores: f.scores })
        .collect();
    let plain = LinearProgram::of(&model, &objective, pours, &outer.first, &needed);
    Exported { model, objective, pours, plain, outer, best, ending }
}
