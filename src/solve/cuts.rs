//! Cuts at the root: rows that every pourable spec keeps and the relaxation's optimum does not.
//!
//! Where a column's amount lies between two that can be poured, each spec is on one side or the other.
//! From the column's row in the tableau follows one linear row that holds on both sides and cuts the
//! point off (Gomory, *An algorithm for the mixed integer problem*, RAND RM-2597, 1960; the disjunctive
//! form: Balas, *Annals of Discrete Mathematics* 5, 1979). They rest on the root's bounds alone, so they
//! hold in the whole tree.

use super::simplex::{Ended, Entry, Simplex};
use crate::model::{Model, Program};

/// How many rounds at most.
const ROUNDS: usize = 10;
/// A point nearer to one side than this share of the gap gives a numerically weak cut.
const NEAR: f64 = 0.03;
/// Figures of a cut may differ by this factor at most.
const SPREAD: f64 = 1e6;
/// By how much a cut is loosened, relative to the largest thing that it adds up: far more than the
/// rounding of its figures, far less than what it cuts.
const PAD: f64 = 1e-7;
/// A round that raises the bound by less than this share is the last.
const GAIN: f64 = 2e-4;

/// The amounts on both sides of a column's value, in its units; consecutive whole numbers, or nothing
/// and the least pour.
#[derive(Debug, Clone, Copy)]
struct Sides {
    below: f64,
    above: f64,
    value: f64,
}

/// Adds cuts to a solved root until they gain little. The objective in force stays in force.
pub fn sharpen(model: &Model, program: &Program, simplex: &mut Simplex) {
    let first = simplex.rows();
    let whole: Vec<bool> = (0..program.width()).map(|at| is_whole(model, program, at)).collect();
    let mut last = simplex.objective();
    for _ in 0..ROUNDS {
        let cuts = cuts(model, program, simplex, &whole);
        if cuts.is_empty() {
            break;
        }
        cuts.into_iter().for_each(|(figures, least)| simplex.add_row(&figures, least));
        if simplex.solve(f64::INFINITY) != Ended::Optimal {
            // Nothing can be poured here, or the pivots ran out: the search will see.
            break;
        }
        simplex.drop_slack_rows(first);
        let now = simplex.objective();
        if now - last < GAIN * (now.abs() + last.abs()) {
            break;
        }
        last = now;
    }
}

/// Whether a variable counts whole steps of a column of its own.
fn is_whole(model: &Model, program: &Program, at: usize) -> bool {
    let Some(segment) = program.segments.get(at) else { return false };
    model.columns[segment.column].whole && program.of_column[segment.column].len() == 1
}

/// A cut for every column whose amount lies between.
fn cuts(model: &Model, program: &Program, simplex: &Simplex, whole: &[bool]) -> Vec<(Vec<f64>, f64)> {
    (0..program.segments.len())
        .filter(|at| program.of_column[program.segments[*at].column].len() == 1)
        .filter_map(|at| {
            let column = &model.columns[program.segments[at].column];
            let sides = sides(column.whole, column.must, column.least, simplex.value(at))?;
            cut(&simplex.line_of(at)?, sides, whole)
        })
        .collect()
}

fn sides(whole: bool, must: bool, least: f64, value: f64) -> Option<Sides> {
    let sides = if !must && value < least {
        Sides { below: 0.0, above: least, value }
    } else if whole {
        Sides { below: value.floor(), above: value.floor() + 1.0, value }
    } else {
        return None;
    };
    let share = (value - sides.below) / (sides.above - sides.below);
    (share > NEAR && share < 1.0 - NEAR).then_some(sides)
}

/// `Σ γ t ≥ 1` over the moves t of the nonbasic variables away from their bounds, as a row over the
/// variables themselves.
fn cut(line: &[Entry], sides: Sides, whole: &[bool]) -> Option<(Vec<f64>, f64)> {
    let (down, up) = (sides.value - sides.below, sides.above - sides.value);
    let unit = sides.above - sides.below;
    let gamma = |entry: &Entry| {
        let alpha = if entry.low { entry.figure } else { -entry.figure };
        let plain = if alpha > 0.0 { alpha / up } else { -alpha / down };
        let counts = whole.get(entry.variable).copied().unwrap_or(false) && unit == 1.0;
        if !counts {
            return plain;
        }
        // A whole move may be counted modulo a whole step of the column.
        let part = alpha - alpha.floor();
        plain.min((part / up).min((1.0 - part) / down))
    };
    let mut least = 1.0;
    let mut figures = Vec::with_capacity(line.len());
    let gammas: Vec<f64> = line.iter().map(gamma).collect();
    let weigh = |(g, e): (&f64, &Entry)| g * (e.hi - e.lo);
    let largest = gammas.iter().zip(line).map(weigh).fold(0.0, f64::max);
    let mut pad = PAD;
    for (g, entry) in gammas.iter().zip(line) {
        let reach = g * (entry.hi - entry.lo);
        if reach < largest / SPREAD {
            // Too small to stand in the row: what it could add is taken from the right side.
            least -= reach;
            figures.push(0.0);
            continue;
        }
        let (sign, bound) = if entry.low { (1.0, entry.lo) } else { (-1.0, entry.hi) };
        figures.push(sign * g);
        least += sign * g * bound;
        pad = pad.max(PAD * (g * bound).abs());
    }
    let scale = 1.0 / largest.max(1.0);
    figures.iter_mut().for_each(|f| *f *= scale);
    (least.is_finite() && largest.is_finite()).then_some((figures, (least - pad) * scale))
}
