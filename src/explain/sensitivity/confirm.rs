//! Whether a range ends where it is said to end: solved again just inside and just outside.

use super::walk::{End, Point, Walk};

/// How far inside and outside is looked, as a share of the limit's size.
const JUST: f64 = 1e-3;
/// Ranges shorter than this share of the limit's size have no inside.
const SHORT: f64 = 1e-4;
/// How often a bend is looked at more closely.
const ZOOMS: usize = 4;
/// Two slopes are another from this share of them on.
const TURNS: f64 = 1e-2;
/// What scores are known to, as a share of them.
const KNOWN: f64 = 1e-8;
/// A turn has to be so many times what scores are known to.
const NOISE: f64 = 8.0;
/// How far something without an end is followed, in limits' sizes; and down to which share of the limit.
const FAR: (f64, f64) = (5.0, 0.05);

/// What solving again says.
pub enum Confirmed {
    /// It ends there.
    Yes,
    /// It does not hold as far as that.
    No,
    /// The same still decide behind it.
    GoesOn(Box<Point>),
}

/// Whether the same decide all the way to an end, and something else behind it.
pub fn confirm(walk: &Walk, end: End) -> Confirmed {
    let (limit, sign) = (walk.asked.limit, walk.way.sign());
    let Some(end) = end.at else {
        let far = if sign > 0.0 { limit + FAR.0 * walk.size } else { FAR.1 * limit };
        let near = limit + 0.01 * (far - limit);
        let all_along = walk.anywhere(far).is_some_and(|far| holds(walk, near, &far));
        return if all_along { Confirmed::Yes } else { Confirmed::No };
    };
    let length = (end - limit).abs();
    let just = JUST * walk.size;
    let inner = if length <= SHORT * walk.size { 0.0 } else { just.min(0.1 * length) };
    let near = walk.anywhere(if inner > 0.0 { end - sign * inner } else { limit });
    let middle = f64::midpoint(limit, end);
    if inner > 0.0 && !near.as_ref().is_some_and(|near| holds(walk, middle, near)) {
        return Confirmed::No;
    }
    match behind(walk, end, near, inner) {
        Behind::Else => Confirmed::Yes,
        Behind::Same(_) | Behind::Unclear if further(walk, end) => Confirmed::Yes,
        Behind::Same(outer) => Confirmed::GoesOn(outer),
        Behind::Unclear => Confirmed::No,
    }
}

/// What is found just behind an end.
enum Behind {
    /// Something else, or nothing.
    Else,
    /// The same.
    Same(Box<Point>),
    /// Other bounds, and a score that goes on as before: as like as not the same, solved another way.
    Unclear,
}

/// Whether the same decide at a value as at a point, or the score at least goes from one to the other without a bend.
fn holds(walk: &Walk, from: f64, to: &Point) -> bool {
    walk.anywhere(from).is_some_and(|a| a.tight == to.tight || !bends(walk, from, to.at))
}

/// Whether the score has a bend between two values: over even steps the third differences of a smooth curve are small
/// beside its second ones, and a bend makes them as large. What is steep is looked at ever more closely.
fn bends(walk: &Walk, mut from: f64, mut to: f64) -> bool {
    let differences = |of: &[f64]| of.windows(2).map(|w| w[1] - w[0]).collect::<Vec<f64>>();
    let largest = |of: &[f64]| of.iter().fold(0.0_f64, |most, d| most.max(d.abs()));
    for _ in 0..ZOOMS {
        let step = (to - from) / 8.0;
        let scores: Option<Vec<f64>> =
            (0..9).map(|at| walk.anywhere(from + step * f64::from(at)).map(|point| point.score)).collect();
        let Some(scores) = scores else { return true };
        let second = differences(&differences(&scores));
        let third = differences(&second);
        if largest(&third) <= 0.5 * largest(&second) + 1e-7 * largest(&scores).max(1.0) {
            return false;
        }
        let worst = (0..third.len()).max_by(|a, b| third[*a].abs().total_cmp(&third[*b].abs())).unwrap_or(0);
        from += step * worst.min(4) as f64;
        to = from + 4.0 * step;
    }
    true
}

/// What decides behind an end: something else, if the score turns there.
fn behind(walk: &Walk, end: f64, near: Option<Point>, inner: f64) -> Behind {
    let (sign, just) = (walk.way.sign(), JUST * walk.size);
    let Some(outer) = walk.anywhere(end + sign * just) else { return Behind::Else };
    let Some(near) = near else { return Behind::Unclear };
    let slope = |from: &Point, to: f64| Some((walk.anywhere(to)?.score - from.score) / (to - from.at));
    let before = if inner > 0.0 { slope(&near, end - 0.1 * sign * inner) } else { None };
    let after = slope(&outer, end + 0.1 * sign * just);
    let flat = NOISE * KNOWN * near.score.abs().max(1.0) / just;
    let turned = before
        .zip(after)
        .is_some_and(|(before, after)| (after - before).abs() > TURNS * before.abs().max(after.abs()) + flat);
    // Something better that lies far away makes it leap.
    let expected = before.or(after).map_or(0.0, |slope| slope * (outer.at - near.at));
    let leaps = (outer.score - near.score - expected).abs()
        > TURNS * expected.abs() + NOISE * KNOWN * near.score.abs().max(1.0);
    match (turned || leaps, near.tight == outer.tight) {
        (true, _) => Behind::Else,
        (false, true) => Behind::Same(Box::new(outer)),
        // Nothing was there to tell a slope by.
        (false, false) if before.is_none() => Behind::Else,
        (false, false) => Behind::Unclear,
    }
}

/// Whether two specs come to score the same at so small an angle that it shows further off alone.
fn further(walk: &Walk, end: f64) -> bool {
    let sign = walk.way.sign();
    [4.0, 16.0, 64.0].into_iter().any(|times| {
        let by = sign * times * JUST * walk.size;
        if sign * (end - by - walk.asked.limit) <= 0.0 {
            return false;
        }
        let points = [end - by, end - 0.5 * by, end + 0.5 * by, end + by].map(|at| walk.anywhere(at));
        let [Some(a), Some(b), Some(c), Some(d)] = points else { return false };
        let turned = ((d.score - c.score) - (b.score - a.score)).abs() / (0.5 * by).abs();
        let known = KNOWN * a.score.abs().max(d.score.abs()).max(1.0);
        a.tight != d.tight && turned > NOISE * known / by.abs() && turned * JUST * walk.size <= known
    })
}
