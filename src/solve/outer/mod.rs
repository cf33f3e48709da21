//! The mixed-integer program around the best spec: straight rows, and at how many points they have to
//! be laid so that its optimum is that spec.
//!
//! Expanded at the best spec alone, rows with the volume in them are exact there and a little wrong
//! elsewhere: they may let through a spec that scores better and in truth misses a limit. Every such
//! spec is found by a search over the straight rows, and at each the limits that it misses are expanded
//! once more, until the search proves that none is left (outer approximation: Duran and Grossmann,
//! *Mathematical Programming* 36, 1986). What such a row would cut off besides is worse than the best.

mod free;
mod separation;

pub use free::free_outer;

use crate::brief::{Goal, Measure};
use crate::model::{Basis, Expansion, Model, Objective, Program, Row, Sense, Tangent, dot};
use crate::search::{Judge, SearchLimits};
use crate::tolerance::WHOLE;

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
pub enum OuterEnding {
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
pub struct OuterApproximation {
    /// At the best spec: every limit, and the score.
    pub first: Expansion,
    /// At others: what is needed.
    pub further: Vec<Further>,
    /// Whether that is enough.
    pub ending: OuterEnding,
    /// The least score that keeps the rows, where it is known.
    pub optimum: Option<f64>,
}

/// The best spec: units of every column, and its score (lower is better).
#[derive(Debug, Clone, Copy)]
pub struct Best<'a> {
    /// Units of every column.
    pub units: &'a [f64],
    /// The search's score.
    pub score: f64,
}

/// The outer approximation around the best spec, or, where there is none, around any point.
pub fn outer(
    model: &Model,
    objective: &Objective,
    best: Option<Best>,
    limits: SearchLimits,
) -> OuterApproximation {
    let first = match best {
        Some(best) => Expansion::at(model, objective, best.units, best.score),
        None => Expansion::anywhere(model, objective),
    };
    let judge = Judge { model, objective };
    let mut separation = separation::Separation::new(judge, best, &first, limits);
    let ended = separation.run();
    let ending = match separation.open {
        _ if !ended => OuterEnding::Stopped,
        0 => OuterEnding::Exact,
        open => OuterEnding::Open(open),
    };
    let further = separation.further;
    let optimum = best.filter(|_| ending == OuterEnding::Exact).map(|best| best.score);
    OuterApproximation { first, further, ending, optimum }
}

/// `Σ figure · variable ≥ least`.
type Least = (Vec<f64>, f64);

/// The program over an expansion: rows, and where the score is one straight line, that as the objective.
fn base(model: &Model, objective: &Objective, first: &Expansion, best: Option<Best>) -> Program {
    let neutral = Objective::goal(model, Goal::Measure(Measure::Cost), Sense::Low);
    let straight = match objective {
        bending @ (Objective::Change { .. } | Objective::Notes(_)) => bending,
        _ => &neutral,
    };
    // The bounds serve only rows that are replaced, and an objective that needs none.
    let nothing = vec![0.0; model.columns.len()];
    let envelope = Tangent { volume: nothing.clone(), level: nothing.clone(), melt: nothing }.envelope();
    let basis = Basis { views: &[], loose: 0.0, at: None };
    let mut program = Program::over(model, straight, envelope, basis);
    let limits: Vec<Vec<f64>> = first.limits.iter().map(|l| program.spread(|c| l.coefficients[c])).collect();
    for (row, figures) in program.rows.iter_mut().zip(limits) {
        row.coefficients = figures;
    }
    match (objective, best, first.scores.first()) {
        (Objective::Change { .. } | Objective::Notes(_), Some(_), _) => {}
        (_, Some(_), Some(score)) => {
            program.lines.value = program.spread(|c| score.figures[c]);
            program.lines.constant = score.constant;
        }
        _ => {
            program.lines.value.fill(0.0);
            program.lines.constant = 0.0;
        }
    }
    program
}

/// A score under this is better than `score`.
fn better_than(score: f64) -> f64 {
    score - BETTER * score.abs().max(SMALL)
}

/// A score up to this is no worse than `score`.
fn better_or_equal(score: f64) -> f64 {
    score + 0.1 * BETTER * score.abs().max(SMALL)
}

/// What the search lets pass of a row: rounding in a tableau whose rows are scaled by their largest
/// term, and amounts that count as whole a little before they are.
fn slack(model: &Model, figures: &[f64], units: &[f64]) -> f64 {
    let largest = figures.iter().zip(&model.columns).map(|(f, c)| (f * c.most).abs()).fold(0.0, f64::max);
    let used = figures.iter().zip(units).filter(|(_, u)| **u > 0.0).map(|(f, _)| f.abs());
    MISSED * largest + WHOLE * used.sum::<f64>()
}

/// Whether amounts break a row, beyond what the search lets pass.
fn misses(model: &Model, row: &Row, units: &[f64]) -> bool {
    let value = dot(&row.coefficients, units);
    (row.low - value).max(value - row.high) > slack(model, &row.coefficients, units)
}

fn limit_least(program: &Program, row: &Row) -> Least {
    let figures = program.spread(|c| row.coefficients[c]);
    if row.low.is_finite() {
        (figures, row.low)
    } else {
        (figures.iter().map(|f| 0.0 - f).collect(), 0.0 - row.high)
    }
}
