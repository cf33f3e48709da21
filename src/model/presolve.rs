//! Presolve: ranges of compositions drawn in to what the rows allow, so that the lines over them are tight.

use super::{Model, Objective, Program, Ranges};
use crate::liquid::ethanol;
use crate::lp::simplex::{Ended, Simplex};

/// How often the ranges of a subproblem are drawn in at most before it is searched, and the share that a round has to draw one of
/// them in by to be worth another.
const ROUNDS: usize = 2;
const WORTH: f64 = 0.1;

impl Program {
    /// Its tableau with everything open, the `must` columns used, with further objective parts.
    pub fn tableau(&self, model: &Model, parts: &[Vec<f64>]) -> Simplex {
        Simplex::new(&self.open(model), &self.linear_rows(), parts)
    }

    /// Between what each of its variables may be with everything open.
    pub fn open(&self, model: &Model) -> Vec<(f64, f64)> {
        self.bounds(|c| (if model.columns[c].must { model.columns[c].least } else { 0.0 }, f64::INFINITY))
    }
}

/// Draws the ranges in for as long as one of them becomes so much narrower that the lines over it are others.
pub fn drawn_as_far(model: &Model, objective: &Objective, mut ranges: Ranges) -> Option<Ranges> {
    let wide = |(low, high): (f64, f64)| high - low;
    let of = |ranges: &Ranges| [ranges.before, ranges.spirit, ranges.syrup].map(wide);
    for _ in 0..ROUNDS {
        let drawn = drawn_in(model, objective, ranges)?;
        let far = of(&ranges).iter().zip(of(&drawn)).any(|(before, after)| after < (1.0 - WORTH) * before);
        ranges = drawn;
        if !far {
            break;
        }
    }
    Some(ranges)
}

/// Draws the ranges in to what the rows allow; `None` if they allow nothing.
pub fn drawn_in(model: &Model, objective: &Objective, ranges: Ranges) -> Option<Ranges> {
    let program = Program::relaxed(model, objective, &ranges);
    let parts = ratio_parts(model, &program);
    let mut simplex = program.tableau(model, &parts);
    simplex.weigh(&[]);
    if simplex.solve(f64::INFINITY) == Ended::Infeasible {
        return None;
    }
    let mut ends = |low: (usize, usize), high: (usize, usize), old: (f64, f64)| {
        let from = simplex.least_ratio(low.0, low.1).map_or(old.0, |r| r.max(old.0));
        let to = simplex.least_ratio(high.0, high.1).map_or(old.1, |r| (-r).min(old.1));
        (from.min(to), to)
    };
    Some(Ranges {
        before: ends((0, 1), (2, 1), ranges.before),
        spirit: ends((3, 5), (4, 6), ranges.spirit),
        syrup: ends((7, 9), (8, 10), ranges.syrup),
        heat: ranges.heat,
    })
}

/// Numerators (also with their sign turned) and denominators of the three ranges, a figure a segment.
/// A range's lower end needs the most water, its upper end the least.
fn ratio_parts(model: &Model, program: &Program) -> Vec<Vec<f64>> {
    let portion = |c: usize| (&model.candidate(c).portion, model.columns[c].unit);
    let worked = |c: usize| portion(c).0.worked * portion(c).1;
    let alcohol = |c: usize| portion(c).0.strength * worked(c);
    let spirit = |c: usize| portion(c).0.masses.ethanol * portion(c).1;
    let solids = |c: usize| portion(c).0.masses.solids * portion(c).1;
    let water = |c: usize, melt: &[f64]| portion(c).0.masses.water * portion(c).1 + melt[c] * ethanol::WATER;
    let (least, most) = (&program.envelope.melt_low, &program.envelope.melt_high);
    vec![
        program.spread(alcohol),
        program.spread(worked),
        program.spread(|c| 0.0 - alcohol(c)),
        program.spread(spirit),
        program.spread(|c| 0.0 - spirit(c)),
        program.spread(|c| spirit(c) + water(c, most)),
        program.spread(|c| spirit(c) + water(c, least)),
        program.spread(solids),
        program.spread(|c| 0.0 - solids(c)),
        program.spread(|c| solids(c) + water(c, most)),
        program.spread(|c| solids(c) + water(c, least)),
    ]
}
