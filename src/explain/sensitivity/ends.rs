//! How far the same ingredients and limits decide when one limit moves: found by solving again.
//!
//! What decides is told by the bounds that have a price (the optimal partition), which does not depend
//! on where a solver stopped. Each solved point says by its own linear program where that will end; the
//! next one is put just this side or just beyond, until the end lies between two that are close.

use super::held::edge;
use super::question::{Asked, Question};
use crate::solve::face::{Edge, Face, Way};
use crate::solve::standing::Standing;

/// How closely an end is found, as a share of the limit's size.
const CLOSE: f64 = 2e-7;
/// How far inside the first point lies, as a share of the way that its linear program promises; and at
/// the least, as a share of the limit's size.
const INSIDE: (f64, f64) = (1e-3, 2e-6);
/// How far away something endless is looked for, in limits' sizes.
const FAR: f64 = 10.0;
/// How many points an end may take.
const POINTS: usize = 40;

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
    let value = question.value(asked, &question.base).abs();
    match asked.limit.abs() {
        limit if limit > 0.0 => limit,
        _ if value > 0.0 && value.is_finite() => value,
        _ => 1.0,
    }
}

/// A solved point.
struct Point {
    at: f64,
    score: f64,
    units: Vec<f64>,
    deciding: Vec<Edge>,
    /// Where its own linear program ends, towards the limit and away from it.
    back: f64,
    on: f64,
}

/// The end in one direction. `rate` is the slope that way; nothing where there is no room.
pub fn end(question: &Question, asked: &Asked, face: &mut Face, way: Way, rate: Option<f64>) -> End {
    let here = End { at: Some(asked.limit), score: Some(question.score) };
    if rate.is_none() {
        return here;
    }
    let promised = reach(question, asked, &question.base, face, way);
    if promised.is_infinite() && rate == Some(0.0) {
        return End::default();
    }
    let mut walk = Walk { question, asked, way, size: size(question, asked), left: POINTS };
    let way_there = promised.abs().min(FAR * walk.size);
    let first = (INSIDE.0 * way_there).max(INSIDE.1 * walk.size);
    match walk.solve(walk.along(asked.limit, first), &question.base.free.units) {
        Some(inside) => walk.end(inside),
        None => here,
    }
}

/// How far the limit's value goes until a program's own prices end.
fn reach(question: &Question, asked: &Asked, standing: &Standing, face: &mut Face, way: Way) -> f64 {
    let endless = way.sign() * f64::INFINITY;
    let Some((origin, times)) = question.row(asked, standing) else { return endless };
    let edge = edge(asked, origin);
    let now = match edge {
        Edge::RowMin(i) | Edge::RowBoth(i) => standing.linear.rows[i].1,
        Edge::RowMax(i) => standing.linear.rows[i].2,
        Edge::Min(j) | Edge::Both(j) => standing.linear.bounds[j].0,
        Edge::Max(j) => standing.linear.bounds[j].1,
    };
    face.reach(edge, way).map_or(0.0, |reach| (reach.to - now) / times)
}

struct Walk<'q> {
    question: &'q Question<'q>,
    asked: &'q Asked,
    way: Way,
    size: f64,
    left: usize,
}

impl Walk<'_> {
    fn along(&self, from: f64, by: f64) -> f64 {
        from + self.way.sign() * by
    }

    /// How far `to` lies beyond `from`.
    fn beyond(&self, to: f64, from: f64) -> f64 {
        self.way.sign() * (to - from)
    }

    fn solve(&mut self, at: f64, near: &[f64]) -> Option<Point> {
        self.left = self.left.saturating_sub(1);
        let standing = self.question.solved_at(self.asked, at, Some(near))?;
        let mut face = standing.face()?;
        let deciding = face.deciding();
        let (on, back) = (self.way, if self.way == Way::Up { Way::Down } else { Way::Up });
        let mut to = |way| at + reach(self.question, self.asked, &standing, &mut face, way);
        let (on, back) = (to(on), to(back));
        Some(Point { at, score: standing.free.score, units: standing.free.units, deciding, back, on })
    }

    /// Narrows the end down from a point inside.
    fn end(&mut self, mut inside: Point) -> End {
        let close = CLOSE * self.size;
        let deciding = inside.deciding.clone();
        let mut outside: Option<f64> = None;
        let mut guess = self.far(inside.on);
        let mut side = -1.0;
        while self.left > 0 {
            if outside.is_some_and(|out| self.beyond(out, inside.at) <= close) {
                break;
            }
            let at = self.next(&inside, outside, guess, side * 0.4 * close);
            let Some(at) = at else { return End::default() };
            match self.solve(at, &inside.units) {
                Some(point) if point.deciding == deciding => {
                    guess = self.far(point.on);
                    inside = point;
                    side = 1.0;
                }
                Some(point) => {
                    guess = point.back;
                    outside = Some(at);
                    side = -1.0;
                }
                None => {
                    guess = self.far(inside.on);
                    outside = Some(at);
                    side = -1.0;
                }
            }
        }
        End { at: Some(inside.at), score: Some(inside.score) }
    }

    /// Nothing is looked for farther away than this.
    fn far(&self, guess: f64) -> f64 {
        let farthest = self.along(self.asked.limit, FAR * self.size);
        if self.beyond(guess, farthest) > 0.0 { farthest } else { guess }
    }

    /// The next point: beside the guess, or in the middle where the guess is of no use. `None`: there is
    /// no end.
    fn next(&self, inside: &Point, outside: Option<f64>, guess: f64, beside: f64) -> Option<f64> {
        let floor = |at: f64| at.max(0.0);
        let at = floor(self.along(guess, beside));
        match outside {
            Some(out) => {
                let between = self.beyond(at, inside.at) > 0.0 && self.beyond(out, at) > 0.0;
                Some(if between { at } else { f64::midpoint(inside.at, out) })
            }
            None => {
                let forward = self.beyond(at, inside.at) > 0.0;
                // Below nothing there is nothing.
                let ended = inside.at <= 0.0 && self.way == Way::Down;
                let farthest = self.beyond(inside.at, self.along(self.asked.limit, FAR * self.size)) >= 0.0;
                if ended || farthest {
                    return None;
                }
                Some(if forward { at } else { floor(self.along(inside.at, 0.01 * self.size)) })
            }
        }
    }
}
