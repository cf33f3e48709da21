//! A batch as a page: what goes in with its strips; the rest as text has it.

use maud::html;

use super::fill::Palette;
use super::page::{Heading, Page, Tone};
use super::picture::Said;
use super::sections::parts;
use super::strips::{Strays, strips};
use super::table::bare;
use crate::answer::{BatchAnswer, Outcome};
use crate::quantity::UnitSystem;
use crate::render::document::{Block, Part, Told as _, into_vessel};
use crate::render::words::batch as said;

/// The page of a batch.
pub fn page(answer: &BatchAnswer, units: UnitSystem) -> Page<'_> {
    let palette = Palette::of([&answer.one]);
    let vessel = said::vessel_sentences(answer, units);
    let first = html! {
        section.specs aria-label="The batch" {
            div.spec.only {
                article.card id="card-0" aria-labelledby="card-0-t" {
                    h2 id="card-0-t" { "Into the vessel" }
                    (bare(&into_vessel(answer, units), &palette, "pours"))
                    @for sentence in vessel.iter().skip(1) { p.method { (Said(sentence)) } }
                }
                (strips(&answer.frame, &answer.one, Strays::default(), 0, units))
            }
        }
    };
    let which = match answer.alternative {
        0 => String::new(),
        n => format!(", alternative {n}"),
    };
    let stopped = answer.outcome == Outcome::Stopped;
    let spend = format!(
        "{} a serve by use; the packs come to {}.",
        answer.money.write(answer.costing.per_serve.0),
        answer.money.write(answer.costing.spend.0)
    );
    let unproved = stopped.then(|| said::UNPROVED.to_owned());
    let said: Vec<String> = unproved.into_iter().chain(vessel.into_iter().take(1)).chain([spend]).collect();
    let mut document = answer.full(units);
    for section in &mut document.sections {
        match section.part {
            Part::Keeping if !answer.keeping.is_empty() => {
                section.blocks.insert(0, Block::plain("No promise is made of how long it keeps."));
            }
            Part::Measured => {
                let met = "Measured again from the rounded amounts, one serve meets every target.";
                let met = answer.misses.is_empty().then(|| Block::plain(met));
                section.blocks.extend(met.into_iter().chain([Block::plain(said::ROUNDING)]));
            }
            _ => {}
        }
    }
    Page {
        parts: parts(&document, &[Part::Vessel, Part::Asked], &said, &palette),
        heading: Heading {
            kind: format!("A batch of {}{which}", said::serves(answer)),
            title: &answer.title,
            said,
            tone: if stopped { Tone::Warned } else { Tone::Answered },
        },
        palette,
        first,
        script: None,
    }
}
