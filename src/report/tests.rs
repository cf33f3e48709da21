//! Every format of one answer side by side, kept as snapshots.

use super::gather::{check_answer, spec_answer};
use super::text::width;
use super::{Colour, Format, Look, exporter, fixture};
use crate::quantity::UnitSystem;
use crate::solve::{Ending, Solved};

#[test]
fn show() {
    let brief = fixture::brief();
    let solved = fixture::solved(&brief);
    let answer = spec_answer(&brief, &solved);
    for f in [Format::Text, Format::Markdown, Format::Csv, Format::Json] {
        eprintln!("{}", exporter(f, Look::default()).spec(&answer));
    }
    let check = check_answer(&brief, &solved.specs[2].pours);
    eprintln!("{}", exporter(Format::Text, Look::default()).check(&check));
    eprintln!(
        "{}",
        exporter(Format::Text, Look { units: UnitSystem::UsOunces, ..Look::default() }).spec(&answer)
    );
    let mut s2 = solved.clone();
    s2.ending = Ending::Stopped;
    s2.bound = Some(0.5);
    eprintln!("{}", exporter(Format::Text, Look::default()).spec(&spec_answer(&brief, &s2)));
    s2.ending = Ending::Conflict;
    s2.specs.clear();
    eprintln!("{}", exporter(Format::Text, Look::default()).spec(&spec_answer(&brief, &s2)));
    s2.unrounded = None;
    eprintln!("{}", exporter(Format::Text, Look::default()).spec(&spec_answer(&brief, &s2)));
}
