//! `washline compare BRIEF [NAME…]`

use super::args::{BriefArgs, CompareArgs};
use super::exit::{Exit, Failure};
use super::progress::Waiting;
use super::{clock, input, output};
use crate::brief::Pour;
use crate::read::Reading;
use crate::render::compare::{Compared, compare_answer, tasted_besides};
use crate::render::small;
use crate::solve::{Ending, solve};

/// Sets kept specs, the reference and the present best side by side.
pub fn run(args: &CompareArgs) -> Result<Exit, Failure> {
    let brief = BriefArgs { brief: args.brief.clone(), settings: args.settings.clone(), swaps: Vec::new() };
    let (reading, _) = input::read_page(&brief)?;
    let mut specs = known(&reading, &args.names)?;
    let stop = clock::stop_after(args.time_limit);
    let waiting = Waiting::on("Looking for the best spec");
    let solved = solve(&reading.brief, &stop);
    drop(waiting);
    let best = solved.specs.first();
    // What was tasted and is what is poured now has a name already.
    let known: Vec<Compared> = specs.iter().cloned().chain(best.map(|best| of_best(&best.pours))).collect();
    if args.names.is_empty() {
        specs.extend(tasted_besides(&reading.brief, &known));
    }
    if let Some(best) = best {
        specs.push(of_best(&best.pours));
    }
    let (document, object) = compare_answer(&reading.brief, &specs, args.units);
    output::answer(&small(&document, &object, args.format, output::plain_look()))?;
    Ok(match (solved.ending, solved.specs.is_empty()) {
        (Ending::Stopped, _) => Exit::Stopped,
        (_, true) => Exit::Unmet,
        (_, false) => Exit::Answered,
    })
}

/// The present best.
fn of_best(pours: &[Pour]) -> Compared {
    Compared { name: "best now".to_owned(), date: String::new(), pours: pours.to_vec() }
}

/// The reference, then what is kept: all of it, or what is named.
fn known(reading: &Reading, names: &[String]) -> Result<Vec<Compared>, Failure> {
    let all = || reading.kept.iter().map(|kept| kept.name.as_str());
    if let Some(unknown) = names.iter().find(|name| !all().any(|kept| kept == name.as_str())) {
        let help = match all().collect::<Vec<_>>().as_slice() {
            [] => "keep one with `washline spec BRIEF --keep NAME`".to_owned(),
            kept => format!("it keeps {}", kept.join(", ")),
        };
        return Err(Failure::placeless(
            "unknown-name",
            format!("the brief keeps no spec \"{unknown}\""),
            help,
        ));
    }
    let reference = reading.brief.reference.iter().map(|reference| Compared {
        name: "reference".to_owned(),
        date: String::new(),
        pours: reference.pours.clone(),
    });
    let wanted = |name: &String| names.is_empty() || names.contains(name);
    let kept = reading.kept.iter().filter(|kept| wanted(&kept.name)).map(|kept| Compared {
        name: kept.name.clone(),
        date: kept.date.clone(),
        pours: kept.pours.clone(),
    });
    Ok(reference.chain(kept).collect())
}
