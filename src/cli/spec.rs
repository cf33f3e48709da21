//! `washline spec BRIEF`

use super::args::{ShowArgs, SpecArgs};
use super::exit::{Exit, Failure};
use super::{clock, input, output};
use crate::brief::Brief;
use crate::explain::explain;
use crate::report::gather::{Outcome, explained};
use crate::report::{exporter, html};
use crate::solve::{Solved, Stop, solve};

/// Solves the brief and writes the answer.
pub fn run(args: &SpecArgs) -> Result<Exit, Failure> {
    output::refuse_existing(&args.show)?;
    let brief = input::brief(&args.brief)?;
    let stop = clock::stop_after(args.time_limit);
    let solved = solve(&brief, &stop);
    answered(&brief, &solved, &stop, &args.show)
}

/// Writes the answer to a brief with its reasons.
pub fn answered(brief: &Brief, solved: &Solved, stop: &Stop, show: &ShowArgs) -> Result<Exit, Failure> {
    let answer = explained(brief, solved, &explain(brief, solved, stop));
    output::report(show, |units| html::spec(&answer, units))?;
    let writer = exporter(show.format.into(), output::look(show));
    output::deliver(&writer.spec(&answer), show)?;
    Ok(match answer.outcome {
        Outcome::Found => Exit::Answered,
        Outcome::Conflict => Exit::Unmet,
        Outcome::Stopped => Exit::Stopped,
    })
}
