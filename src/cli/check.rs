//! `washline check BRIEF SPEC`

use super::args::CheckArgs;
use super::exit::{Exit, Failure, Sources};
use super::{input, output};
use crate::answer::{CheckAnswer, check_answer};
use crate::read::spec_line;

/// Measures the given spec and writes what it meets and misses.
pub fn run(args: &CheckArgs) -> Result<Exit, Failure> {
    output::refuse_existing(&args.show)?;
    let (reading, page) = input::read_page(&args.brief)?;
    let brief = reading.brief;
    let pours = spec_line::read(&args.spec, &brief).map_err(|findings| Failure::Findings {
        findings,
        sources: Sources::of("the spec", &args.spec, None),
    })?;
    let answer = CheckAnswer { asked: Some(args.brief.asked()), ..check_answer(&brief, &pours) };
    output::show(&args.show, &answer, &page.imprint())?;
    Ok(if answer.meets { Exit::Answered } else { Exit::Unmet })
}
