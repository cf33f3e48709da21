//! How much of the long comparisons a run looks at.

use std::iter::StepBy;

/// Where this is set, as `.ci/run` does, they look at everything. A plain `cargo test` is to take minutes, and looks at
/// a share of it.
const EVERYTHING: &str = "WASHLINE_TEST_EVERYTHING";

/// One in how many is looked at, where one in `share` would do.
pub fn one_in(share: usize) -> usize {
    if std::env::var_os(EVERYTHING).is_some() { 1 } else { share }
}

/// One in so many of some cases.
#[allow(dead_code)]
pub fn some<I: IntoIterator>(cases: I, share: usize) -> StepBy<I::IntoIter> {
    cases.into_iter().step_by(one_in(share))
}
