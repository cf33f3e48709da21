//! `washline batch BRIEF`

use super::args::BatchArgs;
use super::exit::{Exit, Failure};
use super::progress::Waiting;
use super::{clock, input, output, spec};
use crate::answer::batch_answer;
use crate::batch::{self, Order, Size, Unbatchable, Water};
use crate::brief::Brief;
use crate::quantity::{Amount, Unit, UnitSystem, number};
use crate::solve::{Ending, solve};

/// Solves the brief, makes a batch of the spec that is asked for, and writes it.
///
/// Where no spec meets the brief there is nothing to batch: the answer is that of `washline spec`.
pub fn run(args: &BatchArgs) -> Result<Exit, Failure> {
    output::refuse_existing(&args.show)?;
    let order = order(args)?;
    let (mut reading, page) = input::read_page(&args.brief)?;
    let imprint = page.imprint();
    let asked = &mut reading.brief.answer;
    asked.alternatives = asked.alternatives.max(args.alternative);
    let brief = &reading.brief;
    let stop = clock::stop_after(args.time_limit);
    let waiting = Waiting::on("Looking for the best spec");
    let solved = solve(brief, &stop);
    drop(waiting);
    if solved.specs.is_empty() {
        return spec::answered(&reading, &solved, &stop, (&args.brief, &args.show), &imprint);
    }
    let chosen = spec::chosen(&solved, args.alternative)?;
    let made = batch::batch(brief, chosen, &order).map_err(|why| refused(brief, why))?;
    let exit = if solved.ending == Ending::Stopped { Exit::Stopped } else { Exit::Answered };
    let mut answer = batch_answer(brief, chosen, args.alternative, solved.ending, &made);
    answer.asked = Some(args.brief.asked());
    output::show(&args.show, &answer, &imprint)?;
    Ok(exit)
}

fn order(args: &BatchArgs) -> Result<Order, Failure> {
    let size = match (&args.make, args.serves) {
        (Some(text), _) => Size::Volume(volume("--make", text)?),
        (None, Some(count)) => Size::Serves(f64::from(count)),
        (None, None) => Size::Serves(1.0),
    };
    let bottle = args.bottle.as_deref().map(|text| volume("--bottle", text)).transpose()?;
    let water = if args.dilute { Water::Added } else { Water::FromIce };
    let waste = args.waste.unwrap_or(0.0) / 100.0;
    Ok(Order { size, water, bottle, pour_cost: args.pour_cost, waste })
}

/// A volume over nothing.
fn volume(option: &str, text: &str) -> Result<f64, Failure> {
    let wrong = |what: String, help: String| Failure::placeless("bad-quantity", what, help);
    let amount = Amount::parse(text, Unit::Ml).map_err(|fault| {
        let help = if option == "--make" { in_serves(text) } else { None };
        wrong(format!("{option}: {}", fault.what), help.unwrap_or(fault.help))
    })?;
    let example = format!("write a volume, for example {option} \"700 ml\"");
    match amount.unit {
        Unit::G => Err(wrong(format!("{option}: {text} is a weight"), example)),
        Unit::Ml if amount.value <= 0.0 => Err(wrong(format!("{option}: {text} is nothing"), example)),
        Unit::Ml => Ok(amount.value),
    }
}

/// Where serves are asked for as if they were a volume: what they are asked for by.
fn in_serves(text: &str) -> Option<String> {
    let count: u32 =
        text.trim().trim_end_matches("serves").trim_end_matches("serve").trim_end().parse().ok()?;
    Some(format!("serves are counted by an option of their own: --serves {count}"))
}

fn refused(brief: &Brief, why: Unbatchable) -> Failure {
    match why {
        Unbatchable::UnderOneServe(each) => {
            let each = number::pour_about(Amount::ml(each), UnitSystem::Metric);
            let what = format!("that is less than one serve, which takes {each}");
            Failure::placeless("batch-too-small", what, "make one serve or more")
        }
        Unbatchable::TooLarge => Failure::placeless(
            "batch-too-large",
            format!("that is more than {} litres", number::fixed(batch::LARGEST / 1000.0, 0)),
            "check the number and its unit",
        ),
        Unbatchable::NothingStill => Failure::placeless(
            "nothing-to-batch",
            format!("everything in this spec of {} holds gas and has to be poured by the serve", brief.title),
            "take `carbonated` out of the handling of what is still",
        ),
        Unbatchable::Uncountable => Failure::placeless(
            "batch-too-large",
            "the figures of this batch are beyond what can be added up exactly",
            "check prices, packs and the size of the batch",
        ),
    }
}
