//! How long an answer takes to explain: what holds it back and what that is worth, what waits behind
//! each limit, who is in play, what prices would change; and each of these parts.
//!
//! Before criterion measures averages, every shelf is timed by itself: median and worst are printed.

use std::hint::black_box;
use std::time::{Duration, Instant};

use criterion::{Criterion, criterion_group, criterion_main};
use washline::brief::Brief;
use washline::explain::{explain, in_play, sensitivity, steps, variation};
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
const SHELVES: u64 = 20;
/// So many candidates on each.
const CANDIDATES: usize = 30;

/// A part of the explanation.
type Part = fn(&Brief, &Solved, &Stop);

const PARTS: [(&str, Part); 6] = [
    ("whole", |brief, solved, stop| drop(black_box(explain(brief, solved, stop)))),
    ("limits", |brief, solved, stop| drop(black_box(sensitivity::limits(brief, solved, stop)))),
    ("prices", |brief, solved, stop| drop(black_box(sensitivity::prices(brief, solved, stop)))),
    ("next pourable", |brief, solved, stop| drop(black_box(steps::next_pourable(brief, solved, stop)))),
    ("in play", |brief, solved, stop| drop(black_box(in_play::in_play(brief, solved, stop)))),
    ("service", |brief, solved, _| drop(black_box(variation::service(brief, &solved.specs[0].pours)))),
];

fn explanation(criterion: &mut Criterion) {
    let all: Vec<(Brief, Solved)> = (0..SHELVES).map(solved).collect();
    PARTS.iter().for_each(|(name, part)| one_by_one(name, *part, &all));
    let mut group = criterion.benchmark_group("explain");
    group.sample_size(10).warm_up_time(Duration::from_millis(500)).measurement_time(Duration::from_secs(4));
    for (name, part) in PARTS {
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

/// Median and worst over the shelves, each the best of three.
// A benchmark has nobody else to tell.
#[allow(clippy::print_stdout)]
fn one_by_one(name: &str, part: Part, all: &[(Brief, Solved)]) {
    let once = |(brief, solved): &(Brief, Solved)| {
        let start = Instant::now();
        part(brief, solved, &Stop::default());
        start.elapsed()
    };
    let mut times: Vec<Duration> =
        all.iter().map(|one| (0..3).map(|_| once(one)).min().unwrap_or_default()).collect();
    times.sort_unstable();
    println!(
        "{name}: median {:?}, worst {:?} of {} shelves",
        times[times.len() / 2],
        times[times.len() - 1],
        times.len()
    );
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
