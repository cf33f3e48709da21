//! How long an answer takes to explain: what holds it back and what that is worth, what waits behind
//! each limit, who is in play, what prices would change; and each of these parts.

use std::hint::black_box;
use std::time::Duration;

use criterion::{Criterion, criterion_group, criterion_main};
use washline::brief::Brief;
use washline::explain::{explain, in_play, sensitivity, steps};
use washline::solve::{Ending, Solved, Stop, solve};

// The tests' own briefs; what only the tests need of them is unused here.
#[allow(dead_code)]
#[path = "../tests/answers/glass.rs"]
mod glass;
#[allow(dead_code)]
#[path = "../tests/answers/plan.rs"]
mod plan;
#[path = "../tests/answers/shelf.rs"]
mod shelf;

/// So many shelves: times differ from brief to brief.
const SHELVES: u64 = 10;
/// So many candidates on each.
const CANDIDATES: usize = 30;

/// A part of the explanation.
type Part = fn(&Brief, &Solved, &Stop);

fn explanation(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("explain");
    group.sample_size(10).warm_up_time(Duration::from_millis(500)).measurement_time(Duration::from_secs(4));
    let all: Vec<(Brief, Solved)> = (0..SHELVES).map(solved).collect();
    let parts: [(&str, Part); 4] = [
        ("whole", |brief, solved, stop| drop(black_box(explain(brief, solved, stop)))),
        ("limits and prices", |brief, solved, stop| {
            drop(black_box(sensitivity::sensitivity(brief, solved, stop)));
        }),
        ("next pourable", |brief, solved, stop| drop(black_box(steps::next_pourable(brief, solved, stop)))),
        ("in play", |brief, solved, stop| drop(black_box(in_play::in_play(brief, solved, stop)))),
    ];
    for (name, part) in parts {
        group.bench_function(name, |bencher| {
            let mut at = 0;
            bencher.iter(|| {
                at = (at + 1) % all.len();
                part(&all[at].0, &all[at].1, &Stop::default());
            });
        });
    }
    group.finish();
}

/// A shelf's brief and its answer; it has to be proved, or there is less to explain.
fn solved(seed: u64) -> (Brief, Solved) {
    let brief = shelf::shelf(CANDIDATES, seed).brief();
    let solved = solve(&brief, &Stop::default());
    assert_eq!(solved.ending, Ending::Found, "shelf {seed}");
    (brief, solved)
}

criterion_group!(benches, explanation);
criterion_main!(benches);
