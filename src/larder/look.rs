//! Finding an entry by its name, by words, or by what was probably meant.

use super::folded::folded;
use super::shelf::{Place, at};
use super::{Entry, all};

/// How unlike a name may be and still count as a slip of the pen: edits over the longer one's length.
/// Common practice, no source.
const SLIP: f64 = 0.34;

/// The entry of this name or other word. Letter case, accents and hyphens do not matter.
pub fn find(name: &str) -> Option<&'static Entry> {
    at(&folded(name)).map(Place::entry)
}

/// All entries that every word finds, in a name, another word, the role or the group; those with whole
/// words come first. No words: all of them.
pub fn search<S: AsRef<str>>(words: &[S]) -> Vec<&'static Entry> {
    let words: Vec<String> = words
        .iter()
        .flat_map(|w| folded(w.as_ref()).split([' ', ',', ';']).map(str::to_owned).collect::<Vec<_>>())
        .filter(|word| !word.is_empty())
        .collect();
    let mut found: Vec<(bool, &Entry)> =
        all().iter().filter_map(|entry| Some((hit(entry, &words)?, entry))).collect();
    found.sort_by_key(|(whole, _)| !whole);
    found.into_iter().map(|(_, entry)| entry).collect()
}

/// The entry that was probably meant: one slip of the pen away, else the first that all words find.
pub fn closest(name: &str) -> Option<&'static Entry> {
    let wanted = folded(name);
    if wanted.is_empty() {
        return None;
    }
    let unlike =
        |entry: &Entry| names(entry).map(|name| distance(&wanted, &folded(name))).fold(f64::MAX, f64::min);
    let near = all().iter().map(|entry| (unlike(entry), entry)).min_by(|a, b| a.0.total_cmp(&b.0));
    match near {
        Some((unlike, entry)) if unlike <= SLIP => Some(entry),
        _ => search(&[wanted]).first().copied(),
    }
}

/// Edits (with swaps of neighbours) over the length of the longer name, 0 to 1.
fn distance(a: &str, b: &str) -> f64 {
    1.0 - strsim::normalized_damerau_levenshtein(a, b)
}

fn names(entry: &Entry) -> impl Iterator<Item = &str> {
    std::iter::once(&entry.name).chain(&entry.also).map(String::as_str)
}

/// Whether every word is there (`Some`), and as a whole word (`true`).
fn hit(entry: &Entry, words: &[String]) -> Option<bool> {
    let text =
        names(entry).chain([entry.role.keyword(), entry.group.keyword()]).collect::<Vec<_>>().join(" ");
    let text = folded(&text);
    if !words.iter().all(|word| text.contains(word.as_str())) {
        return None;
    }
    Some(words.iter().all(|word| text.split([' ', ',', ';']).any(|part| part == word)))
}
