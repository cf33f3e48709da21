//! What a brief may ask for and this version cannot do yet: said plainly instead of passed over.
//!
//! Once a feature is built, its line goes, and what `tests/bad/not-built-yet.toml` asks of it.

use std::ops::Range;

use crate::brief::{Brief, HoldFor};
use crate::read::codes;
use crate::read::file::File;
use crate::read::findings::Findings;

/// A feature: what it is called, and where a brief asks for it.
type Feature = (&'static str, fn(&File, &Brief) -> Option<Range<usize>>);

const NOT_BUILT_YET: &[Feature] = &[("holding targets for the natural ranges", |file, brief| {
    let hold = file.variation.as_ref()?.hold.as_ref()?;
    (brief.variation.hold != HoldFor::Typical).then(|| hold.place())
})];

/// Checks for features that are not built yet.
pub fn check(file: &File, brief: &Brief, findings: &mut Findings) {
    for (feature, asked) in NOT_BUILT_YET {
        if let Some(place) = asked(file, brief) {
            let what = format!("{feature} is not built yet");
            findings.error(codes::NOT_BUILT_YET, place, what, "leave it out for now");
        }
    }
}
