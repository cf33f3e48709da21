//! `washline measure LINE`

use super::args::MeasureArgs;
use super::exit::{Exit, Failure, Sources};
use super::{input, output};
use crate::read::from;
use crate::report::gather::measure_answer;
use crate::report::sheet;

/// Measures the line and says which family it is near.
pub fn run(args: &MeasureArgs) -> Result<Exit, Failure> {
    let house = args.house.as_deref().map(input::house).transpose()?;
    let drink = from::measured(&args.line, args.method, house.as_ref()).map_err(|findings| {
        Failure::Findings { findings, sources: Sources::of_line(&args.line, house.as_deref()) }
    })?;
    let answer = measure_answer(&drink.brief, &drink.pours, from::method_word(args.method));
    output::answer(&sheet::write(&answer.sheet(args.units.into()), &answer.json(), args.format.into()))?;
    Ok(Exit::Answered)
}
