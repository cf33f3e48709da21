//! A batch as a page: what goes in with its strips; the rest as text has it.

use maud::html;

use super::fill::Palette;
use super::page::{Page, Paged};
use super::picture::Said;
use super::sections::parts;
use super::strips::{Strays, strips};
use super::table::bare;
use crate::answer::BatchAnswer;
use crate::quantity::UnitSystem;
use crate::render::document::{Block, Part, Told as _, into_vessel};
use crate::render::words::batch as said;
use crate::solve::Ending;

impl Paged for BatchAnswer {
    /// The page of a batch.
    fn page(&self, units: UnitSystem) -> Page<'_> {
        let palette = Palette::of([&self.one]);
        let vessel = said::vessel_sentences(self, units);
        let first = html! {
            section.specs aria-label="The batch" {
                div.spec.only {
                    article.card id="card-0" aria-labelledby="card-0-t" {
                        h2 id="card-0-t" { "Into the vessel" }
                        (bare(&into_vessel(self, units), &palette, "pours"))
                        @for sentence in vessel.iter().skip(1) { p.method { (Said(sentence)) } }
                    }
                    (strips(&self.frame, &self.one, Strays::default(), 0, units))
                }
            }
        };
        let which = match self.alternative {
            0 => String::new(),
            n => format!(", alternative {n}"),
        };
        let stopped = self.outcome == Ending::Stopped;
        let spend = format!(
            "{} a serve by use; the packs come to {}.",
            self.money.write(self.costing.per_serve.0),
            self.money.write(self.costing.spend.0)
        );
        let unproved = stopped.then(|| said::UNPROVED.to_owned());
        let said: Vec<String> =
            unproved.into_iter().chain(vessel.into_iter().take(1)).chain([spend]).collect();
        let mut document = self.full(units);
        for section in &mut document.sections {
            if section.part == Part::Measured {
                let met = "Measured again from the rounded amounts, one serve meets every target.";
                let met = self.misses.is_empty().then(|| Block::plain(met));
                section.blocks.extend(met.into_iter().chain([Block::plain(said::ROUNDING)]));
            }
        }
        Page {
            parts: parts(&document, &[Part::Vessel, Part::Asked], &said, &palette),
            kind: format!("A batch of {}{which}", said::serves(self)),
            title: &self.title,
            said,
            warned: stopped,
            palette,
            first,
            script: None,
        }
    }
}
