//! `washline spec BRIEF`

use super::args::{BriefArgs, ShowArgs, SpecArgs};
use super::exit::{Exit, Failure};
use super::progress::Waiting;
use super::{clock, input, keep, output, proof, swap, write};
use crate::answer::{check_answer, explained, swap_line, track};
use crate::brief::Brief;
use crate::explain::{Explanation, explain};
use crate::read::Reading;
use crate::render::html::Imprint;
use crate::solve::{Ending, Solved, Spec, Stop, solve};

/// Solves the brief and writes the answer.
pub fn run(args: &SpecArgs) -> Result<Exit, Failure> {
    output::refuse_existing(&args.show)?;
    if let Some(path) = &args.proof {
        write::refuse_existing(path, output::existing(&args.show))?;
    }
    if swap::asks_for_any(args) && args.proof.is_some() {
        let what = "a list of substitutes is not proved as one answer";
        return Err(Failure::placeless("swap-any", what, "name one: --swap \"lime juice=verjus\""));
    }
    if swap::asks_for_any(args) {
        return swap::run(args);
    }
    if args.keep.is_some() {
        keep::refuse(&args.brief)?;
    }
    let (mut reading, page) = input::read_page(&args.brief)?;
    if let Some(number) = args.alternative {
        let asked = &mut reading.brief.answer;
        asked.alternatives = asked.alternatives.max(number);
    }
    let stop = clock::stop_after(args.time_limit);
    let waiting = Waiting::on("Looking for the best spec");
    let solved = solve(&reading.brief, &stop);
    drop(waiting);
    if let Some((name, best)) = args.keep.as_deref().zip(solved.specs.first()) {
        keep::keep_all(&args.brief, &reading.brief, &[(name.to_owned(), best)])?;
    }
    let imprint = page.imprint();
    if let Some(number) = args.alternative.filter(|_| !solved.specs.is_empty()) {
        return whole(&reading.brief, &solved, number, (args, &imprint));
    }
    let Some(path) = &args.proof else {
        return answered(&reading, &solved, &stop, (&args.brief, &args.show), &imprint);
    };
    let explanation = reasons(&reading.brief, &solved, &stop);
    let brief = (&page, &reading.brief);
    proof::keep(path, brief, (&solved, &explanation), (&args.show, &stop))?;
    told(&reading, (&solved, &explanation), (&args.brief, &args.show), &imprint)
}

/// Writes one of the specs whole, as a check of it: card, figures beside their limits, service.
fn whole(
    brief: &Brief,
    solved: &Solved,
    number: usize,
    (args, imprint): (&SpecArgs, &Imprint),
) -> Result<Exit, Failure> {
    let mut answer = check_answer(brief, &chosen(solved, number)?.pours);
    answer.asked = Some(args.brief.asked());
    output::show(&args.show, &answer, imprint)?;
    Ok(if solved.ending == Ending::Stopped { Exit::Stopped } else { Exit::Answered })
}

/// The spec of this number; 0 is the best.
pub fn chosen(solved: &Solved, alternative: usize) -> Result<&Spec, Failure> {
    solved.specs.get(alternative).ok_or_else(|| {
        let (what, help) = match solved.specs.len() - 1 {
            0 => ("this brief has no alternatives".to_owned(), "leave --alternative out".to_owned()),
            1 => ("this brief has only one alternative".to_owned(), "ask for --alternative 1".to_owned()),
            count => (
                format!("this brief has only {count} alternatives"),
                format!("ask for one from 1 to {count}"),
            ),
        };
        Failure::placeless("no-such-alternative", what, format!("{help}; `washline spec` lists them"))
    })
}

/// Writes the answer to a brief with its reasons.
pub fn answered(
    reading: &Reading,
    solved: &Solved,
    stop: &Stop,
    (asked, show): (&BriefArgs, &ShowArgs),
    imprint: &Imprint,
) -> Result<Exit, Failure> {
    told(reading, (solved, &reasons(&reading.brief, solved, stop)), (asked, show), imprint)
}

fn reasons(brief: &Brief, solved: &Solved, stop: &Stop) -> Explanation {
    let waiting = Waiting::on("Looking for the reasons");
    let explanation = explain(brief, solved, stop);
    drop(waiting);
    explanation
}

/// Writes an answer whose reasons are known.
fn told(
    reading: &Reading,
    (solved, explanation): (&Solved, &Explanation),
    (asked, show): (&BriefArgs, &ShowArgs),
    imprint: &Imprint,
) -> Result<Exit, Failure> {
    let brief = &reading.brief;
    let mut answer = explained(brief, solved, explanation);
    answer.asked = Some(asked.asked());
    answer.track = track(brief, &reading.kept, solved.specs.first());
    answer.swap = reading.swapped.as_ref().map(|swapped| swap_line(brief, swapped));
    output::show(show, &answer, imprint)?;
    Ok(match answer.outcome {
        Ending::Found => Exit::Answered,
        Ending::Conflict => Exit::Unmet,
        Ending::Stopped => Exit::Stopped,
    })
}
