//! Where the time of a run goes: whole processes, and inside one the steps from the bytes of a demo
//! brief to the text of its answer.
//!
//! `cargo bench --bench start`. Each line is the least and the median of many runs; the first pass is
//! told apart, for a program that is started anew pays it every time.

use std::hint::black_box;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use washline::brief::Brief;
use washline::explain::{in_play, sensitivity, steps, variation};
use washline::read::read;
use washline::solve::{Solved, Stop, solve};

/// The demo of fourteen candidates.
const DEMO: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/problems-demo/low-strength.toml");
const PROGRAM: &str = env!("CARGO_BIN_EXE_washline");
/// How often a process is started, and a step repeated.
const RUNS: usize = 30;

fn main() {
    let bytes = std::fs::read(DEMO).expect("a demo");
    row("read", || read(&bytes, &[]).is_ok());
    let brief = read(&bytes, &[]).expect("a brief").brief;
    row("solve: best", || solve(&alone(&brief), &Stop::default()));
    row("solve: best and six", || solve(&brief, &Stop::default()));
    let solved: Solved = solve(&brief, &Stop::default());
    row("explain: who is in play", || in_play::in_play(&brief, &solved, &Stop::default()));
    row("explain: what waits behind limits", || steps::next_pourable(&brief, &solved, &Stop::default()));
    row("explain: sensitivity", || sensitivity::sensitivity(&brief, &solved, &Stop::default()));
    row("explain: service", || variation::service(&brief, &solved.specs[0].pours));
    for arguments in [
        &["--version"][..],
        &["schema"],
        &["larder", "verjus"],
        &["check", DEMO, "30 ml aged rum"],
        &["spec", DEMO],
    ] {
        let name = format!("process: {}", arguments.join(" ").replace(env!("CARGO_MANIFEST_DIR"), "."));
        row(&name, || {
            let mut command = Command::new(PROGRAM);
            command.args(arguments).stdout(Stdio::null()).stderr(Stdio::null()).status().is_ok()
        });
    }
}

fn alone(brief: &Brief) -> Brief {
    let mut brief = brief.clone();
    brief.answer.alternatives = 0;
    brief
}

/// Runs a step many times and says how long it took.
fn row<T>(name: &str, mut step: impl FnMut() -> T) {
    let mut times: Vec<Duration> = (0..RUNS)
        .map(|_| {
            let start = Instant::now();
            black_box(step());
            start.elapsed()
        })
        .collect();
    let first = times[0];
    times.sort();
    let ms = |time: Duration| time.as_secs_f64() * 1e3;
    say(&format!(
        "{name:<50} first {:8.3} ms   least {:8.3} ms   median {:8.3} ms",
        ms(first),
        ms(times[0]),
        ms(times[RUNS / 2])
    ));
}

#[expect(clippy::print_stdout, reason = "a benchmark's report")]
fn say(line: &str) {
    println!("{line}");
}
