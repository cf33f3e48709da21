//! `washline spec BRIEF --swap OLD=?`: everything of a kind is tried.

use super::args::SpecArgs;
use super::exit::{Exit, Failure};
use super::progress::progress;
use super::{clock, input, output};
use crate::answer::{near_misses, substitutes_answer};
use crate::brief::Brief;
use crate::finding::Finding;
use crate::read::{ANY, Trials, trials};
use crate::scenario::swap::{misses, solve_each};

/// Whether a swap asks for everything of a kind.
pub fn asks_for_any(args: &SpecArgs) -> bool {
    args.brief.swaps.iter().any(|swap| swap.new == ANY)
}

/// Solves the brief with each of them and writes the ranked list.
pub fn run(args: &SpecArgs) -> Result<Exit, Failure> {
    let page = input::page_of(&args.brief)?;
    let trials = trials(&page.bytes, &page.changes).map_err(|findings| page.refused(findings))?;
    let trials = trials.ok_or_else(nothing)?;
    let briefs: Vec<Brief> =
        trials.trials.iter().filter_map(|t| Some(t.reading.as_ref().ok()?.brief.clone())).collect();
    let stop = clock::stop_after(args.time_limit);
    let progress = progress(briefs.len());
    let solved = solve_each(&briefs, clock::workers(), &stop, &|| progress.inc(1));
    progress.finish_and_clear();
    let Some(mut answer) = substitutes_answer(&trials, &solved) else {
        return Err(page.refused(refusals(&trials)));
    };
    if solved.iter().all(|solved| solved.specs.is_empty()) {
        answer.nearest = near_misses(&trials, &misses(&briefs, &solved, clock::workers(), &stop));
    }
    let imprint = page.imprint();
    answer.asked = Some(args.brief.asked());
    output::show(&args.show, &answer, &imprint)?;
    Ok(Exit::of_all(answer.ranked.iter().map(|ranked| ranked.outcome)))
}

fn nothing() -> Failure {
    Failure::placeless("bad-swap", "no swap asks for everything", "name what comes in")
}

/// Why nothing could be tried: what stood in the way of the first; or that there is nothing to try.
fn refusals(trials: &Trials) -> Vec<Finding> {
    let first = trials.trials.iter().find_map(|trial| trial.reading.as_ref().err());
    first.cloned().unwrap_or_else(|| {
        let what = format!("neither the brief nor the larder has another {}", trials.role.keyword());
        vec![Finding::placeless("bad-swap", what, "add one as a [[candidate]]")]
    })
}
