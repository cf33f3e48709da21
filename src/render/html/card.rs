//! The spec as one writes it on a card: pours, how it is made, allergens, how often it holds.

use maud::{Markup, html};

use super::choice::Choice;
use super::fill::Palette;
use super::glass::glass;
use super::picture::{Said, name};
use super::table::bare;
use crate::answer::Frame;
use crate::quantity::UnitSystem;
use crate::render::{document, words};

/// The card of a spec; `id` is its place among the specs of the page.
pub fn card(frame: &Frame, choice: &Choice, palette: &Palette, id: usize, units: UnitSystem) -> Markup {
    let spec = choice.spec;
    html! {
        article.card id=(format!("card-{id}")) aria-labelledby=(format!("card-{id}-t")) {
            h2 id=(format!("card-{id}-t")) {
                (name(&words::upper_first(&choice.label)))
                @if let Some(share) = spec.within_all { small { " holds in " b { (words::hundredths(share)) } " of 100 serves" } }
            }
            div.poured { (glass(frame, spec, palette)) (bare(&document::pours(frame, spec, units), palette, "pours")) }
            p.method { (Said(&words::method_sentences(frame, spec, units))) }
            @if let Some(notes) = words::notes_words(spec) { p.notes { "Notes: " (Said(&notes)) } }
            @if let Some(allergens) = &spec.allergens { p.allergens { (Said(allergens)) } }
        }
    }
}
