//! Free pours against what can be poured, and against themselves: the best of all is never worse than any
//! of its kind, and with less allowed nothing gets better.

use std::sync::atomic::{AtomicUsize, Ordering};

use washline::brief::{Aim, Brief, Nearest, Side};
use washline::free;
use washline::model::{Model, Objective};
use washline::solve::{Stop, solve};

use crate::briefs::{Aims, seeded};
use crate::effort::one_in;
use crate::exact::{over_both_cores, some};

/// Limits are met within 1e-9 of themselves, and not every solving makes the same use of that.
const MARGIN: f64 = 3e-8;

/// The score with free pours, lower is better, looked for without a hint.
fn free_score(brief: &Brief) -> Option<f64> {
    let model = Model::new(brief);
    Some(free::optimum(&model, &Objective::of(&model), None)?.score)
}

/// The brief with one side of a target tightened by a hundredth; `None` where both sides would cross.
fn tightened(brief: &Brief, at: usize, side: Side) -> Option<Brief> {
    let mut tight = brief.clone();
    let target = &mut tight.targets[at];
    match side {
        Side::Min => target.min = Some(target.min? * 1.01),
        Side::Max => target.max = Some(target.max? * 0.99),
    }
    let crossed = target.min.zip(target.max).is_some_and(|(min, max)| min > max);
    (!crossed).then_some(tight)
}

fn check(seed: u64, aims: Aims, asked: &[AtomicUsize; 2]) -> Result<(), String> {
    let brief = seeded(seed, aims).brief();
    let solved = solve(&brief, &Stop::default());
    // As it is answered: looked for from the best pourable spec, too.
    let objective = Objective::of(&Model::new(&brief));
    let free = solved.unrounded.as_ref().map(|free| objective.score_of(free.score));
    let better = |score: f64, known: f64| score < known - MARGIN * known.abs().max(1.0);
    if let Some(best) = solved.specs.first() {
        asked[0].fetch_add(1, Ordering::Relaxed);
        let own = objective.score_of(best.score);
        if free.is_none_or(|free| better(own, free)) {
            return Err(format!("{seed}: {free:?} with free pours, {own} in steps for {:?}", brief.aim));
        }
        let alone = free_score(&brief);
        if alone.is_none_or(|alone| better(own, alone)) {
            return Err(format!("{seed}: {alone:?} without a hint, {own} in steps for {:?}", brief.aim));
        }
    }
    // The middle of a range moves with its ends.
    if brief.aim == Aim::Nearest(Nearest::Middle) {
        return Ok(());
    }
    for at in 0..brief.targets.len() {
        for side in [Side::Min, Side::Max] {
            let Some(tight) = tightened(&brief, at, side).and_then(|tight| free_score(&tight)) else {
                continue;
            };
            asked[1].fetch_add(1, Ordering::Relaxed);
            if free.is_none_or(|free| better(tight, free)) {
                let target = brief.targets[at];
                return Err(format!("{seed}: {free:?}, and {tight} with a tighter {side:?} of {target:?}"));
            }
        }
    }
    Ok(())
}

/// 1,000 seeded briefs, and 200 of nearest aims.
#[test]
fn free_pours_are_never_worse_than_steps_nor_than_with_a_tighter_limit() {
    let asked = [const { AtomicUsize::new(0) }; 2];
    over_both_cores(some(20_000..21_000, 16), |seed| check(seed, Aims::Plain, &asked));
    over_both_cores(some(21_000..21_200, 16), |seed| check(seed, Aims::Nearest, &asked));
    let [poured, tightened] = asked.map(AtomicUsize::into_inner);
    let of = one_in(16);
    assert!(poured * of >= 500 && tightened * of >= 4000, "{poured} {tightened}");
}
