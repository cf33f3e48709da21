//! From damaged values to a whole answer: solved, explained, written in every form; and every figure that
//! is shown is the drink's, by a second physics.

use std::collections::BTreeMap;
use std::sync::Mutex;
use std::time::Duration;

use super::run::{further, over};
use super::shown;
use super::values::file;
use crate::effort;

/// A search of a brief of this size that needs longer is given up.
const PATIENCE: Duration = Duration::from_secs(5);

/// Answers the briefs of the seeds, some of which have an answer, some a conflict and some only findings.
fn answer(seeds: impl Iterator<Item = u64> + Clone + Send) {
    let ends: Mutex<BTreeMap<&str, u64>> = Mutex::default();
    over(seeds, |seed| {
        let end = shown::answer(&file(seed), PATIENCE)?;
        if let Ok(mut ends) = ends.lock() {
            *ends.entry(end).or_default() += 1;
        }
        Ok(())
    });
    let ends = ends.into_inner().expect("no check panicked");
    let some = |end: &str| ends.contains_key(end);
    assert!(some("found") && some("conflict") && some("refused"), "{ends:?}");
}

#[test]
fn no_brief_breaks_an_answer() {
    answer(effort::some(0..40, 3));
}

#[test]
#[ignore = "minutes"]
fn no_brief_of_very_many_breaks_an_answer() {
    answer(further(40, 5_960));
}
