//! `washline larder [WORDS]`

use super::args::LarderArgs;
use super::exit::{Exit, Failure};
use super::output;
use crate::larder::{self, Entry};
use crate::report::gather::{Detail, larder_answer};
use crate::report::{Look, exporter};

/// Lists the ingredients in which all words are found.
pub fn run(args: &LarderArgs) -> Result<Exit, Failure> {
    let words: Vec<String> =
        args.words.iter().flat_map(|w| w.split_whitespace()).map(str::to_lowercase).collect();
    let found: Vec<&Entry> = larder::all().iter().filter(|e| words.iter().all(|w| mentions(e, w))).collect();
    if found.is_empty() {
        return Err(nothing(&words.join(" ")));
    }
    let detail = if args.sources { Detail::Sources } else { Detail::Figures };
    let look = Look { colour: output::colour_of_answers(), ..Look::default() };
    output::answer(&exporter(args.format.into(), look).larder(&larder_answer(&found, detail)))?;
    Ok(Exit::Answered)
}

fn mentions(entry: &Entry, word: &str) -> bool {
    let names = std::iter::once(&entry.name).chain(&entry.also);
    let found = |text: &str| text.to_lowercase().contains(word);
    names.into_iter().any(|name| found(name))
        || found(entry.role.keyword())
        || entry.allergens.iter().any(|a| found(a.keyword()))
}

/// Nothing found: the names that come closest are offered.
fn nothing(words: &str) -> Failure {
    let mut near: Vec<(f64, &str)> = larder::all()
        .iter()
        .map(|e| (strsim::jaro_winkler(words, &e.name), e.name.as_str()))
        .filter(|(likeness, _)| *likeness > 0.7)
        .collect();
    near.sort_by(|a, b| b.0.total_cmp(&a.0));
    let names: Vec<String> = near.iter().take(3).map(|(_, name)| format!("`{name}`")).collect();
    let help = if names.is_empty() {
        "`washline larder` lists everything".to_owned()
    } else {
        format!("did you mean {}? `washline larder` lists everything", names.join(", "))
    };
    Failure::placeless("not-in-larder", format!("nothing in the larder goes by `{words}`"), help)
}
