//! What only the whole brief can tell: one question a file.

mod bound;
mod counts;
mod needs;
mod prices;

use super::file::File;
use super::findings::Findings;
use crate::brief::Brief;

/// Judges the brief as a whole.
pub fn check(file: &File, brief: &Brief, findings: &mut Findings) {
    counts::check(file, brief, findings);
    needs::check(file, brief, findings);
    prices::check(file, brief, findings);
    bound::check(file, brief, findings);
}
