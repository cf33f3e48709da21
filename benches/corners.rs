//! What the search likes least, with the effort that the program sets itself: no strength target,
//! steps of 0.5 ml, twelve ingredients, ratios, distances, every composition, fifty groups, near
//! doubles. What is not proved within it ends as "stopped", with a bound.
//!
//! `cargo bench --bench corners` (`-- lowest` for the corners with that word in their names): each on five seeded shelves of 30 and of 60 candidates, the best and six
//! more sets. Times are processor times, which other work on the machine does not add to. It fails where
//! one takes more than two seconds and is not told as stopped, or is stopped without a bound.

use washline::brief::{Aim, Brief, Goal, Measure, Nearest, Resolution};
use washline::solve::{Ending, Solved, Stop, solve};

// The tests' own briefs; what only the tests need of them is unused here.
#[allow(dead_code)]
#[path = "../tests/answers/glass.rs"]
mod glass;
#[path = "../tests/answers/hard.rs"]
mod hard;
#[allow(dead_code)]
#[path = "../tests/answers/plan.rs"]
mod plan;
#[path = "peers/processor.rs"]
mod processor;
#[path = "../tests/answers/shelf.rs"]
mod shelf;

const SIZES: [usize; 2] = [30, 60];
const SEEDS: u64 = 5;
/// What no corner may take, in seconds, unless it is told as stopped.
const LONGEST: f64 = 2.0;

fn main() {
    let mut broken = vec![];
    processor::say(
        "| corner | candidates | median, worst ms | proved | best proved | stopped | furthest bound |",
    );
    processor::say("| --- | ---: | ---: | ---: | ---: | ---: | ---: |");
    let asked: Vec<String> = std::env::args().skip(1).filter(|word| !word.starts_with('-')).collect();
    let wanted = |name: &str| asked.is_empty() || asked.iter().any(|word| name.contains(word.as_str()));
    for (name, make) in hard::CORNERS.into_iter().filter(|(name, _)| wanted(name)) {
        for count in SIZES {
            let runs: Vec<Run> = (0..SEEDS).map(|seed| Run::of(&make(count, seed))).collect();
            processor::say(&line(name, count, &runs));
            if runs.iter().any(Run::is_a_fault) {
                broken.push(format!("{name}, {count} candidates"));
            }
            if let Some((to, runs)) = resolved(make, count) {
                processor::say(&line(&format!("{name}, to {to}"), count, &runs));
                if runs.iter().any(|run| run.solved.ending == Ending::Stopped) {
                    broken.push(format!("{name} to {to}, {count} candidates"));
                }
            }
        }
    }
    assert!(broken.is_empty(), "too long, or stopped without a bound: {}", broken.join("; "));
}

/// The same where smaller differences than a brief's usual ones do not matter; nothing of aims that are proved without.
fn resolved(make: fn(usize, u64) -> Brief, count: usize) -> Option<(f64, Vec<Run>)> {
    let to = match make(count, 0).aim {
        Aim::Lowest(Goal::Measure(Measure::Strength | Measure::SugarAcid)) => 0.1,
        Aim::Lowest(Goal::Measure(Measure::Energy)) | Aim::Nearest(Nearest::Reference) => 1.0,
        Aim::Nearest(Nearest::Middle) => 0.01,
        _ => return None,
    };
    let brief = |seed| Brief { resolution: Resolution::By(to), ..make(count, seed) };
    Some((to, (0..SEEDS).map(|seed| Run::of(&brief(seed))).collect()))
}

/// One brief, solved as the program does it.
struct Run {
    seconds: f64,
    solved: Solved,
    /// How far the bound is from the best score, as a share of it; nothing where there is no bound although
    /// there may be something to be found.
    gap: Option<f64>,
}

impl Run {
    fn of(brief: &Brief) -> Self {
        let start = processor::seconds();
        let solved = solve(brief, &Stop::within_reason());
        let seconds = processor::seconds() - start;
        let gap = match (solved.ending, solved.specs.first(), solved.bound) {
            (Ending::Conflict, ..) => Some(0.0),
            (_, Some(best), Some(bound)) => Some((best.score - bound).abs() / best.score.abs().max(1e-9)),
            (_, None, bound) => bound.map(|_| 0.0),
            (_, Some(_), None) => None,
        };
        Self { seconds, solved, gap }
    }

    fn is_a_fault(&self) -> bool {
        self.gap.is_none() || (self.seconds > LONGEST && self.solved.ending != Ending::Stopped)
    }
}

fn line(name: &str, count: usize, runs: &[Run]) -> String {
    let mut times: Vec<f64> = runs.iter().map(|run| run.seconds * 1e3).collect();
    times.sort_by(f64::total_cmp);
    let number = |which: &dyn Fn(&Solved) -> bool| runs.iter().filter(|run| which(&run.solved)).count();
    let stopped = number(&|solved| solved.ending == Ending::Stopped);
    let furthest = runs.iter().filter_map(|run| run.gap).fold(0.0, f64::max) * 100.0;
    format!(
        "| {name} | {count} | {:.1}, {:.1} | {} | {} | {stopped} | {furthest:.1} % |",
        times[times.len() / 2],
        times[times.len() - 1],
        number(&|solved| solved.complete),
        runs.len() - stopped,
    )
}
