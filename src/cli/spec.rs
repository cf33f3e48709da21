//! `washline spec BRIEF`

use super::args::SpecArgs;
use super::exit::{Exit, Failure};
use super::{clock, input, output};
use crate::explain::explain;
use crate::report::exporter;
use crate::report::gather::{Outcome, explained};
use crate::solve::solve;

/// Solves the brief and writes the answer.
pub fn run(args: &SpecArgs) -> Result<Exit, Failure> {
    output::refuse_existing(&args.show)?;
    let brief = input::brief(&args.brief, &args.show)?;
    let stop = clock::stop_after(args.time_limit);
    let solved = solve(&brief, &stop);
    let answer = explained(&brief, &solved, &explain(&brief, &solved, &stop));
    let writer = exporter(args.show.format.into(), output::look(&args.show));
    output::deliver(&writer.spec(&answer), &args.show)?;
    Ok(match answer.outcome {
        Outcome::Found => Exit::Answered,
        Outcome::Conflict => Exit::Unmet,
        Outcome::Stopped => Exit::Stopped,
    })
}
