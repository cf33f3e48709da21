//! How soon a run ends once its time is up: what the search likes least, long shelves and many limits, each
//! stopped after half a second and after two. What is measured is the whole answer, search and reasons.
//!
//! `cargo bench --bench stops`. It fails where even the quickest of five tries takes over a tenth longer than
//! it may.

use std::process::ExitCode;
use std::sync::Arc;
use std::thread;
use std::time::{Duration, Instant};

use washline::brief::Brief;
use washline::explain::explain;
use washline::solve::{Stop, solve};

// The tests' own briefs; what only the tests need of them is unused here.
#[allow(dead_code)]
#[path = "../tests/answers/glass.rs"]
mod glass;
#[allow(dead_code)]
#[path = "../tests/answers/hard.rs"]
mod hard;
#[allow(dead_code)]
#[path = "../tests/answers/plan.rs"]
mod plan;
#[path = "../tests/answers/shelf.rs"]
mod shelf;

/// How often each is tried: what else the machine does is not the program's.
const TRIES: usize = 5;

fn main() -> ExitCode {
    let mut briefs: Vec<(String, Brief)> =
        hard::CORNERS.iter().map(|(name, make)| (format!("{name}, 60"), make(60, 0))).collect();
    briefs.extend([250, 1000].map(|count| (format!("a shelf of {count}"), shelf::shelf(count, 0).brief())));
    let mut late = false;
    for limit in [500, 2000].map(Duration::from_millis) {
        for (name, brief) in &briefs {
            let took = (0..TRIES).map(|_| stopped(brief, limit)).min().unwrap_or_default();
            let over = took.as_secs_f64() / limit.as_secs_f64() - 1.0;
            late |= over > 0.1;
            print(&format!("{name:<32} {limit:>5.1?} {took:>9.3?} {:>+6.1} %\n", 100.0 * over));
        }
    }
    if late { ExitCode::FAILURE } else { ExitCode::SUCCESS }
}

/// How long the answer takes whose search is stopped after `limit`.
fn stopped(brief: &Brief, limit: Duration) -> Duration {
    let stop = Arc::new(Stop::default());
    let flag = Arc::clone(&stop);
    let start = Instant::now();
    thread::spawn(move || {
        thread::sleep(limit);
        flag.raise();
    });
    explain(brief, &solve(brief, &stop), &stop);
    start.elapsed()
}

fn print(line: &str) {
    use std::io::Write as _;
    // Nobody reads it where this fails.
    let _ = std::io::stdout().write_all(line.as_bytes());
}
