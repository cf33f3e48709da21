//! washline's side of `benches/peers/run.py`: reads a brief, solves it, and says how long the solving
//! took, without reading, writing or explaining.
//!
//! `peers BRIEF ALTERNATIVES SECONDS` prints one JSON object: `cpu` and `wall` in seconds (`cpu`: processor
//! time of all threads together), how it ended, the best score, and whether the order of the sets is proved.
//!
//! `peers shelf COUNT SEED` prints the brief on which the search was tuned (`tests/answers/shelf.rs`), as a file.

use std::sync::Arc;
use std::time::{Duration, Instant};
use std::{env, fs, thread};

use washline::read::read;
use washline::solve::{Ending, Stop, solve};

mod processor;
// The tests' own briefs; what only the tests need of them is unused here.
#[allow(dead_code)]
#[path = "../../tests/answers/glass.rs"]
mod glass;
#[allow(dead_code)]
#[path = "../../tests/answers/plan.rs"]
mod plan;
#[path = "../../tests/answers/shelf.rs"]
mod shelf;

fn main() {
    let words: Vec<String> = env::args().skip(1).filter(|word| word != "--bench").collect();
    let number = |at: usize| words[at].parse::<f64>().expect("a number");
    match words.iter().map(String::as_str).collect::<Vec<_>>()[..] {
        [] => {}
        ["shelf", ..] => processor::say(&shelf::shelf(number(1) as usize, number(2) as u64).toml()),
        [path, ..] => processor::say(&timed(path, number(1) as usize, number(2))),
    }
}

/// How long a brief took, as JSON.
fn timed(path: &str, alternatives: usize, seconds: f64) -> String {
    let bytes = fs::read(path).expect("a brief");
    let mut brief = read(&bytes, &[]).expect("a brief without findings").brief;
    brief.answer.alternatives = alternatives;
    let stop = after(seconds);
    let (cpu, start) = (processor::seconds(), Instant::now());
    let solved = solve(&brief, &stop);
    let wall = start.elapsed().as_secs_f64();
    let cpu = processor::seconds() - cpu;
    let line = serde_json::json!({
        "cpu": cpu,
        "wall": wall,
        "ending": match solved.ending {
            Ending::Found => "found",
            Ending::Conflict => "conflict",
            Ending::Stopped => "stopped",
        },
        "complete": solved.complete,
        "specs": solved.specs.len(),
        "score": solved.specs.first().map(|spec| spec.score),
        "bound": solved.bound,
    });
    line.to_string()
}

/// A flag that is raised after so many seconds of processor time, which other work does not use up.
fn after(seconds: f64) -> Arc<Stop> {
    let stop = Arc::new(Stop::default());
    let (flag, end) = (Arc::clone(&stop), processor::seconds() + seconds);
    thread::spawn(move || {
        while processor::seconds() < end {
            thread::sleep(Duration::from_millis(5));
        }
        flag.raise();
    });
    stop
}
