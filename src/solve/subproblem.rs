//! A subproblem of the range of compositions, narrow enough for the linear bounds over it to be tight.

use super::cuts;
use super::incumbents::in_steps;
use super::sums::{self, Sum};
use crate::liquid::ethanol;
use crate::lp::simplex::{Ended, Simplex};
use crate::model::{Model, Objective, Program, Ranges};
use crate::simulate::Region;

/// How often the ranges of a subproblem are drawn in at most before it is searched, and the share that a round has to draw one of
/// them in by to be worth another.
const ROUNDS: usize = 2;
const WORTH: f64 = 0.1;
/// How many steps the search for a ratio's end may take.
const STEPS: usize = 12;
/// So much of itself a ratio is lowered by before it is sure to be a bound; the more only where the less is not enough.
const HAIRS: [f64; 4] = [1e-9, 1e-7, 1e-5, 1e-3];

/// A subproblem to search: a program that is valid on it, and its root bound.
#[derive(Debug)]
pub struct Subproblem {
    /// Rows, segments and objective.
    pub program: Program,
    /// The solved root.
    pub simplex: Simplex,
    /// The sums in it.
    pub sums: Vec<Sum>,
    /// No spec of the subproblem scores better.
    pub bound: f64,
    /// The step in which scores come, where they come in steps.
    step: Option<f64>,
}

/// The tableau of a program with everything open, with further objective parts.
pub fn tableau(model: &Model, program: &Program, parts: &[Vec<f64>]) -> Simplex {
    let bounds: Vec<(f64, f64)> = program
        .segments
        .iter()
        .map(|s| {
            let column = &model.columns[s.column];
            let low = if column.must { (column.least - s.start).clamp(0.0, s.length) } else { 0.0 };
            (low, s.length)
        })
        .chain(program.extras.iter().map(|most| (0.0, *most)))
        .collect();
    let rows: Vec<(Vec<f64>, f64, f64)> =
        program.rows.iter().map(|r| (r.coefficients.clone(), r.low, r.high)).collect();
    Simplex::new(&bounds, &rows, parts)
}

impl Subproblem {
    /// The subproblem over some ranges; nothing where nothing is on it.
    pub fn new(model: &Model, objective: &Objective, ranges: &Ranges) -> Option<Self> {
        let program = Program::relaxed(model, objective, ranges);
        let lines = &program.lines;
        let mut parts = vec![lines.value.clone(), lines.cost.clone()];
        parts.extend(lines.over.clone());
        let mut simplex = tableau(model, &program, &parts);
        let sums = sums::add(model, &program, &mut simplex);
        simplex.weigh(&[1.0]);
        if simplex.solve(f64::INFINITY) == Ended::Infeasible {
            return None;
        }
        let bound = match &lines.over {
            None => simplex.objective() + lines.constant,
            Some(_) => least_ratio(&mut simplex, 0, 2).unwrap_or(f64::NEG_INFINITY),
        };
        let step = objective.step();
        let bound = step.map_or(bound, |step| in_steps(bound, step));
        Some(Self { program, simplex, sums, bound, step })
    }
}

impl Subproblem {
    /// Adds cuts to the root, and raises the bound by them.
    pub fn sharpen(&mut self, model: &Model) {
        if !self.bound.is_finite() {
            return;
        }
        let lines = &self.program.lines;
        let theta = if lines.over.is_some() { self.bound } else { 0.0 };
        let weights = [1.0, 0.0, -theta];
        self.simplex.weigh(&weights[..if lines.over.is_some() { 3 } else { 1 }]);
        if self.simplex.solve(f64::INFINITY) != Ended::Optimal {
            return;
        }
        cuts::sharpen(model, &self.program, &mut self.simplex);
        let bound = match (&lines.over, self.simplex.solve(f64::INFINITY)) {
            (_, Ended::Infeasible) => f64::INFINITY,
            (None, _) => self.simplex.objective() + lines.constant,
            (Some(_), _) => least_ratio(&mut self.simplex, 0, 2).unwrap_or(self.bound),
        };
        self.bound = self.bound.max(self.step.map_or(bound, |step| in_steps(bound, step)));
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
    let mut simplex = tableau(model, &program, &parts);
    simplex.weigh(&[]);
    if simplex.solve(f64::INFINITY) == Ended::Infeasible {
        return None;
    }
    let mut ends = |low: (usize, usize), high: (usize, usize), old: (f64, f64)| {
        let from = least_ratio(&mut simplex, low.0, low.1).map_or(old.0, |r| r.max(old.0));
        let to = least_ratio(&mut simplex, high.0, high.1).map_or(old.1, |r| (-r).min(old.1));
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
    let spread = |figure: &dyn Fn(usize) -> f64| -> Vec<f64> {
        let mut wide: Vec<f64> = program.segments.iter().map(|s| figure(s.column)).collect();
        wide.resize(program.width(), 0.0);
        wide
    };
    let portion = |c: usize| (&model.candidate(c).portion, model.columns[c].unit);
    let worked = |c: usize| portion(c).0.worked * portion(c).1;
    let alcohol = |c: usize| portion(c).0.strength * worked(c);
    let spirit = |c: usize| portion(c).0.masses.ethanol * portion(c).1;
    let solids = |c: usize| portion(c).0.masses.solids * portion(c).1;
    let water = |c: usize, melt: &[f64]| portion(c).0.masses.water * portion(c).1 + melt[c] * ethanol::WATER;
    let (least, most) = (&program.envelope.melt_low, &program.envelope.melt_high);
    vec![
        spread(&alcohol),
        spread(&worked),
        spread(&|c| 0.0 - alcohol(c)),
        spread(&spirit),
        spread(&|c| 0.0 - spirit(c)),
        spread(&|c| spirit(c) + water(c, most)),
        spread(&|c| spirit(c) + water(c, least)),
        spread(&solids),
        spread(&|c| 0.0 - solids(c)),
        spread(&|c| solids(c) + water(c, most)),
        spread(&|c| solids(c) + water(c, least)),
    ]
}

/// A lower bound on part `over` of part `value` over everything that the rows allow, by Dinkelbach's
/// steps: the ratio θ at a point, the least `value - θ·over`, the ratio there, and so on downwards.
/// `None` if no ratio near the last is sure, or if nothing is over zero.
fn least_ratio(simplex: &mut Simplex, value: usize, over: usize) -> Option<f64> {
    let mut weights = vec![0.0; value.max(over) + 1];
    weights[value] = 1.0;
    let mut least = |simplex: &mut Simplex, theta: f64| {
        weights[over] = -theta;
        simplex.weigh(&weights);
        let ended = simplex.solve(f64::INFINITY);
        (ended, simplex.objective())
    };
    let ratio = |s: &Simplex| {
        let over = s.part(over);
        (over > 1e-9).then(|| s.part(value) / over)
    };
    let mut theta = ratio(simplex)?;
    for _ in 0..STEPS {
        let (ended, least) = least(simplex, theta);
        if ended != Ended::Optimal || least >= -1e-10 * simplex.part(over).abs().max(1e-9) {
            break;
        }
        let next = ratio(simplex)?;
        if next >= theta {
            // What is less than nothing there is what rounding takes from a bound.
            break;
        }
        theta = next;
    }
    let mut lower = HAIRS.iter().map(|hair| theta - hair * (1.0 + theta.abs()));
    lower.find(|theta| least(simplex, *theta).1 >= 0.0)
}

/// Between which amounts and compositions the specs of a model lie that uses all its `must` columns and
/// no others; `None` if there are none.
pub fn region(model: &Model, objective: &Objective) -> Option<Region> {
    let ranges = drawn_as_far(model, objective, Ranges::of(&model.typical))?;
    let program = Program::relaxed(model, objective, &ranges);
    let used: Vec<usize> = (0..model.columns.len()).filter(|c| model.columns[*c].must).collect();
    let figures = |figure: &dyn Fn(usize) -> f64| -> Vec<f64> {
        let mut wide: Vec<f64> = program.segments.iter().map(|s| figure(s.column)).collect();
        wide.resize(program.width(), 0.0);
        wide
    };
    let unit = |c: usize| model.columns[c].unit;
    let mut parts: Vec<Vec<f64>> =
        used.iter().map(|used| figures(&|c| if c == *used { unit(c) } else { 0.0 })).collect();
    parts.push(figures(&|c| unit(c) * model.candidate(c).portion.worked));
    let mut simplex = tableau(model, &program, &parts);
    let mut ends: Vec<(f64, f64)> = vec![];
    for part in 0..parts.len() {
        ends.push((simplex.end_of(part, 1.0)?, simplex.end_of(part, -1.0)?));
    }
    let worked = ends.pop()?;
    let pours = used
        .iter()
        .zip(ends)
        .map(|(c, (low, high))| {
            let column = &model.columns[*c];
            let (least, most) = (column.least * column.unit, column.most * column.unit);
            (column.candidate, low.max(least), high.min(most).max(least))
        })
        .collect();
    let Ranges { before, spirit, syrup, .. } = ranges;
    Some(Region { pours, worked, before, spirit, syrup })
}

#[cfg(test)]
mod tests {
    use rand::{RngExt, SeedableRng};
    use rand_pcg::Pcg64Mcg;

    use super::*;

    /// A ratio of sums is a mean of the ratios of their terms, so the least of these is the least there is. What is told
    /// is never over it, however the tableau has been damaged, and there is always something to tell.
    #[test]
    fn a_ratio_has_a_bound_that_is_sure() {
        let mut rng = Pcg64Mcg::seed_from_u64(27);
        for try_ in 0..2_000 {
            let count = rng.random_range(2..12);
            let mut figures = |low: i32, high: i32| -> Vec<f64> {
                (0..count).map(|_| f64::from(rng.random_range(low..high)) / 7.0).collect()
            };
            let (value, over) = (figures(0, 900), figures(1, 50));
            let least = value.iter().zip(&over).map(|(v, o)| v / o).fold(f64::INFINITY, f64::min);
            let bounds = vec![(0.0, 4.0); count];
            let something = [(vec![1.0; count], 1.0, f64::INFINITY)];
            let mut simplex = Simplex::new(&bounds, &something, &[value, over]);
            simplex.weigh(&[1.0]);
            assert_eq!(simplex.solve(f64::INFINITY), Ended::Optimal);
            let damage = if try_ % 2 == 0 { 0.0 } else { 10_f64.powi(-(6 + try_ % 8)) };
            simplex.damage(&mut rng, damage);
            let told = least_ratio(&mut simplex, 0, 1).expect("a bound");
            let near = if damage == 0.0 { 1e-8 } else { 1.1e-3 };
            assert!(told <= least && told >= least - near * (1.0 + least), "{try_}: {told}, not {least}");
        }
    }
}
