//! `washline spec BRIEF --swap OLD=?`: everything of a kind is tried.

use super::args::SpecArgs;
use super::exit::{Exit, Failure};
use super::progress::Progress;
use super::{clock, input, output};
use crate::answer::{Outcome, near_misses, substitutes_answer};
use crate::brief::Brief;
use crate::finding::Finding;
use crate::read::{ANY, Trials, trials};
use crate::render::{html, write};
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
    let progress = Progress::new(briefs.len());
    let solved = solve_each(&briefs, clock::workers(), &stop, &|| progress.step());
    progress.finish();
    let Some(mut answer) = substitutes_answer(&trials, &solved) else {
        return Err(page.refused(refusals(&trials)));
    };
    if solved.iter().all(|solved| solved.specs.is_empty()) {
        answer.nearest = near_misses(&trials, &misses(&briefs, &solved, clock::workers(), &stop));
    }
    let imprint = page.imprint(&args.brief);
    answer.asked = Some(args.brief.asked());
    output::report(&args.show, |units| html::write(&answer, units, &imprint))?;
    let text = write(&answer, args.show.format.into(), output::look(&args.show));
    output::deliver(&text, &args.show)?;
    let some = |outcome: Outcome| answer.ranked.iter().any(|s| s.outcome == outcome);
    Ok(match (some(Outcome::Stopped), some(Outcome::Found)) {
        (true, _) => Exit::Stopped,
        (false, true) => Exit::Answered,
        (false, false) => Exit::Unmet,
    })
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
