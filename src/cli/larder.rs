//! `washline larder [WORDS]`

use super::args::LarderArgs;
use super::exit::{Exit, Failure};
use super::output;
use crate::larder;
use crate::report::gather::{Detail, larder_answer};
use crate::report::{Look, exporter};

/// Lists the ingredients in which all words are found.
pub fn run(args: &LarderArgs) -> Result<Exit, Failure> {
    let found = larder::search(&args.words);
    if found.is_empty() {
        return Err(nothing(&args.words.join(" ")));
    }
    let detail = if args.sources { Detail::Sources } else { Detail::Figures };
    let look = Look { colour: output::colour_of_answers(), ..Look::default() };
    output::answer(&exporter(args.format.into(), look).larder(&larder_answer(&found, detail)))?;
    Ok(Exit::Answered)
}

/// Nothing found: what was probably meant is offered.
fn nothing(words: &str) -> Failure {
    let help = match larder::closest(words) {
        Some(entry) => format!("did you mean `{}`? `washline larder` lists everything", entry.name),
        None => "`washline larder` lists everything".to_owned(),
    };
    Failure::placeless("not-in-larder", format!("nothing in the larder goes by `{words}`"), help)
}
