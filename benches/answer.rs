//! How long a whole answer takes at thirty candidates: the best and six more, the reasons, what is steadier; and how soon
//! the first spec is handed over. Median and worst of twenty seeded shelves, by the clock and in processor time of all
//! threads, which other work on the machine does not add to.

use std::time::Instant;

use washline::brief::Brief;
use washline::explain::explain;
use washline::solve::{Stop, solve, solve_telling};

// The tests' own briefs; what only the tests need of them is unused here.
#[allow(dead_code)]
#[path = "../tests/answers/glass.rs"]
mod glass;
#[allow(dead_code)]
#[path = "../tests/answers/plan.rs"]
mod plan;
#[path = "peers/processor.rs"]
mod processor;
#[path = "../tests/answers/shelf.rs"]
mod shelf;

const SHELVES: u64 = 20;
const CANDIDATES: usize = 30;
/// Each is taken so often, and the least counts.
const TIMES: usize = 3;

fn main() {
    let briefs: Vec<Brief> = (0..SHELVES).map(asked).collect();
    processor::say("| what | clock: median, worst ms | processor: median, worst ms |");
    processor::say("| --- | ---: | ---: |");
    row("first spec handed over", &briefs, |brief, told| {
        let stop = Stop::within_reason();
        solve_telling(brief, &stop, |_| {
            told();
            stop.raise();
        });
    });
    row("best and six", &briefs, |brief, told| {
        solve(brief, &Stop::within_reason());
        told();
    });
    row("with reasons and what is steadier", &briefs, |brief, told| {
        let stop = Stop::within_reason();
        explain(brief, &solve(brief, &stop), &stop);
        told();
    });
}

fn asked(seed: u64) -> Brief {
    let mut plan = shelf::shelf(CANDIDATES, seed);
    plan.answer.alternatives = 6;
    plan.brief()
}

fn row(name: &str, briefs: &[Brief], run: impl Fn(&Brief, &mut dyn FnMut())) {
    let once = |brief: &Brief| {
        let (clock, busy) = (Instant::now(), processor::seconds());
        let mut taken = (f64::NAN, f64::NAN);
        run(brief, &mut || taken = (clock.elapsed().as_secs_f64(), processor::seconds() - busy));
        taken
    };
    let least = |brief: &Brief| {
        (0..TIMES)
            .map(|_| once(brief))
            .fold((f64::INFINITY, f64::INFINITY), |a, b| (a.0.min(b.0), a.1.min(b.1)))
    };
    let (mut clock, mut busy): (Vec<f64>, Vec<f64>) = briefs.iter().map(least).unzip();
    let ends = |times: &mut Vec<f64>| {
        times.sort_by(f64::total_cmp);
        format!("{:.1}, {:.1}", 1000.0 * times[times.len() / 2], 1000.0 * times[times.len() - 1])
    };
    processor::say(&format!("| {name} | {} | {} |", ends(&mut clock), ends(&mut busy)));
}
