//! The linear program of free pours, and at how many points its rows have to be laid.
//!
//! At an optimum in a corner one expansion is enough. Where the optimum lies on a bend, the expansion at
//! a point that is only near it has its own optimum elsewhere: rows are laid there, too, until the
//! program's optimum is as good as exact (cutting planes: Kelley, *Journal of SIAM* 8, 1960).

use super::{Best, Further, OuterApproximation, OuterEnding, base};
use crate::lp::linear::{Linear, LinearRow};
use crate::model::{Expansion, Gauge, Line, Model, Objective, Program, Row, Segment, dot};

/// No more points than this.
const MOST: usize = 60;
/// The program's optimum and the spec's score are the same within this share.
const SAME: f64 = 1e-8;
/// A row that is missed by less than this share of its largest term is not missed: rounding.
const ROUNDING: f64 = 1e-11;
/// The same for the spec itself, which meets its limits within a margin of its own.
const KEPT: f64 = 1e-9;
/// How far the program's optimum may lie from the spec's score, in the score's size.
const REACH: f64 = 0.05;

/// The outer approximation around the optimum with free pours, or, where free pours meet the brief nowhere, around
/// any point, until no point keeps all rows.
pub fn free_outer(model: &Model, objective: &Objective, best: Option<Best>) -> OuterApproximation {
    let first = match best {
        Some(best) => Expansion::at(model, objective, best.units, best.score),
        None => Expansion::anywhere(model, objective),
    };
    let around = Around { model, objective, best, program: base(model, objective, &first, best) };
    let mut linear = around.linear(&first);
    let mut further: Vec<Further> = vec![];
    let mut optimum = None;
    while further.len() <= MOST {
        let Some(found) = linear.minimize() else {
            let ending = if best.is_none() { OuterEnding::Exact } else { OuterEnding::Stopped };
            return OuterApproximation { first, further, ending, optimum };
        };
        optimum = best.map(|_| around.score(&found));
        if around.as_good(optimum) {
            return OuterApproximation { first, further, ending: OuterEnding::Exact, optimum };
        }
        let units = around.program.amounts(|variable| found[variable]);
        let expansion = Expansion::at(model, objective, &units, around.around());
        // A row that would cut off the spec itself is none: there the brief bends the other way.
        let breaks = |row: &LinearRow| breaks(row, &found) && around.keeps(row);
        let limits: Vec<usize> =
            (0..model.limits.len()).filter(|at| breaks(&around.limit(&expansion, *at))).collect();
        let lines = around.lines(&expansion);
        let scores = lines.iter().any(breaks) && lines.iter().all(|row| around.keeps(row));
        if limits.is_empty() && !scores {
            break;
        }
        linear.rows.extend(limits.iter().map(|at| around.limit(&expansion, *at)));
        linear.rows.extend(if scores { lines } else { vec![] });
        further.push(Further { expansion, limits, scores });
    }
    OuterApproximation { first, further, ending: OuterEnding::Stopped, optimum }
}

/// What does not change from point to point.
struct Around<'a> {
    model: &'a Model<'a>,
    objective: &'a Objective,
    best: Option<Best<'a>>,
    program: Program,
}

impl Around<'_> {
    /// Whether the score depends on the volume, so that each expansion has lines of its own.
    fn bent(&self) -> bool {
        let straight = matches!(
            self.objective,
            Objective::Change { .. } | Objective::Notes(_) | Objective::Goal { gauge: Gauge::Sum(_), .. }
        );
        self.best.is_some() && !straight
    }

    /// The score around which ratios are expanded.
    fn around(&self) -> f64 {
        self.best.map_or(0.0, |best| best.score)
    }

    /// What the score is measured by.
    fn size(&self) -> f64 {
        self.around().abs().max(1e-2)
    }

    /// Whether the program's optimum is the spec's score.
    fn as_good(&self, optimum: Option<f64>) -> bool {
        optimum.is_some_and(|score| score >= self.around() - SAME * self.size())
    }

    /// Variables: those of the program, and the score where it is bent.
    fn width(&self) -> usize {
        self.program.width() + usize::from(self.bent())
    }

    fn linear(&self, first: &Expansion) -> Linear {
        let mut bounds = self.program.open(self.model);
        let width = self.program.width();
        let mut cost = if self.bent() { vec![0.0; width] } else { self.program.lines.value.clone() };
        if self.bent() {
            let reach = REACH * self.size();
            bounds.push((self.around() - reach, self.around() + reach));
            cost.push(1.0);
        }
        let wide = |row: &Row| (self.widened(row.coefficients.clone()), row.low, row.high);
        let mut rows: Vec<LinearRow> = self.program.rows.iter().map(wide).collect();
        rows.extend(self.lines(first));
        Linear { cost, bounds, rows }
    }

    /// Whether the spec keeps a row.
    fn keeps(&self, row: &LinearRow) -> bool {
        let Some(best) = self.best else { return true };
        let part = |s: &Segment| s.part_of(best.units[s.column]);
        let mut at: Vec<f64> = self.program.segments.iter().map(part).collect();
        at.resize(self.width(), best.score);
        !misses(row, &at, KEPT)
    }

    fn score(&self, found: &[f64]) -> f64 {
        match found.get(self.program.width()) {
            Some(score) => *score,
            None => dot(&self.program.lines.value, found) + self.program.lines.constant,
        }
    }

    fn widened(&self, mut figures: Vec<f64>) -> Vec<f64> {
        figures.resize(self.width(), 0.0);
        figures
    }

    fn limit(&self, expansion: &Expansion, at: usize) -> LinearRow {
        let row = &expansion.limits[at];
        (self.widened(self.program.spread(|c| row.coefficients[c])), row.low, row.high)
    }

    /// The score is at least each line of an expansion.
    fn lines(&self, expansion: &Expansion) -> Vec<LinearRow> {
        if !self.bent() {
            return vec![];
        }
        let row = |line: &Line| {
            let mut figures: Vec<f64> =
                self.program.spread(|c| line.figures[c]).iter().map(|f| 0.0 - f).collect();
            figures.push(1.0);
            (figures, line.constant, f64::INFINITY)
        };
        expansion.scores.iter().map(row).collect()
    }
}

/// Whether a point breaks a row by more than rounding.
fn breaks(row: &LinearRow, at: &[f64]) -> bool {
    misses(row, at, ROUNDING)
}

/// Whether a point misses a row by more than a share of its largest term.
fn misses((figures, low, high): &LinearRow, at: &[f64], share: f64) -> bool {
    let largest = figures.iter().zip(at).map(|(f, x)| (f * x).abs()).fold(0.0, f64::max);
    let value = dot(figures, at);
    (low - value).max(value - high) > share * largest
}
