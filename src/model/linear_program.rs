//! The whole program in the plain form that any solver reads: bounded variables, some of them whole,
//! rows with one side or two, one objective. Every variable and row knows what it is.

use super::expansion::{Expansion, Line};
use super::{Group, Model, Objective, RowOrigin, Something};
use crate::brief::Side;

/// Which amounts may be poured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pours {
    /// Whole steps, smallest pours, counts.
    Steps,
    /// Any amount of anything.
    Free,
}

/// What a variable is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum VariableOf {
    /// The amount of a column, in its units.
    Pour(usize),
    /// How often a size of a column's jiggers is poured (the least is 0).
    Filled(usize, usize),
    /// Whether a column is used.
    Used(usize),
    /// What is poured of a column beyond the reference, ml or g.
    More(usize),
    /// What is poured of a column short of the reference, ml or g.
    Less(usize),
    /// Whether a note of the objective is covered.
    Covered(usize),
    /// The score.
    Score,
}

/// Which numbers a variable takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Any.
    Any,
    /// Whole ones.
    Whole,
    /// 0 or 1.
    Binary,
}

/// A variable.
#[derive(Debug, Clone, PartialEq)]
pub struct Variable {
    /// What it is.
    pub of: VariableOf,
    /// Which numbers it takes.
    pub kind: Kind,
    /// Least; may be minus infinity.
    pub low: f64,
    /// Most; may be infinity.
    pub high: f64,
}

/// What a row says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PlainOf {
    /// A limit of the model, expanded at a point (0 is the first).
    Limit(usize, usize),
    /// Something is poured at all, or something acid or sweet.
    Something(Something),
    /// One side of a proportion.
    Proportion(usize, Side),
    /// One side of a group's count.
    Count(usize, Side),
    /// The amount is what its jiggers measure together.
    Filled(usize),
    /// What is used gets at least its least.
    Least(usize),
    /// What is not used gets nothing, and what is used at most its most.
    Most(usize),
    /// Amount and reference differ by more or by less.
    Change(usize),
    /// A note is covered only where something that carries it is used.
    Covered(usize),
    /// The score is no better than a line, expanded at a point.
    Score(usize),
}

/// Variables and figures.
pub type Terms = Vec<(usize, f64)>;

/// A row: `Σ figure · variable` on one side of a number, or equal to it.
#[derive(Debug, Clone, PartialEq)]
pub struct ProgramRow {
    /// What it says.
    pub of: PlainOf,
    /// Variables and figures, none of them zero.
    pub terms: Terms,
    /// The side.
    pub sense: RowSense,
    /// The number.
    pub at: f64,
}

/// On which side of its number a row's sum is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RowSense {
    /// At least.
    AtLeast,
    /// At most.
    AtMost,
    /// Just.
    Equal,
}

impl From<Side> for RowSense {
    fn from(side: Side) -> Self {
        match side {
            Side::Min => Self::AtLeast,
            Side::Max => Self::AtMost,
        }
    }
}

/// A program: the sum of `objective` is to be least.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LinearProgram {
    /// The variables.
    pub variables: Vec<Variable>,
    /// The rows.
    pub rows: Vec<ProgramRow>,
    /// Variables and figures of the objective.
    pub objective: Terms,
}

/// A further point, and which of its rows are needed.
#[derive(Debug, Clone, Copy)]
pub struct Needed<'a> {
    /// The expansion there.
    pub expansion: &'a Expansion,
    /// Its limits that are needed.
    pub limits: &'a [usize],
    /// Whether its lines of the score are.
    pub scores: bool,
}

impl LinearProgram {
    /// The program of a model around expansions.
    pub fn of(
        model: &Model,
        objective: &Objective,
        pours: Pours,
        first: &Expansion,
        further: &[Needed],
    ) -> Self {
        let mut build = Build { model, pours, plain: Self::default(), used: vec![None; model.columns.len()] };
        (0..model.columns.len()).for_each(|c| build.pour(c));
        if pours == Pours::Steps {
            (0..model.columns.len()).for_each(|c| build.filled(c));
            (0..model.columns.len()).for_each(|c| build.used(c));
        }
        build.objective(objective, first, further);
        (0..first.limits.len()).for_each(|at| build.limit(first, at, 0));
        for (point, needed) in further.iter().enumerate() {
            needed.limits.iter().for_each(|at| build.limit(needed.expansion, *at, point + 1));
        }
        for (something, figures) in model.something(objective) {
            build.row(PlainOf::Something(something), columns(&figures), RowSense::AtLeast, 1.0);
        }
        build.proportions();
        if pours == Pours::Steps {
            model.groups.iter().enumerate().for_each(|(at, group)| build.count(at, group));
        }
        build.plain
    }

    /// The value of the objective at a point of the variables.
    pub fn value(&self, at: &[f64]) -> f64 {
        self.objective.iter().map(|(v, f)| f * at[*v]).sum()
    }
}

/// A line that the score is at least, expanded at a point.
struct Sum {
    point: usize,
    terms: Terms,
    constant: f64,
}

/// Figures a column as terms: the amounts are the first variables.
fn columns(figures: &[f64]) -> Terms {
    figures.iter().copied().enumerate().collect()
}

struct Build<'a> {
    model: &'a Model<'a>,
    pours: Pours,
    plain: LinearProgram,
    /// The variable that says whether a column is used, where there is a question.
    used: Vec<Option<usize>>,
}

impl Build<'_> {
    fn variable(&mut self, of: VariableOf, kind: Kind, low: f64, high: f64) -> usize {
        self.plain.variables.push(Variable { of, kind, low, high });
        self.plain.variables.len() - 1
    }

    fn row(&mut self, of: PlainOf, terms: Terms, sense: RowSense, at: f64) {
        let terms = terms.into_iter().filter(|(_, f)| *f != 0.0).collect();
        // Not `-0`: nobody writes that.
        self.plain.rows.push(ProgramRow { of, terms, sense, at: at + 0.0 });
    }

    fn pour(&mut self, at: usize) {
        let column = &self.model.columns[at];
        let most = column.most.max(0.0);
        let least = if column.must { column.least } else { 0.0 };
        let most = if self.possible(at) { most } else { 0.0 };
        let kind = if column.whole && self.pours == Pours::Steps { Kind::Whole } else { Kind::Any };
        let low = least.min(most);
        self.variable(VariableOf::Pour(at), kind, low, most);
        if least > most {
            // Bounds that cross are no bounds to some readers: a row says that it cannot be.
            self.row(PlainOf::Least(at), vec![(at, 1.0)], RowSense::AtLeast, least);
        }
    }

    /// What jiggers measure: how often each is filled, and the amount as the sum.
    fn filled(&mut self, at: usize) {
        let column = &self.model.columns[at];
        let Some(jigger) = column.jigger.as_ref().filter(|_| self.possible(at)) else { return };
        let mut terms = vec![(at, 1.0)];
        for (nth, units) in jigger.units().iter().enumerate() {
            let size = f64::from(*units);
            let most = (column.most / size).floor();
            terms.push((self.variable(VariableOf::Filled(at, nth), Kind::Whole, 0.0, most), -size));
        }
        self.row(PlainOf::Filled(at), terms, RowSense::Equal, 0.0);
    }

    /// Whether a column can be used at all.
    fn possible(&self, at: usize) -> bool {
        let column = &self.model.columns[at];
        column.most > 0.0 && column.least <= column.most
    }

    /// The rows that tie the use of a column to its amount, where anything asks for them: a least of
    /// more than one step, or a count.
    fn used(&mut self, at: usize) {
        let column = &self.model.columns[at];
        let (least, most) = (column.least, column.most);
        let counted = self.model.groups.iter().any(|g| is_asked(g) && g.members.contains(&at));
        let gap = if column.whole { least > 1.0 } else { least > 0.0 };
        if column.must || !self.possible(at) || !(gap || counted) {
            return;
        }
        let used = self.variable(VariableOf::Used(at), Kind::Binary, 0.0, 1.0);
        self.used[at] = Some(used);
        self.row(PlainOf::Least(at), vec![(at, 1.0), (used, -least)], RowSense::AtLeast, 0.0);
        self.row(PlainOf::Most(at), vec![(at, 1.0), (used, -most)], RowSense::AtMost, 0.0);
    }

    fn limit(&mut self, expansion: &Expansion, at: usize, point: usize) {
        let row = &expansion.limits[at];
        let RowOrigin::Limit(limit) = row.origin else { return };
        let terms = columns(&row.coefficients);
        let (sense, number) =
            if row.low.is_finite() { (RowSense::AtLeast, row.low) } else { (RowSense::AtMost, row.high) };
        self.row(PlainOf::Limit(limit, point), terms, sense, number);
    }

    fn proportions(&mut self) {
        for (at, rule) in self.model.brief.proportions.iter().enumerate() {
            for (side, ratio) in [(Side::Min, rule.min), (Side::Max, rule.max)] {
                let Some(ratio) = ratio else { continue };
                let figure = |c: &super::Column| match c.candidate {
                    it if it == rule.of && it == rule.to => c.unit * (1.0 - ratio),
                    it if it == rule.of => c.unit,
                    it if it == rule.to => -ratio * c.unit,
                    _ => 0.0,
                };
                let figures: Vec<f64> = self.model.columns.iter().map(figure).collect();
                self.row(PlainOf::Proportion(at, side), columns(&figures), side.into(), 0.0);
            }
        }
    }

    /// A group's count; members that have to be used count already.
    fn count(&mut self, at: usize, group: &Group) {
        let sure = group.members.iter().filter(|c| self.model.columns[**c].must).count() as f64;
        let terms: Terms = group.members.iter().filter_map(|c| Some((self.used[*c]?, 1.0))).collect();
        if group.min > 0 {
            let least = group.min as f64 - sure;
            self.row(PlainOf::Count(at, Side::Min), terms.clone(), RowSense::AtLeast, least);
        }
        if group.max < group.members.len() {
            self.row(PlainOf::Count(at, Side::Max), terms, RowSense::AtMost, group.max as f64 - sure);
        }
    }

    fn objective(&mut self, objective: &Objective, first: &Expansion, further: &[Needed]) {
        if let Objective::Notes(notes) = objective {
            self.plain.objective = self.covered(notes).into_iter().map(|covered| (covered, -1.0)).collect();
            return;
        }
        let mut lines: Vec<(usize, Line)> = first.scores.iter().map(|line| (0, line.clone())).collect();
        for (point, needed) in further.iter().enumerate().filter(|(_, needed)| needed.scores) {
            lines.extend(needed.expansion.scores.iter().map(|line| (point + 1, line.clone())));
        }
        let sum = |(point, line): (usize, Line)| Sum {
            point,
            terms: columns(&line.figures),
            constant: line.constant,
        };
        let mut lines: Vec<Sum> = lines.into_iter().map(sum).collect();
        if let Objective::Change { from, lost } = objective {
            lines.push(Sum { point: 0, terms: self.changes(from), constant: *lost });
        }
        match lines.as_slice() {
            [only] if only.constant == 0.0 => {
                self.plain.objective = only.terms.iter().copied().filter(|(_, f)| *f != 0.0).collect();
            }
            _ => self.score(lines),
        }
    }

    /// The score as a variable of its own, at least each line.
    fn score(&mut self, lines: Vec<Sum>) {
        let score = self.variable(VariableOf::Score, Kind::Any, f64::NEG_INFINITY, f64::INFINITY);
        self.plain.objective = vec![(score, 1.0)];
        for Sum { point, terms, constant } in lines {
            let mut all = vec![(score, 1.0)];
            all.extend(terms.into_iter().map(|(v, f)| (v, 0.0 - f)));
            self.row(PlainOf::Score(point), all, RowSense::AtLeast, constant);
        }
    }

    /// A variable a note: whether it is covered.
    fn covered(&mut self, notes: &[Vec<usize>]) -> Vec<usize> {
        let kind = if self.pours == Pours::Steps { Kind::Binary } else { Kind::Any };
        let one = |(at, columns): (usize, &Vec<usize>)| {
            let covered = self.variable(VariableOf::Covered(at), kind, 0.0, 1.0);
            let mut terms: Terms = self::columns(&self.model.note_figures(columns));
            terms.push((covered, -1.0));
            self.row(PlainOf::Covered(at), terms, RowSense::AtLeast, 0.0);
            covered
        };
        notes.iter().enumerate().map(one).collect()
    }

    /// Variables for what is poured more or less than the reference.
    fn changes(&mut self, from: &[f64]) -> Terms {
        let mut terms = vec![];
        for (at, reference) in from.iter().enumerate() {
            let unit = self.model.columns[at].unit;
            let more = self.variable(VariableOf::More(at), Kind::Any, 0.0, f64::INFINITY);
            let less = self.variable(VariableOf::Less(at), Kind::Any, 0.0, f64::INFINITY);
            let row = vec![(at, unit), (more, -1.0), (less, 1.0)];
            self.row(PlainOf::Change(at), row, RowSense::Equal, reference * unit);
            terms.extend([(more, 1.0), (less, 1.0)]);
        }
        terms
    }
}

/// Whether a group's count asks for anything.
pub fn is_asked(group: &Group) -> bool {
    group.min > 0 || group.max < group.members.len()
}
