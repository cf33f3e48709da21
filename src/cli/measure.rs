//! `washline measure LINE`

use super::args::MeasureArgs;
use super::exit::{Exit, Failure};
use super::{input, output};
use crate::draft;
use crate::render::measure::{Reader, measure_answer};
use crate::render::{Extent, Format, small};

/// Measures the line and says which family it is near.
pub fn run(args: &MeasureArgs) -> Result<Exit, Failure> {
    let house = args.house.as_deref().map(input::house).transpose()?;
    let drink = draft::measured(&args.line, args.method, house.as_ref())
        .map_err(|findings| Failure::of_line(&args.line, house.as_deref(), findings))?;
    let reader = Reader { celsius: args.temperature, vessel: args.vessel };
    let answer = measure_answer(&drink.brief, &drink.pours, reader);
    let extent = match args.only {
        Some(part) => Extent::Only(part),
        // A spreadsheet has room for everything.
        None if args.full || args.format == Format::Csv => Extent::Full,
        None => Extent::Screen,
    };
    let document = answer.document(args.units, extent);
    output::answer(&small(&document, &answer.json(), args.format, output::plain_look()))?;
    Ok(Exit::Answered)
}
