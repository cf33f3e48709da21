//! How long the pourable search takes, proof included, by the number of candidates: the best spec
//! alone, and the best with the six next-best ingredient sets.
//!
//! Each measurement goes over the same seeded shelves: eight target sides, 2.5 ml steps, at most six
//! ingredients.

use std::hint::black_box;
use std::time::Duration;

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use washline::brief::Brief;
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

/// So many shelves a size: times differ from brief to brief by a factor of ten and more.
const SHELVES: u64 = 10;

fn search(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("search");
    group.sample_size(10).warm_up_time(Duration::from_millis(500)).measurement_time(Duration::from_secs(4));
    for count in [15, 30, 60, 120] {
        for (name, alternatives) in [("best", 0), ("best and six", 6)] {
            let briefs: Vec<Brief> = (0..SHELVES).map(|seed| brief(count, seed, alternatives)).collect();
            group.bench_with_input(BenchmarkId::new(name, count), &briefs, |bencher, briefs| {
                let mut at = 0;
                bencher.iter(|| {
                    at = (at + 1) % briefs.len();
                    black_box(solve(&briefs[at], &Stop::default()))
                });
            });
        }
    }
    group.finish();
}

/// A shelf's brief; it has to be solved to the end, or the time would mean nothing.
fn brief(count: usize, seed: u64, alternatives: usize) -> Brief {
    let mut plan = shelf::shelf(count, seed);
    plan.answer.alternatives = alternatives;
    let brief = plan.brief();
    assert_eq!(solve(&brief, &Stop::default()).ending, Ending::Found, "shelf {seed} of {count}");
    brief
}

criterion_group!(benches, search);
criterion_main!(benches);
