//! One limit moved one way: what solving again finds at its values, and how far each solution's own program goes.

use super::asked::{Asked, bound};
use super::marks::{Mark, marks};
use super::question::Question;
use crate::free::standing::Standing;
use crate::lp::bound::{Bound, Way};
use crate::lp::dual_face::DualFace;

/// How many points an end may take.
pub const POINTS: usize = 40;

/// Where a range ends, and the score there (lower is better); nothing where it does not.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct End {
    /// The limit's value.
    pub at: Option<f64>,
    /// The score, solved again.
    pub score: Option<f64>,
}

/// The size of a limit: its own, or that of what it bounds.
pub fn size(question: &Question, asked: &Asked) -> f64 {
    let value = question.value(asked, &question.base.free).abs();
    match asked.limit.abs() {
        limit if limit > 0.0 => limit,
        _ if value > 0.0 && value.is_finite() => value,
        _ => 1.0,
    }
}

/// How far the limit's value goes until a program's own prices end.
pub fn ranging(
    question: &Question,
    asked: &Asked,
    standing: &Standing,
    face: &mut DualFace,
    way: Way,
) -> f64 {
    let Some((origin, times)) = question.row(asked, standing) else {
        return way.sign() * f64::INFINITY;
    };
    let bound = bound(asked, origin);
    let now = standing.linear.value_of(bound);
    face.ranging(bound, way).map_or(0.0, |ranging| (ranging.to - now) / times)
}

/// The slope of the score per unit of the limit's value, by a program's own prices.
fn slope(
    question: &Question,
    asked: &Asked,
    standing: &Standing,
    face: &mut DualFace,
    way: Way,
) -> Option<f64> {
    let (origin, times) = question.row(asked, standing)?;
    face.rate(bound(asked, origin), way).map(|rate| rate * times)
}

/// A solved point.
pub(super) struct Point {
    pub at: f64,
    pub score: f64,
    pub units: Vec<f64>,
    /// The bounds that have a price; `None` where the point lies on a bend and is not known well enough.
    deciding: Option<Vec<Mark>>,
    /// The same bounds as they stand in its program.
    pub bounds: Option<Vec<Bound>>,
    pub tight: Vec<Mark>,
    /// Where its own linear program ends, towards the limit and away from it.
    pub back: f64,
    pub on: f64,
    /// The slope of the score, in the direction of the walk.
    pub slope: Option<f64>,
}

impl Point {
    /// Whether the same ingredients and limits decide.
    pub fn same(&self, other: &Self) -> bool {
        match (&self.deciding, &other.deciding) {
            (Some(own), Some(others)) => own == others,
            _ => self.tight == other.tight,
        }
    }
}

pub(super) struct Walk<'q> {
    pub question: &'q Question<'q>,
    pub asked: &'q Asked,
    pub way: Way,
    pub size: f64,
    pub close: f64,
    pub left: usize,
}

impl<'q> Walk<'q> {
    pub fn new(question: &'q Question, asked: &'q Asked, way: Way, close: f64) -> Self {
        let size = size(question, asked);
        Self { question, asked, way, size, close: close * size, left: POINTS }
    }

    pub fn along(&self, from: f64, by: f64) -> f64 {
        from + self.way.sign() * by
    }

    /// How far `to` lies beyond `from`.
    pub fn beyond(&self, to: f64, from: f64) -> f64 {
        self.way.sign() * (to - from)
    }

    /// The best there is at a value, looked for near a known one and everywhere.
    pub fn anywhere(&self, at: f64) -> Option<Point> {
        self.solved(at, None)
    }

    pub fn solve(&mut self, at: f64, near: &[f64]) -> Option<Point> {
        self.left = self.left.saturating_sub(1);
        self.solved(at, Some(near))
    }

    fn solved(&self, at: f64, near: Option<&[f64]>) -> Option<Point> {
        let from = |near| self.question.solved_at(self.asked, at, near);
        // Where the optimum lies on a bend, steps from nearby may miss it.
        let standing = near.and_then(|near| from(Some(near))).or_else(|| from(None))?;
        let (on, back) = (self.way, self.way.opposite());
        let mut face = standing.sharp_face();
        let bounds = face.as_mut().map(DualFace::deciding);
        let deciding = bounds.as_ref().map(|bounds| marks(&standing, bounds));
        let slope = face.as_mut().and_then(|face| slope(self.question, self.asked, &standing, face, on));
        let mut to = |way: Way| {
            let endless = way.sign() * f64::INFINITY;
            at + face.as_mut().map_or(endless, |f| ranging(self.question, self.asked, &standing, f, way))
        };
        let (on, back) = (to(on), to(back));
        let tight = marks(&standing, &standing.tight());
        let (score, units) = (standing.free.score, standing.free.units);
        Some(Point { at, score, units, deciding, bounds, tight, back, on, slope })
    }
}
