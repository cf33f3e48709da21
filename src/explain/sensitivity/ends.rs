//! How far the same ingredients and limits decide when one limit moves: found by solving again.
//!
//! What decides is told by the bounds that have a price (the optimal partition), which does not depend
//! on where a solver stopped. Each solved point says by its own linear program where that will end; the
//! next one is put just this side or just beyond, until the end lies between two that are close.

use super::asked::{Asked, loosens};
use super::confirm::{Confirmed, confirm};
use super::marks::marks;
use super::question::Question;
use super::walk::{End, POINTS, Point, Walk, ranging, size};
use crate::brief::Brief;
use crate::free::Free;
use crate::lp::bound::Way;
use crate::lp::dual_face::DualFace;

/// How closely an end is found, as a share of the limit's size.
const CLOSE: f64 = 4e-7;
/// The same where no linear program says where to look, so that only halving is left.
const COARSE: f64 = 1e-4;
/// How far inside the first point lies, as a share of the way that its linear program promises; and at
/// the least, as a share of the limit's size.
const INSIDE: (f64, f64) = (1e-3, 2e-6);
/// How far away something endless is looked for, in limits' sizes.
const FAR: f64 = 10.0;
/// How often something else that is better may turn up on the way to an end.
const OTHERS: usize = 6;
/// How often a range that goes on behind its end is followed on.
const RESUMED: usize = 3;
/// From this share of the score on two specs differ at all.
const DIFFERS: f64 = 1e-12;

/// How a range was followed: its end, and the slope of the score where it was first looked at.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Followed {
    /// Where it ends; nothing where that is not certain.
    pub end: End,
    /// Whether that could not be confirmed by solving just inside of it and just outside.
    pub unsure: bool,
    /// The slope there; nothing where no linear program says it.
    pub slope: Option<f64>,
}

/// The end in one direction. `rate` is the slope that way; nothing where there is no room.
pub fn end(
    question: &Question,
    asked: &Asked,
    face: Option<&mut DualFace>,
    way: Way,
    rate: Option<f64>,
) -> Followed {
    let here = End { at: Some(asked.limit), score: Some(question.score) };
    let here = Followed { end: here, ..Followed::default() };
    if rate.is_none() {
        return here;
    }
    let told = face.is_some() && question.row(asked, &question.base).is_some();
    let promised = face.map_or(f64::INFINITY, |face| ranging(question, asked, &question.base, face, way));
    if told && promised.is_infinite() && rate == Some(0.0) {
        return Followed::default();
    }
    let size = size(question, asked);
    let mut walk = Walk::new(question, asked, way, if told { CLOSE } else { COARSE });
    let way_there = promised.abs().min(FAR * size);
    let first = (INSIDE.0 * way_there).max(INSIDE.1 * size);
    // What does not settle quite so near may settle a little further on.
    let starts = [first, 10.0 * first, 100.0 * first, INSIDE.0 * size];
    let starts = starts.into_iter().filter(|by| *by <= first.max(INSIDE.0 * size));
    let mut from_here = |by| walk.solve(walk.along(asked.limit, by), &question.base.free.units);
    let Some(inside) = starts.into_iter().find_map(&mut from_here) else {
        return Followed { unsure: true, ..Followed::default() };
    };
    let slope = inside.slope;
    match walk.out_to_the_end(inside) {
        Some(end) => Followed { end, unsure: false, slope },
        None => Followed { end: End::default(), unsure: true, slope },
    }
}

/// Whether a brief has a better free-pour optimum than the question's own.
pub fn better(question: &Question, brief: &Brief) -> bool {
    Question::solved(brief, None).is_some_and(|best| question.improves(best.free.score, question.score))
}

/// Where something better comes in that a slack limit keeps out, if anything does.
pub fn behind(question: &Question, asked: &Asked) -> Followed {
    let base = &question.base.free.units;
    let mut walk = Walk::new(question, asked, loosens(asked.side), CLOSE);
    let far = walk.along(asked.limit, FAR * walk.size).max(0.0);
    let mut other = question.beaten(asked, None, base);
    let mut end = End::default();
    for _ in 0..OTHERS {
        let Some(better) = other else { break };
        // It is there as soon as the limit lets its own value in.
        let own = Some(question.value(asked, &better)).filter(|value| value.is_finite());
        let out = own.filter(|value| walk.beyond(*value, asked.limit) > 0.0).unwrap_or(far);
        if question.beaten(asked, Some(out), base).is_none() {
            break;
        }
        // Found from there, the spec itself may come out a hair better than it was known.
        let again = question.solved_at(asked, asked.limit, Some(&better.units)).map(|again| again.free.score);
        let own = again.map_or(question.score, |again| again.min(question.score));
        let (at, _) = walk.crossing(out, &better.units, &mut |_, _| Some(own));
        end = End { at: Some(at), score: Some(question.score) };
        other = question.beaten(asked, Some(at), base);
    }
    let unsure = end.at.is_some() && !matches!(confirm(&walk, end), Confirmed::Yes);
    Followed { end: if unsure { End::default() } else { end }, unsure, slope: None }
}

/// What a walk's own spec is at a value: its score and the units of every column.
struct Own {
    score: f64,
    units: Vec<f64>,
}

impl Walk<'_> {
    /// The end, confirmed; where something goes on as before behind it, it is followed on. Nothing where that does
    /// not come to an end.
    fn out_to_the_end(&mut self, mut inside: Point) -> Option<End> {
        for _ in 0..RESUMED {
            self.left = POINTS;
            let (last, endless) = self.last(inside);
            let end = self.everywhere(&last);
            // Down to nothing is as far as it goes.
            let endless = endless || (self.way == Way::Down && last.at <= 2.0 * self.close);
            let end = if endless && end.at == Some(last.at) { End::default() } else { end };
            match confirm(self, end) {
                Confirmed::Yes => return Some(end),
                Confirmed::No => return None,
                Confirmed::GoesOn(further) => inside = *further,
            }
        }
        None
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
        let (mut at, mut score) = (last.at, last.score);
        for part in [1.0, 0.5] {
            for _ in 0..OTHERS {
                let here = asked.limit + part * (at - asked.limit);
                let own = if here == last.at {
                    Some(last.units.clone())
                } else {
                    self.own(last, here).map(|own| own.units)
                };
                let other = own.and_then(|own| question.beaten(asked, Some(here), &own));
                let other = other.filter(|other| !self.is_own(last, here, other));
                let Some(other) = other.map(|other| other.units) else { break };
                let (to, own) =
                    self.crossing(here, &other, &mut |walk, at| walk.own(last, at).map(|own| own.score));
                if own.is_none() && self.leads_here(&other) {
                    // Better even at the limit itself, where nothing is: both make other use of margins.
                    break;
                }
                (at, score) = (to, own.unwrap_or(question.score));
            }
        }
        End { at: Some(at), score: Some(score) }
    }

    /// Whether another spec is ahead of the question's own at the limit itself.
    fn leads_here(&self, other: &[f64]) -> bool {
        let here = self.question.solved_at(self.asked, self.asked.limit, Some(other));
        here.is_some_and(|here| self.question.leads(here.free.score, self.question.score) > 0.0)
    }

    /// Whether what beats the walk's own spec is of its kind, only known better: where the optimum lies on a
    /// bend, short steps may end a little off it.
    fn is_own(&self, last: &Point, at: f64, other: &Free) -> bool {
        let tight = || {
            let standing = self.question.standing(self.asked, at, other.clone());
            marks(&standing, &standing.tight())
        };
        last.bounds.is_none() && tight() == last.tight
    }

    /// The walk's own spec at a value, whether or not it is the best there.
    fn own(&mut self, last: &Point, at: f64) -> Option<Own> {
        if let Some(bounds) = &last.bounds {
            let own = self.question.along(self.asked, at, &last.units, bounds)?;
            return Some(Own { score: own.score, units: own.units });
        }
        let same = self.solve(at, &last.units).filter(|point| point.same(last))?;
        Some(Own { score: same.score, units: same.units })
    }

    /// How far from the limit on the way to `out` another spec, which is better there, does not overtake;
    /// and the own score there.
    fn crossing(
        &mut self,
        out: f64,
        other: &[f64],
        own: &mut dyn FnMut(&mut Self, f64) -> Option<f64>,
    ) -> (f64, Option<f64>) {
        let (mut inside, mut outside) = (self.asked.limit, out);
        let mut ahead: (Option<f64>, Option<f64>) = (None, None);
        let mut score = None;
        for round in 0..POINTS {
            if self.beyond(outside, inside) <= 0.5 * self.close {
                break;
            }
            let straight = match ahead {
                // Two straight lines cross here; every second step halves what is left.
                (Some(low), Some(high)) if round % 2 == 1 && high > low => -low / (high - low),
                _ => 0.5,
            };
            let at = inside + straight.clamp(0.01, 0.99) * (outside - inside);
            let there = self.question.solved_at(self.asked, at, Some(other));
            match (own(self, at), there.map(|there| there.free.score)) {
                (None, _) => (outside, ahead.1) = (at, None),
                (Some(own), Some(other)) if self.question.leads(other, own) > DIFFERS * own.abs() => {
                    (outside, ahead.1) = (at, Some(self.question.leads(other, own)));
                }
                (Some(own), other) => {
                    (inside, ahead.0) = (at, other.map(|other| self.question.leads(other, own)));
                    score = Some(own);
                }
            }
        }
        (inside, score)
    }
}
