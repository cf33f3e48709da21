//! One self-contained page: what to pour and how sure it is on the first screen, what it hangs on below.
//!
//! Card, strips, matrix and tables are functions from an answer to markup with ids that stay, so that a page
//! that is alive can put the same pieces in place.

mod bands;
mod batch;
mod card;
mod choice;
mod choices;
mod conflict;
mod curve;
mod fill;
mod glass;
mod imprint;
mod lane;
mod lists;
pub mod live;
mod look;
mod matrix;
mod menu;
mod page;
mod picture;
mod sections;
mod spec;
mod strips;
mod substitutes;
mod sweep;
mod table;
mod track;
mod way;

use crate::answer::{BatchAnswer, CheckAnswer, MenuAnswer, SpecAnswer, SubstitutesAnswer, SweepAnswer};
use crate::quantity::UnitSystem;
pub use imprint::Imprint;
use page::Part;

/// The answer to a brief as a page.
pub fn spec(answer: &SpecAnswer, units: UnitSystem, imprint: &Imprint) -> String {
    match &answer.conflict {
        Some(clash) => conflict::page(answer, clash, units).write(imprint),
        None => spec::page(answer, units).write(imprint),
    }
}

/// A given spec, measured, as a page.
pub fn check(answer: &CheckAnswer, units: UnitSystem, imprint: &Imprint) -> String {
    spec::checked(answer, units).write(imprint)
}

/// A batch as a page.
pub fn batch(answer: &BatchAnswer, units: UnitSystem, imprint: &Imprint) -> String {
    batch::page(answer, units).write(imprint)
}

/// What could take the place of an ingredient, as a page.
pub fn substitutes(answer: &SubstitutesAnswer, units: UnitSystem, imprint: &Imprint) -> String {
    substitutes::page(answer, units).write(imprint)
}

/// A trade-off curve as a page.
pub fn sweep(answer: &SweepAnswer, units: UnitSystem, imprint: &Imprint) -> String {
    sweep::page(answer, units).write(imprint)
}

/// A menu as a page.
pub fn menu(answer: &MenuAnswer, units: UnitSystem, imprint: &Imprint) -> String {
    menu::page(answer, units).write(imprint)
}

fn mind(cautions: &[String]) -> Option<Part> {
    (!cautions.is_empty()).then(|| Part::new("mind", "Mind", lists::sentences(cautions)))
}
