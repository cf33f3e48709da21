//! The best of all free pours, and not of those nearby alone.
//!
//! Volume and melt bend with three figures: the strength before the ice, and the mass fractions of spirit
//! and of syrup in the glass. While these are fixed, everything is linear; over a box of them the lines
//! above and below ([`Envelope`]) make a program whose optimum no spec of the box beats. So boxes are
//! halved, and left out once their program says that nothing in them is better than what is known; the
//! gap between the lines shrinks with the square of a box (branch and bound over the figures that bend:
//! Falk, Soland, *Management Science* 15, 1969).

use super::bends::{bends, halves};
use super::closed::Closed;
use super::short;
use super::{Free, Point, bounds, fixed_rounds};
use crate::brief::Side;
use crate::liquid::ethanol;
use crate::lp::linear::LinearRow;
use crate::lp::simplex::{Ended, Simplex};
use crate::model::presolve::drawn_as_far;
use crate::model::{Basis, Envelope, Heat, Model, Objective, Program, Ranges, Soft};
use crate::tolerance::MET;

/// No more boxes than this are looked at.
const BOXES: usize = 400;
/// How often steps are held short where repetition finds nothing.
const SHORT: usize = 6;
/// From so many boxes at first it is always walked on, where nothing is known that may be the best already.
const EARLY: usize = 3;
/// Before so many boxes narrow ones are not walked on from, nor steps held short where something is known.
const LATE: usize = 32;
/// From boxes whose lines are this near to each other, as a share of the volume, steps are held short.
const NARROW: f64 = 1e-5;
/// Better by less than this share of the score is not better; and under this size of a score, of that.
const GAP: f64 = 1e-8;
const LEAST: f64 = 1e-2;
/// Of a ratio whole stretches of drinks are as good as the best, each in boxes of its own: after [`LATE`] of them one that
/// promises no more than this share better is not looked into, and nothing is then proved.
const FINE: f64 = 1e-6;
/// Lines so near to each other that nothing is left to be found between them.
const NOTHING: f64 = 1e-12;

/// What has been found, and how far it is proved.
#[derive(Debug, Clone)]
pub struct Everywhere {
    /// The best of all that was found.
    pub best: Option<Free>,
    /// How many boxes were looked at.
    pub boxes: usize,
    /// Whether nothing better can be anywhere.
    pub proved: bool,
}

/// Which compositions a freed model allows; `None` where it allows none.
pub fn allowed(freed: &Model, objective: &Objective) -> Option<Ranges> {
    let drawn = drawn_as_far(freed, objective, Ranges::of(&freed.typical))?;
    Some(Ranges { heat: Heat::Open, ..drawn })
}

/// Looks everywhere within given compositions of a freed model; `known` is a point that meets the brief.
pub fn look(model: &Model, objective: &Objective, within: Ranges, known: Option<Free>) -> Everywhere {
    look_into(model, objective, (boxes(model, within), known), None)
}

/// The boxes to start from.
pub(super) fn boxes(model: &Model, within: Ranges) -> Vec<(f64, Ranges)> {
    model.heats().into_iter().map(|heat| (f64::NEG_INFINITY, Ranges { heat, ..within })).collect()
}

/// Looks into boxes, each with what is promised of it; what is left out, and why, is put on record where that is asked.
pub(super) fn look_into(
    model: &Model,
    objective: &Objective,
    (open, known): (Vec<(f64, Ranges)>, Option<Free>),
    closed: Option<&mut Vec<Closed>>,
) -> Everywhere {
    let bounds = &bounds(model);
    let mut proved = true;
    let whole = Ranges::of(&model.typical);
    let early = if known.is_some() { 0 } else { EARLY };
    let mut search = Look {
        model,
        objective,
        bounds,
        whole,
        best: known,
        from: From::Known,
        short: SHORT,
        early,
        boxes: 0,
        passed: 0,
        open,
        closed,
    };
    while !search.at_floor()
        && let Some(ranges) = search.next()
    {
        search.boxes += 1;
        if search.boxes > BOXES {
            proved = false;
            break;
        }
        proved &= search.look(ranges);
    }
    if let Some(closed) = search.closed.as_mut() {
        closed.extend(search.open.iter().map(|(_, ranges)| Closed::open(*ranges)));
    }
    search.settle();
    Everywhere { best: search.best, boxes: search.boxes, proved: proved && search.passed == 0 }
}

struct Look<'a> {
    model: &'a Model<'a>,
    objective: &'a Objective,
    bounds: &'a [(f64, f64)],
    whole: Ranges,
    best: Option<Free>,
    /// Where it comes from.
    from: From,
    short: usize,
    /// From so many boxes at first it is always walked on.
    early: usize,
    /// How many boxes have been looked at.
    boxes: usize,
    /// How many were left out that promise next to nothing.
    passed: usize,
    /// Boxes, each with what the one around it has promised.
    open: Vec<(f64, Ranges)>,
    /// What was left out, where that is put on record.
    closed: Option<&'a mut Vec<Closed>>,
}

/// Where the best that is known comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum From {
    /// Known before.
    Known,
    /// The point of a box's program.
    Box,
    /// Walked to from a box until it stayed.
    Walk,
}

/// What the program of a box says.
struct Promise {
    score: f64,
    /// Whether nothing in the box scores better; else only a guide.
    sure: bool,
    units: Vec<f64>,
    /// What costs make of it, where that is put on record.
    closed: Option<Closed>,
}

impl Look<'_> {
    /// The most promising box.
    fn next(&mut self) -> Option<Ranges> {
        let promised = |at: &usize| self.open[*at].0;
        let at = (0..self.open.len()).min_by(|a, b| promised(a).total_cmp(&promised(b)))?;
        Some(self.open.swap_remove(at).1)
    }

    /// Whether what is known is as good as the aim's own limits let anything be.
    fn at_floor(&self) -> bool {
        self.target().is_some_and(|target| target <= floor(self.model, self.objective))
    }

    /// What a score has to reach to be better than what is known.
    fn target(&self) -> Option<f64> {
        self.best.as_ref().map(|best| better_than(best.score))
    }

    /// Looks into a box, and halves it if it may hold something better. False where it is given up.
    fn look(&mut self, ranges: Ranges) -> bool {
        let Some(promise) = self.promise(&ranges, MET) else { return true };
        let point = Point::new(self.model, self.objective, promise.units.clone());
        let (gaps, inside) = bends(self.model, &ranges, &point.free);
        let widest = gaps.iter().copied().fold(0.0, f64::max);
        // Most often all boxes can soon be left out, and walking on is in vain.
        let now_and_then = self.boxes <= self.early || self.boxes > EARLY && self.boxes.is_power_of_two();
        let stubborn = self.boxes >= LATE && (now_and_then || widest <= NARROW);
        let betters = point.meets && self.betters(&point.free);
        if self.best.is_none() || now_and_then || stubborn || betters {
            self.try_from(&promise.units, stubborn);
        }
        if betters && self.target().is_none_or(|target| point.free.score < target) {
            // What it owes to the margins of limits is given back where that can be.
            let exact =
                self.promise(&ranges, 0.0).map(|exact| Point::new(self.model, self.objective, exact.units));
            let found = exact.filter(|exact| exact.meets && self.betters(&exact.free)).unwrap_or(point);
            (self.best, self.from) = (Some(found.free), From::Box);
        }
        if promise.sure && self.target().is_some_and(|target| promise.score > target) {
            self.record(promise.closed);
            return true;
        }
        if widest <= NOTHING {
            return false;
        }
        let at = gaps.iter().position(|gap| *gap == widest).unwrap_or(0);
        let (low, high) = halves(&ranges, at, inside[at]);
        self.open.extend([(promise.score, low), (promise.score, high)]);
        true
    }

    fn record(&mut self, left_out: Option<Closed>) {
        if let Some(closed) = self.closed.as_mut() {
            closed.extend(left_out);
        }
    }

    /// Walks on from what a box's program has found.
    fn try_from(&mut self, units: &[f64], stubborn: bool) {
        let mut found = fixed_rounds(self.model, self.objective, self.bounds, units);
        if found.is_none() && (self.best.is_none() || stubborn) && self.short > 0 {
            self.short -= 1;
            found = short::steps(self.model, self.objective, self.bounds, units);
        }
        if let Some(found) = found.filter(|found| self.betters(found)) {
            (self.best, self.from) = (Some(found), From::Walk);
        }
    }

    /// Whether nothing as good is known.
    fn betters(&self, found: &Free) -> bool {
        self.best.as_ref().is_none_or(|best| found.score < best.score)
    }

    /// What was found in a box, or was known, is good to what boxes are left out for: repeated to where it
    /// stays, it is an optimum of its own program as well.
    fn settle(&mut self) {
        let Some(best) = self.best.as_ref().filter(|_| self.from != From::Walk) else { return };
        let mut settled = fixed_rounds(self.model, self.objective, self.bounds, &best.units);
        if settled.is_none() && self.from == From::Box {
            settled = short::steps(self.model, self.objective, self.bounds, &best.units);
        }
        let as_good = |settled: &Free| better_than(settled.score) <= best.score;
        if let Some(settled) = settled.filter(as_good) {
            self.best = Some(settled);
        }
    }

    /// What the best of a box could be; nothing where it holds nothing better than what is known.
    fn promise(&mut self, ranges: &Ranges, loose: f64) -> Option<Promise> {
        let target = self.target();
        // The first box says where the nearest drink may lie, the others whether there is a nearer one.
        let objective = self.aimed(target.filter(|_| self.boxes > 1));
        let objective = objective.as_ref().unwrap_or(self.objective);
        let envelope = Envelope::new(self.model, &self.model.typical, ranges);
        let program = Program::over(self.model, objective, envelope, Basis { views: &[], loose, at: None });
        let lines = &program.lines;
        let mut rows = program.linear_rows();
        rows.extend(self.range_rows(&program, ranges));
        let bounds = program.bounds(|c| self.bounds[c]);
        let mut parts = vec![lines.value.clone()];
        parts.extend(lines.over.clone());
        let mut simplex = Simplex::new(&bounds, &rows, &parts);
        let theta = target.unwrap_or(0.0);
        simplex.weigh(&[1.0, -theta][..parts.len()]);
        if simplex.solve_out() == Ended::Infeasible {
            return None;
        }
        let least = simplex.objective();
        let units = program.amounts(|variable| simplex.value(variable));
        let score = match (self.objective, &lines.over) {
            (Objective::Elastic { .. }, _) if self.boxes == 1 => (least, true),
            (Objective::Elastic { .. }, _) => (target.unwrap_or(0.0) + least, least <= GAP),
            (_, Some(_)) => {
                let over = simplex.part(1);
                if self.boxes > LATE
                    && target.is_some()
                    && least <= 0.0
                    && -least <= FINE * theta.abs() * over
                {
                    self.passed += 1;
                    let left_out = self.closed.is_some().then(|| Closed::open(*ranges));
                    self.record(left_out);
                    return None;
                }
                (
                    if over > 0.0 { simplex.part(0) / over } else { f64::NEG_INFINITY },
                    target.is_none() || least <= 0.0,
                )
            }
            (_, None) => {
                let score = least + lines.constant;
                (score, target.is_none_or(|target| score <= target))
            }
        };
        let sure = lines.over.is_none() && !matches!(self.objective, Objective::Elastic { .. });
        let of = |sure| {
            if sure { Closed::of(*ranges, score.0, &program, &simplex) } else { Closed::open(*ranges) }
        };
        let closed = self.closed.is_some().then(|| of(sure));
        if score.1 || target.is_none() {
            return Some(Promise { score: score.0, sure, units, closed });
        }
        self.record(closed);
        None
    }

    /// Distances from middles: is there anything nearer than `target`? The ranges are then drawn in to it.
    fn aimed(&self, target: Option<f64>) -> Option<Objective> {
        let Objective::Elastic { softs, together, most } = self.objective else { return None };
        let by = target?;
        let moved = |soft: &Soft| {
            let sign = if soft.limit.side == Side::Max { 1.0 } else { -1.0 };
            let mut soft = *soft;
            soft.limit.value += sign * by * soft.size;
            soft
        };
        Some(Objective::Elastic {
            softs: softs.iter().map(moved).collect(),
            together: *together,
            most: *most,
        })
    }

    /// The sides of a box, where they are not those of everything.
    fn range_rows(&self, program: &Program, ranges: &Ranges) -> Vec<LinearRow> {
        let model = self.model;
        let mut rows = vec![];
        let mut add = |sum: &dyn Fn(usize) -> f64,
                       over: &dyn Fn(usize, Side) -> f64,
                       range: (f64, f64),
                       all: (f64, f64)| {
            let row = |end: f64, side: Side| -> Vec<f64> { program.spread(|c| sum(c) - end * over(c, side)) };
            if range.0 > all.0 {
                rows.push((row(range.0, Side::Min), 0.0, f64::INFINITY));
            }
            if range.1 < all.1 {
                rows.push((row(range.1, Side::Max), f64::NEG_INFINITY, 0.0));
            }
        };
        let of = |c: usize| (&model.typical[c], model.columns[c].unit);
        let worked = |c: usize| of(c).0.worked * of(c).1;
        let water = |c: usize, side: Side| {
            // The row that loosens: at least so much water under a lower end, at most under an upper one.
            let melt =
                if side == Side::Min { program.envelope.melt_low[c] } else { program.envelope.melt_high[c] };
            of(c).0.masses.water * of(c).1 + melt * ethanol::WATER
        };
        let spirit = |c: usize| of(c).0.masses.ethanol * of(c).1;
        let solids = |c: usize| of(c).0.masses.solids * of(c).1;
        add(&|c| of(c).0.strength * worked(c), &|c, _| worked(c), ranges.before, self.whole.before);
        add(&spirit, &|c, side| spirit(c) + water(c, side), ranges.spirit, self.whole.spirit);
        add(&solids, &|c, side| solids(c) + water(c, side), ranges.syrup, self.whole.syrup);
        if let Some((figures, side)) = program.envelope.sign_row(ranges.heat) {
            let wide = program.spread(|c| figures[c]);
            rows.push(match side {
                Side::Min => (wide, 0.0, f64::INFINITY),
                Side::Max => (wide, f64::NEG_INFINITY, 0.0),
            });
        }
        rows
    }
}

/// What is better than a score is at most this.
pub(super) fn better_than(score: f64) -> f64 {
    score - GAP * score.abs().max(LEAST)
}

/// No score is under this: a distance is none at best, and what is itself limited keeps its limit.
fn floor(model: &Model, objective: &Objective) -> f64 {
    match objective {
        Objective::Change { lost, .. } => *lost,
        Objective::Elastic { .. } => 0.0,
        _ => objective.floor(model),
    }
}
