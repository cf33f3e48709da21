//! One ingredient out, and every other of its kind tried in its place.

use std::cmp::{Ordering, Reverse};

use crate::brief::{Answer, Brief};
use crate::explain::conflict::{Relaxed, miss};
use crate::explain::side_by_side::side_by_side;
use crate::search::same_score_margin;
use crate::solve::{Ending, Solved, Stop, pourable};

/// Solves every brief for its best spec alone, `workers` at a time; `done` is told of each that is done.
pub fn solve_each(briefs: &[Brief], workers: usize, stop: &Stop, done: &(dyn Fn() + Sync)) -> Vec<Solved> {
    side_by_side(briefs, workers, |brief| {
        let solved = best(brief, stop);
        done();
        solved
    })
}

/// By how much each brief that no spec meets is missed at least, `workers` at a time; nothing for the others.
pub fn misses(briefs: &[Brief], solved: &[Solved], workers: usize, stop: &Stop) -> Vec<Option<Relaxed>> {
    let asked: Vec<(&Brief, &Solved)> = briefs.iter().zip(solved).collect();
    side_by_side(&asked, workers, |(brief, solved)| match solved.ending {
        Ending::Conflict => miss(brief, stop),
        Ending::Found | Ending::Stopped => None,
    })
}

/// The best pourable spec of a brief, without alternatives.
pub fn best(brief: &Brief, stop: &Stop) -> Solved {
    let alone = Brief { answer: Answer { alternatives: 0, within: None, steady: vec![] }, ..brief.clone() };
    pourable(&alone, stop)
}

/// The places of the answers, best first: found before stopped before conflict, then by the score, the cost
/// where it is known, and the place. Among answers whose scores differ from the first of them by no more than matters,
/// what keeps more notes comes first: `notes` says of each how many. All briefs aim alike.
pub fn ranked(briefs: &[Brief], all: &[Solved], notes: &[usize]) -> Vec<usize> {
    let mut places = by_score(briefs, all);
    let score = |at: usize| all[at].specs.first().map(|spec| spec.score);
    let kept = |at: usize| notes.get(at).copied().unwrap_or(0);
    let mut from = 0;
    while from < places.len() {
        let first = places[from];
        let alike = |at: usize| match (score(first), score(at)) {
            (Some(best), Some(other)) => {
                let to = briefs[first].resolution.at(best) + same_score_margin(best);
                all[first].ending == all[at].ending && (best - other).abs() <= to
            }
            _ => false,
        };
        let until = places[from..].iter().take_while(|at| alike(**at)).count().max(1);
        places[from..from + until].sort_by_key(|at| Reverse(kept(*at)));
        from += until;
    }
    places
}

/// The same by the scores alone.
fn by_score(briefs: &[Brief], all: &[Solved]) -> Vec<usize> {
    let group = |solved: &Solved| match (solved.specs.is_empty(), solved.ending) {
        (false, Ending::Found | Ending::Conflict) => 0,
        (false, Ending::Stopped) => 1,
        (true, Ending::Stopped) => 2,
        (true, _) => 3,
    };
    let order = |a: usize, b: usize| {
        let (left, right) = (all[a].specs.first(), all[b].specs.first());
        let by_spec = left.zip(right).map_or(Ordering::Equal, |(left, right)| {
            let aim = briefs[a].aim;
            let by_score = match (aim.better(left.score, right.score), aim.better(right.score, left.score)) {
                (true, false) => Ordering::Less,
                (false, true) => Ordering::Greater,
                _ => Ordering::Equal,
            };
            // What costs an unknown sum stands behind what costs a known one.
            let cost = |cost: f64| if cost.is_finite() { cost } else { f64::INFINITY };
            by_score.then(cost(left.served.cost).total_cmp(&cost(right.served.cost)))
        });
        group(&all[a]).cmp(&group(&all[b])).then(by_spec).then(a.cmp(&b))
    };
    let mut places: Vec<usize> = (0..briefs.len().min(all.len())).collect();
    places.sort_by(|a, b| order(*a, *b));
    places
}
