//! `washline flight BRIEF --along MEASURE`

use super::args::{FlightArgs, LookArgs, ShowArgs};
use super::exit::{Exit, Failure};
use super::progress::Waiting;
use super::{clock, input, keep, output, spec};
use crate::answer::{Draw, flight_answer};
use crate::brief::Brief;
use crate::quantity::NotAQuantity;
use crate::quantity::number::trimmed;
use crate::read::{Reading, figure_of, measure_named};
use crate::scenario::flight::{Along, End, NoFlight, Wish, around, best};
use crate::solve::Ending;

/// More glasses than this nobody tastes.
const MOST: usize = 36;

/// Pours the flight and writes its card; the key stands apart.
pub fn run(args: &FlightArgs) -> Result<Exit, Failure> {
    let show = keep::show(&args.show, args.keep.then_some(&args.brief))?;
    let (reading, page) = input::read_page(&args.brief)?;
    let brief = &reading.brief;
    let wishes = wishes(args, brief)?;
    let stop = clock::stop_after(args.time_limit);
    let waiting = Waiting::on("Looking for the glasses");
    let (best, ending) = match best(brief, &stop) {
        Ok(found) => found,
        Err(NoFlight::NoSpec(solved)) => {
            drop(waiting);
            let imprint = page.imprint();
            // A conflict has other parts than a flight.
            let show = ShowArgs { look: LookArgs { only: None, ..show.look }, ..show };
            return spec::answered(&reading, &solved, &stop, (&args.brief, &show), &imprint);
        }
        Err(none) => return Err(no_flight(brief, &[], &none)),
    };
    let ways: Vec<(Along, [End; 2])> = wishes.iter().map(|wish| wish.way(brief, &best)).collect();
    let (along, ends): (Vec<Along>, Vec<[End; 2]>) = ways.into_iter().unzip();
    along.iter().try_for_each(|way| steps(brief, way))?;
    let flight =
        around(brief, (&best, ending), &along, &stop).map_err(|none| no_flight(brief, &along, &none))?;
    drop(waiting);
    let taken: Vec<String> = taken(&reading);
    let draw = Draw { seed: args.seed.map(u64::from), taken: &taken };
    let mut answer = flight_answer(brief, &flight, &ends, draw);
    answer.asked = Some(args.brief.asked());
    if args.keep {
        keep::keep_all(&args.brief, brief, &answer.by_code(&flight))?;
    }
    output::show_text(&show, &answer)?;
    Ok(if answer.outcome == Ending::Stopped { Exit::Stopped } else { Exit::Answered })
}

/// Names that something is kept under already.
fn taken(reading: &Reading) -> Vec<String> {
    reading.kept.iter().map(|kept| kept.name.clone()).collect()
}

/// What is asked to step.
fn wishes(args: &FlightArgs, brief: &Brief) -> Result<Vec<Wish>, Failure> {
    let count = args.along.len();
    let wrong = |what: String, help: &str| Failure::placeless("bad-flight", what, help);
    if count > 2 {
        return Err(wrong("a flight steps along one measure or two".to_owned(), "leave one --along out"));
    }
    for (option, given) in
        [("--glasses", args.glasses.len()), ("--from", args.from.len()), ("--to", args.to.len())]
    {
        let most = if option == "--glasses" { count.max(1) } else { count };
        if given > most {
            let help = "give it once for each --along, in the same order";
            return Err(wrong(format!("there are more {option} than --along"), help));
        }
    }
    if count == 2 && (args.from.len() == 1 || args.to.len() == 1) {
        let help = "give them twice, in the order of the two --along, or leave them out";
        return Err(wrong("--from and --to are for one of the two measures: for which?".to_owned(), help));
    }
    let wish = |at: usize| -> Result<Wish, Failure> {
        let measure = measure_named(brief, &args.along[at]).map_err(|fault| refused("--along", fault))?;
        let end = |option: &'static str, given: &[String]| {
            given
                .get(at)
                .map(|text| figure_of(brief, measure, text).map_err(|fault| refused(option, fault)))
                .transpose()
        };
        let glasses = args.glasses.get(at).or(args.glasses.first()).copied();
        let glasses = glasses.unwrap_or(if count == 2 { 3 } else { 5 });
        Ok(Wish { measure, glasses, from: end("--from", &args.from)?, to: end("--to", &args.to)? })
    };
    let wishes = (0..count).map(wish).collect::<Result<Vec<Wish>, Failure>>()?;
    if let [one, other] = wishes.as_slice()
        && one.measure == other.measure
    {
        let name = brief.measure_name(one.measure);
        return Err(wrong(format!("both --along are {name}"), "name two measures, or one"));
    }
    let all: usize = wishes.iter().map(|wish| wish.glasses).product();
    if all > MOST {
        let what = format!("that would be {all} glasses, more than anybody can tell apart in one sitting");
        return Err(wrong(what, "ask for fewer --glasses: 3 along each measure make 9"));
    }
    Ok(wishes)
}

fn refused(option: &str, fault: NotAQuantity) -> Failure {
    Failure::placeless("bad-flight", format!("{option}: {}", fault.what), fault.help)
}

/// Refuses a way on which nothing steps.
fn steps(brief: &Brief, along: &Along) -> Result<(), Failure> {
    if along.steps() {
        return Ok(());
    }
    let name = brief.measure_name(along.measure).replace('_', " ");
    let what = if along.from.is_finite() && along.to.is_finite() {
        let unit = brief.measure_unit(along.measure);
        format!("there is nothing to step along: {name} goes from {0} to {0} {unit}", trimmed(along.from, 3))
    } else {
        format!("{name} is not known of the best spec, so there is no way along it")
    };
    Err(Failure::placeless(
        "bad-flight",
        what.trim_end(),
        "say --from and --to, or step along another measure",
    ))
}

/// Why there is no flight.
fn no_flight(brief: &Brief, along: &[Along], none: &NoFlight) -> Failure {
    let (what, help) = match none {
        NoFlight::OutOfReach(places) => {
            let at = |(along, place): (&Along, &f64)| {
                let (name, unit) = (brief.measure_name(along.measure), brief.measure_unit(along.measure));
                format!("{} {} {unit}", name.replace('_', " "), trimmed(*place, 3)).trim_end().to_owned()
            };
            let places: Vec<String> = along.iter().zip(places).map(at).collect();
            let what =
                format!("no pours of the best spec's ingredients come anywhere near {}", places.join(", "));
            (what, "bring --from and --to nearer to what the brief asks for")
        }
        _ => (
            "the search was stopped before every glass had a spec".to_owned(),
            "give it more time with --time-limit, or ask for fewer glasses",
        ),
    };
    Failure::placeless("no-flight", what, help)
}
