//! What limits do to the score, against solving again.

use washline::brief::{Aim, Brief, Measure, Nearest, Side, Source, Step, Target};
use washline::explain::demand::Demand;
use washline::explain::sensitivity::{Held, sensitivity};
use washline::free;
use washline::model::{Model, Objective};
use washline::solve::{Stop, solve};

use crate::briefs::{Aims, seeded};
use crate::exact::{over_both_cores, some};

/// A free-pour optimum: its score in the aim's own unit, what it uses and which limits it reaches.
#[derive(Debug, Clone, PartialEq)]
pub struct Solved {
    pub score: f64,
    pub used: Vec<usize>,
    pub reached: Vec<(usize, bool)>,
}

/// The free-pour optimum of a brief with one limit at another value.
pub fn solved_at(brief: &Brief, held: &Held, value: f64) -> Option<Solved> {
    let moved = moved(brief, held, value);
    let crossed = |min: Option<f64>, max: Option<f64>| min.zip(max).is_some_and(|(min, max)| min > max);
    if moved.targets.iter().any(|t| crossed(t.min, t.max))
        || moved.proportions.iter().any(|p| crossed(p.min, p.max))
        || moved.candidates.iter().any(|c| c.must && c.most.is_some_and(|most| c.least > most))
    {
        return None;
    }
    let model = Model::new(&moved);
    let objective = Objective::of(&model);
    let free = free::optimum(&model, &objective, None)?;
    let (pours, served) = free::measure(&model, &free.units);
    let near = |a: f64, b: f64| (a - b).abs() <= 1e-6 * a.abs().max(b.abs());
    let reached = model.limits.iter().map(|l| near(served.value(l.measure), l.value));
    let largest = model.columns.iter().zip(&free.units).map(|(c, units)| near(*units, c.most));
    Some(Solved {
        score: objective.value(free.score),
        used: pours.iter().filter(|p| p.amount > 1e-6).map(|p| p.candidate).collect(),
        reached: reached.chain(largest).enumerate().collect(),
    })
}

/// The brief with free pours and one limit moved.
fn moved(brief: &Brief, held: &Held, value: f64) -> Brief {
    let mut moved = brief.clone();
    moved.candidates.iter_mut().for_each(|c| c.step = Step::Free);
    let side = |min: &mut Option<f64>, max: &mut Option<f64>| {
        if held.side == Side::Min { *min = Some(value) } else { *max = Some(value) }
    };
    match held.demand {
        Demand::Target(at, _) => {
            let target = &mut moved.targets[at];
            side(&mut target.min, &mut target.max);
        }
        Demand::Proportion(at, _) => {
            let rule = &mut moved.proportions[at];
            side(&mut rule.min, &mut rule.max);
        }
        Demand::Glass => {
            let glass = moved.serve.glass.as_mut().expect("a glass");
            glass.brim = value / (1.0 - glass.headroom / 100.0);
        }
        Demand::Hold(at) => {
            let measure = brief.hold[at].measure;
            let (mut min, mut max) = held_range(brief, measure);
            side(&mut min, &mut max);
            moved.hold.remove(at);
            moved.targets.push(Target { measure, min, max });
        }
        Demand::Must(at) => moved.candidates[at].least = value,
        Demand::Largest(at) => moved.candidates[at].most = Some(value),
        Demand::Most | Demand::Choose(..) => {}
    }
    moved
}

fn held_range(brief: &Brief, measure: Measure) -> (Option<f64>, Option<f64>) {
    let model = Model::new(brief);
    let own = |side| {
        let held =
            model.limits.iter().find(|l| l.source == Source::Hold && l.measure == measure && l.side == side);
        held.map(|l| l.value)
    };
    (own(Side::Min), own(Side::Max))
}

pub fn size(held: &Held) -> f64 {
    if held.limit == 0.0 { if held.value == 0.0 { 1.0 } else { held.value.abs() } } else { held.limit.abs() }
}

/// The slope at `at` in the direction of `sign`, curvature taken out; `None`: no room.
fn slope(brief: &Brief, held: &Held, at: f64, sign: f64, step: f64) -> Option<f64> {
    let here = solved_at(brief, held, at)?.score;
    let by = |step: f64| Some((solved_at(brief, held, at + sign * step)?.score - here) / (sign * step));
    Some(2.0 * by(step / 2.0)? - by(step)?)
}

pub fn free_limits(held: &Held) -> bool {
    !matches!(held.demand, Demand::Most | Demand::Choose(..))
}

/// What is held is a range of the aim too, which a target in its place would move.
pub fn of_the_aim(brief: &Brief, held: &Held) -> bool {
    brief.aim == Aim::Nearest(Nearest::Middle) && matches!(held.demand, Demand::Hold(_))
}

fn near(a: f64, b: f64, margin: f64) -> bool {
    (a - b).abs() <= margin
}

/// What solving again does not confirm.
pub fn check(seed: u64, aims: Aims) -> Vec<String> {
    let brief = seeded(seed, aims).brief();
    let solved = solve(&brief, &Stop::default());
    if solved.unrounded.is_none() {
        return vec![];
    }
    let Some(found) = sensitivity(&brief, &solved, &Stop::default()) else {
        return vec![format!("{seed}: nothing")];
    };
    let mut faults = vec![];
    for held in found.limits.iter().filter(|held| free_limits(held) && !of_the_aim(&brief, held)) {
        let what = format!("{seed} {:?} {:?} {held:?}", brief.aim, held.demand);
        let base = solved_at(&brief, held, held.limit).map_or(f64::NAN, |s| s.score);
        let scale = base.abs().max(1.0);
        // Rates.
        let outwards = if held.side == Side::Min { -1.0 } else { 1.0 };
        for (rate, sign, name) in [(held.looser, outwards, "looser"), (held.tighter, -outwards, "tighter")] {
            // No longer than the slope holds: beyond the end another one does.
            let end = if sign > 0.0 { held.to } else { held.from };
            let holds = end.map_or(f64::INFINITY, |end| (end - held.limit).abs());
            let step =
                if holds > 1e-6 * size(held) { holds.min(1e-4 * size(held)) } else { 1e-4 * size(held) };
            let again = slope(&brief, held, held.limit, sign, step).map(|s| s * sign);
            let fine = match (rate, again) {
                (Some(rate), Some(again)) => near(rate, again, 1e-4 * rate.abs() + 3e-8 * scale / step),
                (None, None) => true,
                _ => false,
            };
            if !fine {
                faults.push(format!("RATE {name} again {again:?} {what}"));
            }
        }
        // Ends.
        for (end, score, sign) in [(held.from, held.score_from, -1.0), (held.to, held.score_to, 1.0)] {
            let Some(end) = end else { continue };
            let again = [0.0, 1e-6]
                .iter()
                .find_map(|by| solved_at(&brief, held, end - sign * by * size(held)))
                .map(|s| s.score);
            if !again.zip(score).is_some_and(|(a, b)| near(a, b, 1e-5 * scale)) {
                faults.push(format!("SCORE at {end}: {again:?} {score:?} {what}"));
            }
        }
    }
    faults
}

/// 200 seeded briefs: every rate of every limit is what solving again just beside it says, and so is
/// the score at both ends of its range.
#[test]
fn rates_and_scores_are_those_of_solving_again() {
    over_both_cores(some(0..200, 20), |seed| match check(seed, Aims::Plain) {
        faults if faults.is_empty() => Ok(()),
        faults => Err(faults.join("; ")),
    });
}

/// The same of aims at the reference and at the middle of ranges.
#[test]
fn rates_of_nearest_aims_are_those_of_solving_again() {
    over_both_cores(some(200..260, 30), |seed| match check(seed, Aims::Nearest) {
        faults if faults.is_empty() => Ok(()),
        faults => Err(faults.join("; ")),
    });
}
