//! Sums of whole amounts, which are whole themselves.
//!
//! A shelf is full of near-equals: where the relaxation wants 18.4 steps of spirit it takes them from one
//! bottle, and when that is cut to 18 it takes the rest from the next, at next to no cost. Only the sum
//! tells: all steps in the glass together, and those of a role, are whole numbers, and to cut a sum
//! in two cuts every way of making it up. (Branching on a sum of variables: Ryan and Foster, 1981; in
//! general a split on an integer direction, Cook, Kannan and Schrijver, *Mathematical Programming* 47,
//! 1990.)

use crate::brief::Role;
use crate::lp::simplex::Simplex;
use crate::model::{Model, Program, Segment};
use crate::tolerance::{BROKEN, WHOLE};

/// A score whose figures are larger than this, in the least of them, comes in steps too fine to help.
const LARGEST: f64 = 100.0;
/// What a bend lacks of a whole amount counts as often as its figures are large: it may add up to what is
/// no break of a bound, and to no more, or a spec at the bound would be cut off.
const NO_BEND: f64 = BROKEN / LARGEST;

/// A sum of amounts that are counted in steps of the same size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sum {
    /// The tableau's variable for it.
    pub variable: usize,
    /// Least, in steps.
    pub low: f64,
    /// Most, in steps.
    pub high: f64,
}

/// Puts the sums of a model into a tableau as rows that bound nothing yet.
pub fn add(model: &Model, program: &Program, simplex: &mut Simplex) -> Vec<Sum> {
    let count = |members: Vec<usize>| {
        let mut figures = vec![0.0; program.width()];
        members.iter().flat_map(|c| program.of_column[*c].clone()).for_each(|at| figures[at] = 1.0);
        figures
    };
    let sum = |figures: Vec<f64>| {
        let ends = figures.iter().zip(&program.segments).map(|(f, s)| f * s.length);
        let (low, high) = ends.fold((0.0, 0.0), |(low, high), end| (low + end.min(0.0), high + end.max(0.0)));
        // Beyond what can be reached, so that nothing is bounded yet.
        Sum { variable: simplex.add_sum(&figures, (low - 1.0, high + 1.0)), low, high }
    };
    members(model).into_iter().map(count).chain(score(model, program)).map(sum).collect()
}

/// The score as a sum, where it comes in whole steps too, as the distance from a reference does: then
/// what is nearer than the next step is nothing nearer.
fn score(model: &Model, program: &Program) -> Option<Vec<f64>> {
    let lines = &program.lines;
    let counted = |s: &Segment| model.columns[s.column].whole && is_whole(s.start, NO_BEND);
    let step = lines.value.iter().map(|v| v.abs()).filter(|v| *v > 0.0).fold(f64::INFINITY, f64::min);
    let figures: Vec<f64> = lines.value.iter().map(|v| v / step).collect();
    let whole = program.extras.is_empty()
        && lines.over.is_none()
        && program.segments.iter().all(counted)
        && figures.iter().all(|f| is_whole(*f, WHOLE) && f.abs() <= LARGEST);
    whole.then(|| figures.iter().map(|f| f.round()).collect())
}

fn is_whole(value: f64, within: f64) -> bool {
    (value - value.round()).abs() <= within
}

/// Who is summed up: everything of one step, and everything of one step and one role, where that is not
/// the same; single ones are not.
fn members(model: &Model) -> Vec<Vec<usize>> {
    let mut sums: Vec<(f64, Option<Role>, Vec<usize>)> = vec![];
    for (at, column) in model.columns.iter().enumerate().filter(|(_, c)| c.whole) {
        for role in [None, Some(model.candidate(at).role)] {
            match sums.iter_mut().find(|(unit, of, _)| *unit == column.unit && *of == role) {
                Some((.., members)) => members.push(at),
                None => sums.push((column.unit, role, vec![at])),
            }
        }
    }
    let mut several: Vec<Vec<usize>> = vec![];
    for (.., members) in sums {
        if members.len() > 1 && !several.contains(&members) {
            several.push(members);
        }
    }
    several
}
