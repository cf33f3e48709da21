//! `washline model BRIEF --as lp|mps`

use super::args::ModelArgs;
use super::exit::{Exit, Failure};
use super::{clock, input, output};
use crate::export::program::program;
use crate::export::write;
use crate::model::Pours;
use crate::solve::Ending;

/// Writes the program behind the brief. It answers whether or not a spec meets the brief: the program
/// is the answer.
pub fn run(args: &ModelArgs) -> Result<Exit, Failure> {
    let brief = input::read_page(&args.brief)?.0.brief;
    let stop = clock::stop_after(args.time_limit);
    let pours = if args.free { Pours::Free } else { Pours::Steps };
    let exported = program(&brief, pours, &stop);
    output::answer(&write(&exported, args.form))?;
    Ok(if exported.ending == Ending::Stopped { Exit::Stopped } else { Exit::Answered })
}
