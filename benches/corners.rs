//! What the search likes least, with the effort that the program sets itself: no strength target,
//! steps of 0.5 ml, twelve ingredients, ratios, distances, every composition, fifty groups, near
//! doubles. What is not proved within it ends as "stopped", with a bound.

use std::hint::black_box;
use std::time::Duration;

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use washline::solve::{Stop, solve};

// The tests' own briefs; what only the tests need of them is unused here.
#[allow(dead_code)]
#[path = "../tests/answers/glass.rs"]
mod glass;
#[path = "../tests/answers/hard.rs"]
mod hard;
#[allow(dead_code)]
#[path = "../tests/answers/plan.rs"]
mod plan;
#[path = "../tests/answers/shelf.rs"]
mod shelf;

fn corners(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("corners");
    group.sample_size(10).warm_up_time(Duration::from_millis(500)).measurement_time(Duration::from_secs(4));
    for count in [30, 60] {
        for (name, make) in hard::CORNERS {
            let brief = make(count, 0);
            group.bench_with_input(BenchmarkId::new(name, count), &brief, |bencher, brief| {
                bencher.iter(|| black_box(solve(brief, &Stop::within_reason())));
            });
        }
    }
    group.finish();
}

criterion_group!(benches, corners);
criterion_main!(benches);
