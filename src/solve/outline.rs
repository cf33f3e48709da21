//! The mixed-integer program around the best spec: straight rows, and at how many points they have to
//! be laid so that its optimum is that spec.
//!
//! Expanded at the best spec alone, rows with the volume in them are exact there and a little wrong
//! elsewhere: they may let through a spec that scores better and in truth misses a limit. Every such
//! spec is found by a search over the straight rows, and at each the limits that it misses are expanded
//! once more, until the search proves that none is left (outer approximation: Duran and Grossmann,
//! *Mathematical Programming* 36, 1986). What such a row would cut off besides is worse than the best.

use super::branch::{self, Change, Next};
use super::judge::Judge;
use super::node::{Empty, Node};
use super::simplex::{Ended, Simplex};
use super::{Patience, cuts};
use crate::brief::{Goal, Measure};
use crate::model::{Basis, Expansion, Line, Model, Objective, Program, Row, Sense, Tangent, dot};

/// A better score by less than this share is no better one.
const BETTER: f64 = 1e-7;
/// Where scores are nothing, the share is one of this.
const SMALL: f64 = 1e-2;
/// By how much (relative to its largest term) a row has to be missed to count as missed.
const MISSED: f64 = 3e-9;
/// No more points than this.
const MOST: usize = 300;

/// A point beside the first, and what is needed of its expansion.
#[derive(Debug, Clone, PartialEq)]
pub struct Further {
    /// The expansion.
    pub expansion: Expansion,
    /// The limits whose rows are needed.
    pub limits: Vec<usize>,
    /// Whether the lines of the score are needed.
    pub scores: bool,
}

/// How the search for further points ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outlined {
    /// Proved: nothing that keeps the rows scores better than the best spec (or, where there is none,
    /// nothing keeps the rows).
    Exact,
    /// So many specs keep the rows and score better, and in truth miss a limit: no row cuts them off
    /// without the best spec.
    Open(usize),
    /// Not searched to the end.
    Stopped,
}

/// The points at which limits and score are expanded.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    /// At the best spec: every limit, and the score.
    pub first: Expansion,
    /// At others: what is needed.
    pub further: Vec<Further>,
    /// Whether that is enough.
    pub ending: Outlined,
}

/// The best spec: units of every column, and its score (lower is better).
#[derive(Debug, Clone, Copy)]
pub struct Best<'a> {
    /// Units of every column.
    pub units: &'a [f64],
    /// The search's score.
    pub score: f64,
}

/// The outline around the best spec, or, where there is none, around any point.
pub fn outline(model: &Model, objective: &Objective, best: Option<Best>, patience: Patience) -> Outline {
    let first = match best {
        Some(best) => Expansion::at(model, objective, best.units, best.score),
        None => Expansion::anywhere(model, objective),
    };
    let judge = Judge { model, objective };
    let mut hunt = Hunt { judge, best, first: &first, further: vec![], open: 0, patience, nodes: 0 };
    let ended = hunt.run();
    let ending = match hunt.open {
        _ if !ended => Outlined::Stopped,
        0 => Outlined::Exact,
        open => Outlined::Open(open),
    };
    let further = hunt.further;
    Outline { first, further, ending }
}

/// The search for specs that keep the rows, score better, and in truth do not.
struct Hunt<'a> {
    judge: Judge<'a>,
    best: Option<Best<'a>>,
    first: &'a Expansion,
    further: Vec<Further>,
    open: usize,
    patience: Patience<'a>,
    nodes: u64,
}

/// `Σ figure · variable ≥ least`.
type Least = (Vec<f64>, f64);

impl Hunt<'_> {
    /// Whether it was searched to the end.
    fn run(&mut self) -> bool {
        let program = self.program();
        let target = self.target(program.lines.constant);
        let mut stack = vec![self.root(&program)];
        while let Some(mut node) = stack.pop() {
            self.nodes += 1;
            if self.nodes > self.patience.nodes || self.patience.stop.raised() || self.further.len() >= MOST {
                return false;
            }
            match self.visit(&mut node, &program, target) {
                Step::Children(mut changes) => {
                    while let Some(change) = changes.pop() {
                        let mut child = node.clone();
                        child.apply(change);
                        stack.push(child);
                    }
                }
                Step::Cut(rows) => {
                    stack.push(node);
                    for (figures, least) in rows {
                        stack.iter_mut().for_each(|n| n.simplex.add_row_over_columns(&figures, least));
                    }
                }
            }
        }
        true
    }

    /// The program over the first expansion: rows, counts, and where the score is one straight line,
    /// that as the objective.
    fn program(&self) -> Program {
        let model = self.judge.model;
        let neutral = Objective::goal(model, Goal::Measure(Measure::Cost), Sense::Low);
        let objective = match self.judge.objective {
            change @ Objective::Change { .. } => change,
            _ => &neutral,
        };
        // The bounds serve only rows that are replaced, and an objective that needs none.
        let envelope =
            Tangent { volume: vec![0.0; model.columns.len()], melt: vec![0.0; model.columns.len()] };
        let basis = Basis { views: &[], loose: 0.0, at: None };
        let mut program = Program::over(model, objective, envelope.envelope(), basis).counted(model);
        for (row, limit) in program.rows.iter_mut().zip(&self.first.limits) {
            row.coefficients = program.segments.iter().map(|s| limit.coefficients[s.column]).collect();
        }
        match (self.judge.objective, self.best, self.first.scores.first()) {
            (Objective::Change { .. }, Some(_), _) => {}
            (_, Some(_), Some(score)) => {
                program.lines.value = wide(&program, &score.figures);
                program.lines.constant = score.constant;
            }
            _ => {
                program.lines.value.fill(0.0);
                program.lines.constant = 0.0;
            }
        }
        program
    }

    /// The score that counts as better, less the objective's constant.
    fn target(&self, constant: f64) -> f64 {
        self.best.map_or(f64::INFINITY, |best| better_than(best.score) - constant)
    }

    fn root(&self, program: &Program) -> Node {
        let model = self.judge.model;
        let bounds: Vec<(f64, f64)> = program
            .segments
            .iter()
            .map(|s| {
                let column = &model.columns[s.column];
                let low = if column.must { (column.least - s.start).clamp(0.0, s.length) } else { 0.0 };
                (low, s.length)
            })
            .collect();
        let rows: Vec<_> = program.rows.iter().map(|r| (r.coefficients.clone(), r.lo, r.hi)).collect();
        let mut simplex = Simplex::new(&bounds, &rows, std::slice::from_ref(&program.lines.value));
        if self.best.is_some() {
            for line in self.first.scores.iter().skip(1) {
                let (figures, least) = self.score_row(program, line);
                simplex.add_row_over_columns(&figures, least);
            }
        }
        simplex.weigh(&[1.0]);
        if simplex.solve(f64::INFINITY) == Ended::Optimal {
            cuts::sharpen(model, program, &mut simplex);
        }
        Node::root(model, simplex)
    }

    /// A line of the score as a row: the score is better than the best spec's.
    fn score_row(&self, program: &Program, line: &Line) -> Least {
        let figures = wide(program, &line.figures).iter().map(|f| 0.0 - f).collect();
        (figures, line.constant - self.target(0.0))
    }

    fn visit(&mut self, node: &mut Node, program: &Program, target: f64) -> Step {
        let model = self.judge.model;
        let Ok(room) = solved(model, node, program, target) else { return Step::Children(vec![]) };
        match branch::next(model, program, node, room) {
            Next::Branch(changes) => Step::Children(changes),
            Next::Whole(spec) => {
                let rows = self.rows_against(program, &spec);
                if rows.is_empty() {
                    Step::Children(branch::after_leaf(model, node, program, &spec, room))
                } else {
                    Step::Cut(rows)
                }
            }
        }
    }

    /// Rows that a spec breaks although it has kept all rows so far; none if it is what it seems to be.
    fn rows_against(&mut self, program: &Program, spec: &[(usize, f64)]) -> Vec<Least> {
        let model = self.judge.model;
        let mut units = vec![0.0; model.columns.len()];
        spec.iter().for_each(|(c, u)| units[*c] = *u);
        let score = self.best.map_or(0.0, |best| best.score);
        let expansion = Expansion::at(model, self.judge.objective, &units, score);
        let missed: Vec<usize> =
            (0..model.limits.len()).filter(|at| misses(&expansion.limits[*at], &units)).collect();
        let useful = |at: &usize| self.best.is_none_or(|b| !misses(&expansion.limits[*at], b.units));
        let limits: Vec<usize> = missed.iter().copied().filter(useful).collect();
        let mut rows: Vec<Least> =
            limits.iter().map(|at| limit_least(program, &expansion.limits[*at])).collect();
        let mut scores = false;
        if let (true, Some(best)) = (missed.is_empty(), self.best) {
            let better = better_than(best.score);
            let above =
                |line: &&Line| line.at(&units) > better && line.at(best.units) <= better_or_equal(best.score);
            let lines: Vec<&Line> = expansion.scores.iter().filter(above).collect();
            rows.extend(lines.iter().map(|line| self.score_row(program, line)));
            scores = !lines.is_empty();
        }
        if rows.is_empty() {
            self.open += usize::from(!missed.is_empty());
        } else {
            self.further.push(Further { expansion, limits, scores });
        }
        rows
    }
}

/// How a node goes on.
enum Step {
    /// Into these children, the first one first.
    Children(Vec<Change>),
    /// Again, with these rows everywhere.
    Cut(Vec<Least>),
}

/// Solves a node's program and draws what follows from it: the room below the target.
fn solved(model: &Model, node: &mut Node, program: &Program, target: f64) -> Result<f64, Empty> {
    node.propagate(model)?;
    loop {
        node.bound_segments(program);
        node.simplex.weigh(&[1.0]);
        match node.simplex.solve(target) {
            Ended::Infeasible | Ended::Above => return Err(Empty),
            Ended::Optimal | Ended::Tired => {}
        }
        let room = target - node.simplex.objective();
        if !room.is_finite() {
            return Ok(room);
        }
        branch::fix_by_reduced_cost(model, node, program, room);
        node.propagate(model)?;
        if branch::within_domains(program, node) {
            return Ok(room);
        }
    }
}

/// A score under this is better than `score`.
fn better_than(score: f64) -> f64 {
    score - BETTER * score.abs().max(SMALL)
}

/// A score up to this is no worse than `score`.
fn better_or_equal(score: f64) -> f64 {
    score + 0.1 * BETTER * score.abs().max(SMALL)
}

/// Whether amounts break a row.
fn misses(row: &Row, units: &[f64]) -> bool {
    let value = dot(&row.coefficients, units);
    let size = row.coefficients.iter().zip(units).map(|(f, u)| (f * u).abs()).fold(0.0, f64::max);
    let by = (row.lo - value).max(value - row.hi);
    by > MISSED * size
}

/// Figures a column as figures a variable.
fn wide(program: &Program, figures: &[f64]) -> Vec<f64> {
    program.segments.iter().map(|s| figures[s.column]).collect()
}

fn limit_least(program: &Program, row: &Row) -> Least {
    let figures = wide(program, &row.coefficients);
    if row.lo.is_finite() {
        (figures, row.lo)
    } else {
        (figures.iter().map(|f| 0.0 - f).collect(), 0.0 - row.hi)
    }
}
