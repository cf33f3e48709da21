//! How far the same ingredients and limits decide when one limit moves: found by solving again.
//!
//! What decides is told by the bounds that have a price (the optimal partition), which does not depend
//! on where a solver stopped. Each solved point says by its own linear program where that will end; the
//! next one is put just this side or just beyond, until the end lies between two that are close.

use super::held::{edge, loosens};
use super::question::{Asked, Question};
use crate::brief::Brief;
use crate::solve::face::{Edge, Face, Way};
use crate::solve::standing::Standing;
use crate::tolerance::{SAME_PIECE, UNUSED};

/// How closely an end is found, as a share of the limit's size.
const CLOSE: f64 = 4e-7;
/// The same where no linear program says where to look, so that only halving is left.
const COARSE: f64 = 1e-4;
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

/// The end in one direction. `rate` is the slope that way; nothing where there is no room.
pub fn end(question: &Question, asked: &Asked, face: Option<&mut Face>, way: Way, rate: Option<f64>) -> End {
    let here = End { at: Some(asked.limit), score: Some(question.score) };
    if rate.is_none() {
        return here;
    }
    let told = face.is_some() && !question.aim_moves() && question.row(asked, &question.base).is_some();
    let promised = face.map_or(f64::INFINITY, |face| reach(question, asked, &question.base, face, way));
    if told && promised.is_infinite() && rate == Some(0.0) {
        return End::default();
    }
    let size = size(question, asked);
    let close = if told { CLOSE } else { COARSE } * size;
    let mut walk = Walk { question, asked, way, size, close, left: POINTS };
    let way_there = promised.abs().min(FAR * size);
    let first = (INSIDE.0 * way_there).max(INSIDE.1 * size);
    // What does not settle quite so near may settle a little further on.
    let starts = [first, 10.0 * first, 100.0 * first, INSIDE.0 * size];
    let starts = starts.into_iter().filter(|by| *by <= first.max(INSIDE.0 * size));
    let mut from_here = |by| walk.solve(walk.along(asked.limit, by), &question.base.free.units);
    let Some(inside) = starts.into_iter().find_map(&mut from_here) else {
        return here;
    };
    let (last, endless) = walk.last(inside);
    let end = walk.everywhere(&last);
    // Down to nothing is as far as it goes.
    let endless = endless || (way == Way::Down && last.at <= 2.0 * close);
    if endless && end.at == Some(last.at) { End::default() } else { end }
}

/// Whether a brief has a better free-pour optimum than the question's own.
pub fn better(question: &Question, brief: &Brief) -> bool {
    Question::solved(brief, None).is_some_and(|best| improves(best.free.score, question.score))
}

/// Whether a score is better than a known one by more than what the programs behind them are good to.
pub fn improves(score: f64, known: f64) -> bool {
    score < known - SAME_PIECE * known.abs().max(1.0)
}

/// Where something better comes in that a slack limit keeps out, if anything does.
pub fn behind(question: &Question, asked: &Asked) -> End {
    if !better(question, &question.at(asked, None)) {
        return End::default();
    }
    let close = CLOSE * size(question, asked);
    let far = match loosens(asked.side) {
        Way::Down => 0.0,
        Way::Up => asked.limit + FAR * size(question, asked),
    };
    let (mut inside, mut outside) = (asked.limit, far);
    while (outside - inside).abs() > close {
        let at = f64::midpoint(inside, outside);
        let slot = if better(question, &question.at(asked, Some(at))) { &mut outside } else { &mut inside };
        *slot = at;
    }
    End { at: Some(inside), score: Some(question.score) }
}

/// How far the limit's value goes until a program's own prices end.
fn reach(question: &Question, asked: &Asked, standing: &Standing, face: &mut Face, way: Way) -> f64 {
    let endless = way.sign() * f64::INFINITY;
    if question.aim_moves() {
        return endless;
    }
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

/// Something that decides, told so that it is the same thing in every program of the question.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Mark {
    /// A limit or proportion.
    Limit(Edge),
    /// A column at its least or most.
    Column(usize, Way),
    /// A column whose score bends at a given amount, at that amount.
    Bend(usize),
    /// The same, poured beyond that amount.
    Beyond(usize),
}

/// What the bounds of a program stand for. A column that bends is made of two variables, and the bounds
/// between them say on which side of the bend it is.
fn marks(standing: &Standing, edges: &[Edge]) -> Vec<Mark> {
    let rows = edges.iter().filter(|e| matches!(e, Edge::RowMin(_) | Edge::RowMax(_) | Edge::RowBoth(_)));
    let mut marks: Vec<Mark> = rows.map(|e| Mark::Limit(*e)).collect();
    for (column, range) in standing.program.of_column.iter().enumerate() {
        let (first, last) = (range.start, range.end.saturating_sub(1));
        marks.extend(edges.contains(&Edge::Min(first)).then_some(Mark::Column(column, Way::Down)));
        marks.extend(edges.contains(&Edge::Max(last)).then_some(Mark::Column(column, Way::Up)));
        if first < last {
            let over = standing.point.get(last).is_some_and(|amount| *amount > UNUSED);
            let at = edges.contains(&Edge::Max(first)) && edges.contains(&Edge::Min(last));
            marks.extend(over.then_some(Mark::Beyond(column)));
            marks.extend((at && !over).then_some(Mark::Bend(column)));
        }
    }
    marks
}

/// A solved point.
struct Point {
    at: f64,
    score: f64,
    units: Vec<f64>,
    /// The bounds that have a price; `None` where the point lies on a bend and is not known well enough.
    deciding: Option<Vec<Mark>>,
    tight: Vec<Mark>,
    /// Where its own linear program ends, towards the limit and away from it.
    back: f64,
    on: f64,
}

impl Point {
    /// Whether the same ingredients and limits decide.
    fn same(&self, other: &Self) -> bool {
        match (&self.deciding, &other.deciding) {
            (Some(own), Some(others)) => own == others,
            _ => self.tight == other.tight,
        }
    }
}

struct Walk<'q> {
    question: &'q Question<'q>,
    asked: &'q Asked,
    way: Way,
    size: f64,
    close: f64,
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
        let standing = self.question.solved_at(self.asked, at, Some(near));
        let standing = standing?;
        let (on, back) = (self.way, self.way.opposite());
        let mut face = standing.sharp_face();
        let deciding = face.as_mut().map(|face| marks(&standing, &face.deciding()));
        let mut to = |way: Way| {
            let endless = way.sign() * f64::INFINITY;
            at + face.as_mut().map_or(endless, |f| reach(self.question, self.asked, &standing, f, way))
        };
        let (on, back) = (to(on), to(back));
        let tight = marks(&standing, &standing.tight());
        Some(Point { at, score: standing.free.score, units: standing.free.units, deciding, tight, back, on })
    }

    /// The last point inside, from one that is, and whether it is not an end but as far as was looked.
    fn last(&mut self, mut inside: Point) -> (Point, bool) {
        let close = self.close;
        let mut outside: Option<f64> = None;
        let mut guess = inside.on;
        let mut side = -1.0;
        while self.left > 0 {
            if outside.is_some_and(|out| self.beyond(out, inside.at) <= close) {
                break;
            }
            let Some(at) = self.next(inside.at, outside, guess, side * 0.4 * close) else {
                return (inside, true);
            };
            match self.solve(at, &inside.units) {
                Some(point) if point.same(&inside) => {
                    (guess, side) = (point.on, 1.0);
                    inside = point;
                }
                found => {
                    (guess, side) = (found.map_or(inside.on, |point| point.back), -1.0);
                    outside = Some(at);
                }
            }
        }
        (inside, false)
    }

    /// The next point: beside the guess, or in the middle where the guess is of no use. `None`: there is
    /// no end.
    fn next(&self, inside: f64, outside: Option<f64>, guess: f64, beside: f64) -> Option<f64> {
        let farthest = self.along(self.asked.limit, FAR * self.size);
        // Below nothing there is nothing.
        let farthest = farthest.max(0.0);
        let at = self.along(guess, beside);
        let at = if self.beyond(at, farthest) > 0.0 { farthest } else { at };
        match outside {
            Some(out) => {
                let between = self.beyond(at, inside) > 0.0 && self.beyond(out, at) > 0.0;
                Some(if between { at } else { f64::midpoint(inside, out) })
            }
            None if self.beyond(farthest, inside) <= self.close => None,
            None if self.beyond(at, inside) > 0.0 => Some(at),
            None => {
                let step = self.along(inside, 0.01 * self.size);
                Some(if self.beyond(step, farthest) > 0.0 { farthest } else { step })
            }
        }
    }

    /// The walk keeps near where it was; elsewhere something better may have come up on the way. The end
    /// is then where that overtakes.
    fn everywhere(&mut self, last: &Point) -> End {
        let (question, asked) = (self.question, self.asked);
        let better = |at: f64, score: f64| {
            let best = question.solved_at(asked, at, None);
            best.is_some_and(|best| improves(best.free.score, score))
        };
        if !better(last.at, last.score) {
            return End { at: Some(last.at), score: Some(last.score) };
        }
        let (mut inside, mut outside) = (asked.limit, last.at);
        let mut end = End { at: Some(inside), score: Some(question.score) };
        while self.beyond(outside, inside) > self.close {
            let at = f64::midpoint(inside, outside);
            match self.solve(at, &last.units) {
                Some(here) if here.same(last) && !better(at, here.score) => {
                    inside = at;
                    end = End { at: Some(at), score: Some(here.score) };
                }
                _ => outside = at,
            }
        }
        end
    }
}
