//! Good briefs are read, and mean what they say.

use washline::brief::{Aim, Goal, Measure, Role, Step};
use washline::read::read;

#[test]
fn own_figures_are_read() {
    let reading = read(include_bytes!("good/own-figures.toml"), &[]).expect("a brief");
    assert!(reading.warnings.is_empty());
    let brief = reading.brief;
    assert_eq!(brief.aim, Aim::Lowest(Goal::Measure(Measure::Strength)));
    let spirit = &brief.candidates[0];
    assert_eq!((spirit.role, spirit.label.strength), (Role::Base, 40.0));
    assert_eq!((spirit.step, spirit.least), (Step::Every(2.5), 2.5));
    assert_eq!(spirit.natural.strength.map(|r| (r.min, r.max)), Some((39.7, 40.3)));
}

#[test]
fn the_starter_reads_without_a_finding() {
    let reading = read(washline::read::starter().as_bytes(), &[]).expect("a brief");
    assert!(reading.warnings.is_empty());
}

#[test]
fn the_whole_format_is_read() {
    let reading = read(include_bytes!("good/damson-and-bay.toml"), &[]).expect("a brief");
    assert!(reading.warnings.is_empty());
}
