//! From a brief to rows and columns; every row knows the limit that it came from.
//!
//! Units end here: [`Model::new`] turns amounts into whole numbers of pour steps and limits into
//! bare numbers. What a number means stays with it as a [`RowOrigin`].
//!
//! Two ways lead from the physics, which is not linear, to rows, which are:
//! - [`Envelope`]: straight lines above and below the volume and the melt over a range of
//!   compositions. Rows built on them are *valid relaxations*: they never cut off a spec that the
//!   physics would pass. The pourable search uses these.
//! - [`Tangent`]: the first-order expansion at one point, exact there. Free pours use these.

mod contraction;
mod ends;
mod envelope;
mod expansion;
mod gauge;
mod linear_program;
mod lines;
mod notes;
mod objective;
pub mod presolve;
mod program;
mod row;
mod something;
mod tangent;
#[cfg(test)]
mod tests;
mod worst;

pub use envelope::{Envelope, Heat, Ranges};
pub use expansion::{Expansion, Line, dot};
pub use gauge::Gauge;
pub use linear_program::{
    Kind, LinearProgram, Needed, PlainOf, Pours, ProgramRow, RowSense, Variable, VariableOf,
};
pub use lines::{Lines, Segment};
pub use objective::{Objective, Sense, Soft, Together};
pub use program::{Basis, Program, View};
pub use row::{Row, RowOrigin};
pub use something::Something;
pub use tangent::Tangent;
pub use worst::Spread;

use std::sync::Arc;

use crate::brief::{
    Brief, Candidate, HoldFor, Jigger, Limit, Measure, Pour, Served, Side, Source, Step, poured,
};
use crate::liquid::Portion;
use crate::simulate::{Room, Run, Serves};
use crate::tolerance;

/// One ingredient as the search counts it.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Its index among the brief's candidates.
    pub candidate: usize,
    /// ml (or g) of one search unit: the pour step, or 1 where any amount may be poured.
    pub unit: f64,
    /// Whether only whole units may be poured.
    pub whole: bool,
    /// Which numbers of units can be poured, where that is not every one.
    pub jigger: Option<Arc<Jigger>>,
    /// Least when used at all, in units.
    pub least: f64,
    /// Most, in units.
    pub most: f64,
    /// Most where steps do not count, in units.
    pub unstepped: f64,
    /// It has to be used.
    pub must: bool,
}

/// A group of which so many are used.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// Its members among the columns.
    pub members: Vec<usize>,
    /// At least so many.
    pub min: usize,
    /// At most so many.
    pub max: usize,
}

/// A brief as numbers.
#[derive(Debug, Clone)]
pub struct Model<'b> {
    /// The question.
    pub brief: &'b Brief,
    /// The usable ingredients.
    pub columns: Vec<Column>,
    /// What one ml or g of each brings, at its typical composition.
    pub typical: Vec<Portion>,
    /// The corners of the compositions, where limits have to hold for all of them.
    pub spread: Option<Spread>,
    /// Simulated serves, where a share of them has to meet the targets. Pourable specs are held to it;
    /// free amounts are not.
    pub serves: Option<Arc<Serves<'b>>>,
    /// How much room the first limits have to leave, where a share of serves has to meet them.
    pub room: Option<Arc<Room>>,
    /// Every limit on a measure, from targets, holds and the glass.
    pub limits: Vec<Limit>,
    /// Groups, the whole of the columns among them where the brief says how many at most.
    pub groups: Vec<Group>,
    /// Further scores that may not be over a value: "better than the best by the brief's own aim".
    pub objective_bounds: Vec<(Objective, f64)>,
}

/// How much more than the served volume may be poured of one ingredient: mixing contracts by at most
/// 4 % (ethanol and water, OIML R 22 near 50 % mass) and sugar in water by about 1 %.
const CONTRACTION_ALLOWANCE: f64 = 1.15;
/// More grams of a powder than this never fit into a ml: acid takes up 0.597 ml/g, sugar more.
const GRAMS_PER_ML: f64 = 1.7;
/// The largest serve that is ever searched where nothing bounds it, ml. Common practice, no source.
const LARGEST_SERVE: f64 = 2000.0;

impl<'b> Model<'b> {
    /// Takes a brief apart.
    pub fn new(brief: &'b Brief) -> Self {
        let limits = brief.each_limit();
        let cap = limits
            .iter()
            .filter(|l| l.measure == Measure::Volume && l.side == Side::Max)
            .map(|l| l.value)
            .fold(LARGEST_SERVE, f64::min);
        let columns: Vec<Column> = brief
            .usable()
            .map(|at| Column::new(at, &brief.candidates[at], cap * CONTRACTION_ALLOWANCE))
            .collect();
        let groups = groups(brief, &columns);
        let typical = columns.iter().map(|c| brief.candidates[c.candidate].portion).collect();
        let mut model = Self {
            brief,
            columns,
            typical,
            spread: None,
            serves: None,
            room: None,
            limits,
            groups,
            objective_bounds: vec![],
        };
        model.spread = Spread::of(&model);
        if matches!(brief.variation.hold, HoldFor::Share(_)) {
            model.serves = Some(Arc::new(Serves::new(brief, Run::First)));
        }
        model
    }

    /// The same with free pours: no steps, no smallest pours, no counts; what must be used still is.
    pub fn freed(&self) -> Self {
        let mut freed = self.clone();
        freed.groups.clear();
        for column in &mut freed.columns {
            (column.whole, column.jigger, column.most) = (false, None, column.unstepped);
        }
        freed
    }

    /// The candidate behind a column.
    pub fn candidate(&self, column: usize) -> &'b Candidate {
        &self.brief.candidates[self.columns[column].candidate]
    }

    /// A figure per search unit of every column.
    pub fn per_unit(&self, figure: impl Fn(&Candidate) -> f64) -> Vec<f64> {
        self.columns.iter().map(|c| figure(&self.brief.candidates[c.candidate]) * c.unit).collect()
    }

    /// The pour of `units` of a column, the amount a clean decimal: 3 steps of 0.1 g are 0.3 g.
    pub fn pour(&self, column: usize, units: f64) -> Pour {
        let at = &self.columns[column];
        let amount = units * at.unit;
        let amount = if at.whole { (amount * 1e9).round() / 1e9 } else { amount };
        Pour { candidate: at.candidate, amount }
    }

    /// Whether pours keep every proportion of the brief.
    pub fn keeps_proportions(&self, pours: &[Pour]) -> bool {
        let amount = |at: usize| poured(pours, at);
        self.brief.proportions.iter().all(|rule| {
            let (of, to) = (amount(rule.of), amount(rule.to));
            rule.min.is_none_or(|min| tolerance::meets_min(of, min * to))
                && rule.max.is_none_or(|max| tolerance::meets_max(of, max * to))
        })
    }

    /// Whether `units` of the columns of `set` can be poured and keep every count.
    pub fn keeps_counts(&self, set: &[usize], units: &[f64]) -> bool {
        let fits = |(c, u): (&usize, &f64)| {
            let column = &self.columns[*c];
            *u >= column.least - tolerance::WHOLE
                && *u <= column.most + tolerance::WHOLE
                && column.measures(*u)
        };
        let all_musts = (0..self.columns.len()).all(|c| !self.columns[c].must || set.contains(&c));
        let counts = self.groups.iter().all(|group| {
            let used = group.members.iter().filter(|c| set.contains(c)).count();
            (group.min..=group.max).contains(&used)
        });
        all_musts && counts && set.iter().zip(units).all(fits)
    }

    /// Whether a measured spec meets every limit, for every composition where that is asked.
    pub fn meets_limits(&self, pours: &[Pour], served: &Served) -> bool {
        self.limits.iter().all(|limit| limit.met(served))
            && self.spread.as_ref().is_none_or(|spread| {
                self.limits.iter().all(|limit| limit.met_by(spread.worst(self, pours, limit).0))
            })
    }

    /// The value that a limit is judged by: the worst over all compositions where that is asked.
    pub fn judged_value(&self, pours: &[Pour], served: &Served, limit: &Limit) -> f64 {
        match &self.spread {
            Some(spread) => spread.worst(self, pours, limit).0,
            None => served.value(limit.measure),
        }
    }

    /// Whether enough simulated serves of a spec meet the targets, where a share of them has to.
    pub fn holds_in_service(&self, pours: &[Pour], served: &Served) -> bool {
        let (Some(serves), HoldFor::Share(share)) = (&self.serves, self.brief.variation.hold) else {
            return true;
        };
        let targets = self.targets();
        let left = || targets.iter().map(|limit| limit.left(self.brief, served)).collect::<Vec<f64>>();
        self.room.as_ref().is_none_or(|room| room.may_do(&left())) && serves.hold(pours, &targets, share)
    }

    /// The limits that serves are held to: targets, and what is held of the reference. The glass is no
    /// target: there the barkeeper stops in time.
    pub fn targets(&self) -> Vec<Limit> {
        self.limits.iter().copied().filter(|limit| limit.source != Source::Glass).collect()
    }

    /// Whether a measured spec keeps every cap.
    pub fn keeps_objective_bounds(&self, pours: &[Pour], served: &Served) -> bool {
        self.objective_bounds
            .iter()
            .all(|(o, most)| tolerance::meets_max(o.score(self, pours, served), *most))
    }
}

impl Column {
    fn new(at: usize, candidate: &Candidate, cap: f64) -> Self {
        let (unit, whole) = (candidate.step.unit().unwrap_or(1.0), candidate.step != Step::Free);
        let jigger = match &candidate.step {
            Step::Jigger(jigger) => Some(Arc::clone(jigger)),
            Step::Every(_) | Step::Free => None,
        };
        // A gram that dissolves takes up 0.6 ml and more: more grams than ml fit into a glass.
        let cap = if candidate.portion.poured > 0.0 { cap } else { cap * GRAMS_PER_ML };
        let most = candidate.most.unwrap_or(cap).min(cap) / unit;
        let least = candidate.least / unit;
        let unstepped = most;
        let (least, most) = if whole {
            // The reader has rounded both inwards; what is left is the float's own error.
            ((least - tolerance::WHOLE).ceil().max(1.0), (most + tolerance::WHOLE).floor())
        } else {
            (least, most)
        };
        let mut column =
            Self { candidate: at, unit, whole, jigger, least, most, unstepped, must: candidate.must };
        (column.least, column.most) = (column.above(least), column.below(most));
        column
    }

    /// The greatest amount that can be poured and is at most this, in units; 0 where there is none.
    pub fn below(&self, units: f64) -> f64 {
        match &self.jigger {
            Some(jigger) => jigger.down(units),
            None if self.whole => units.floor(),
            None => units,
        }
    }

    /// The least amount that can be poured and is at least this, in units.
    pub fn above(&self, units: f64) -> f64 {
        match &self.jigger {
            Some(jigger) => jigger.up(units),
            None if self.whole => units.ceil(),
            None => units,
        }
    }

    /// Whether an amount can be poured, in units.
    pub fn measures(&self, units: f64) -> bool {
        let whole = (units - units.round()).abs() <= tolerance::WHOLE;
        !self.whole || (whole && self.jigger.as_ref().is_none_or(|jigger| jigger.measures(units.round())))
    }
}

/// The groups of the brief over the columns; members that are out do not count.
fn groups(brief: &Brief, columns: &[Column]) -> Vec<Group> {
    let column_of = |candidate: &usize| columns.iter().position(|c| c.candidate == *candidate);
    let mut groups: Vec<Group> = brief
        .choose
        .iter()
        .map(|rule| {
            let members: Vec<usize> = rule.members.iter().filter_map(column_of).collect();
            let max = rule.max.unwrap_or(members.len());
            Group { members, min: rule.min.unwrap_or(0), max }
        })
        .collect();
    if let Some(most) = brief.serve.most {
        groups.push(Group { members: (0..columns.len()).collect(), min: 0, max: most });
    }
    groups
}
