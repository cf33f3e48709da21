//! `washline larder [WORDS]`

use super::args::LarderArgs;
use super::exit::{Exit, Failure};
use super::{input, output};
use crate::answer::{Detail, LarderLine, house_lines, larder_answer};
use crate::larder;
use crate::read::shelf_of;
use crate::render::measure::{families, families_json};
use crate::render::{small, write};

/// Lists the ingredients in which all words are found, or the families.
pub fn run(args: &LarderArgs) -> Result<Exit, Failure> {
    if args.families {
        output::answer(&small(&families(), &families_json(), args.format, output::plain_look()))?;
        return Ok(Exit::Answered);
    }
    let at_home = at_home(args)?;
    let found = larder::search(&args.words);
    if found.is_empty() && at_home.is_empty() {
        return Err(nothing(&args.words.join(" ")));
    }
    let detail = if args.sources { Detail::Sources } else { Detail::Figures };
    let mut answer = larder_answer(&found, detail);
    answer.ingredients.splice(0..0, at_home);
    output::answer(&write(&answer, args.format, output::plain_look()))?;
    Ok(Exit::Answered)
}

/// What the house has of it.
fn at_home(args: &LarderArgs) -> Result<Vec<LarderLine>, Failure> {
    let Some(path) = &args.house else { return Ok(Vec::new()) };
    let house = input::house(path)?;
    let shelf = shelf_of(&house).map_err(|findings| Failure::of_line("", Some(&house), findings))?;
    Ok(house_lines(&shelf, &args.words))
}

/// Nothing found: what was probably meant is offered.
fn nothing(words: &str) -> Failure {
    let help = match larder::closest(words) {
        Some(entry) => format!("did you mean `{}`? `washline larder` lists everything", entry.name),
        None => "`washline larder` lists everything".to_owned(),
    };
    Failure::placeless("not-in-larder", format!("nothing in the larder goes by `{words}`"), help)
}
