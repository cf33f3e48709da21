//! How long it takes to say why, at thirty candidates: a conflict; who is in play; what waits behind
//! each limit.

use std::hint::black_box;
use std::time::Duration;

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use washline::brief::{Brief, Measure};
use washline::explain::conflict::conflict;
use washline::explain::in_play::in_play;
use washline::explain::steps::next_pourable;
use washline::solve::{Ending, Stop, solve};

// The tests' own briefs; what only the tests need of them is unused here.
#[allow(dead_code)]
#[path = "../tests/answers/glass.rs"]
mod glass;
#[allow(dead_code)]
#[path = "../tests/answers/plan.rs"]
mod plan;
#[path = "../tests/answers/shelf.rs"]
mod shelf;

/// So many shelves of each kind: times differ from brief to brief.
const SHELVES: u64 = 6;
const CANDIDATES: usize = 30;

/// What makes a shelf's brief ask for too much.
#[derive(Debug, Clone, Copy)]
enum TooMuch {
    /// A fifth cheaper than the cheapest.
    Cheap,
    /// Much more acid, with hardly any energy.
    SourAndLight,
    /// Hardly any strength, with 40 ml of a spirit in it.
    WeakWithSpirit,
}

fn asked(seed: u64, much: TooMuch) -> Brief {
    let mut plan = shelf::shelf(CANDIDATES, seed);
    let best = solve(&plan.brief(), &Stop::default()).specs.first().expect("a spec").score;
    match much {
        TooMuch::Cheap => plan = plan.with(Measure::Cost, 0.0, (best * 80.0).floor() / 100.0),
        TooMuch::SourAndLight => {
            for target in plan.targets.iter_mut().filter(|t| t.measure == Measure::Acid) {
                (target.min, target.max) = (target.min.map(|m| m + 12.0), target.max.map(|m| m + 12.0));
            }
            plan = plan.with(Measure::Energy, 0.0, 60.0);
        }
        TooMuch::WeakWithSpirit => {
            for target in plan.targets.iter_mut().filter(|t| t.measure == Measure::Strength) {
                (target.min, target.max) = (Some(1.0), Some(2.0));
            }
            (plan.items[0].must, plan.items[0].min) = (true, Some(40.0));
        }
    }
    let brief = plan.brief();
    assert_eq!(solve(&brief, &Stop::default()).ending, Ending::Conflict, "shelf {seed}, {much:?}");
    brief
}

fn conflicts(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("conflict");
    group.sample_size(10).warm_up_time(Duration::from_millis(500)).measurement_time(Duration::from_secs(4));
    for much in [TooMuch::Cheap, TooMuch::SourAndLight, TooMuch::WeakWithSpirit] {
        let briefs: Vec<Brief> = (0..SHELVES).map(|seed| asked(seed, much)).collect();
        group.bench_with_input(
            BenchmarkId::new(format!("{much:?}"), CANDIDATES),
            &briefs,
            |bencher, briefs| {
                let mut at = 0;
                bencher.iter(|| {
                    at = (at + 1) % briefs.len();
                    black_box(conflict(&briefs[at], &Stop::default()))
                });
            },
        );
    }
    group.finish();
}

fn found(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("found");
    group.sample_size(10).warm_up_time(Duration::from_millis(500)).measurement_time(Duration::from_secs(4));
    let briefs: Vec<_> = (0..SHELVES)
        .map(|seed| {
            let brief = shelf::shelf(CANDIDATES, seed).brief();
            let solved = solve(&brief, &Stop::default());
            (brief, solved)
        })
        .collect();
    group.bench_with_input(BenchmarkId::new("in play", CANDIDATES), &briefs, |bencher, briefs| {
        let mut at = 0;
        bencher.iter(|| {
            at = (at + 1) % briefs.len();
            black_box(in_play(&briefs[at].0, &briefs[at].1, &Stop::default()))
        });
    });
    group.bench_with_input(BenchmarkId::new("next pourable", CANDIDATES), &briefs, |bencher, briefs| {
        let mut at = 0;
        bencher.iter(|| {
            at = (at + 1) % briefs.len();
            black_box(next_pourable(&briefs[at].0, &briefs[at].1, &Stop::default()))
        });
    });
    group.finish();
}

criterion_group!(benches, conflicts, found);
criterion_main!(benches);
