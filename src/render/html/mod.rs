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

use crate::answer::SpecAnswer;
use crate::quantity::UnitSystem;
pub use imprint::Imprint;
pub use page::Paged;
use page::{Page, Part};

/// An answer as a page.
pub fn write(answer: &impl Paged, units: UnitSystem, imprint: &Imprint) -> String {
    answer.page(units).write(imprint)
}

impl Paged for SpecAnswer {
    fn page(&self, units: UnitSystem) -> Page<'_> {
        match &self.conflict {
            Some(clash) => conflict::page(self, clash, units),
            None => spec::page(self, units),
        }
    }
}

fn mind(cautions: &[String]) -> Option<Part> {
    (!cautions.is_empty()).then(|| Part::new("mind", "Mind", lists::sentences(cautions)))
}
