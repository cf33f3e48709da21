//! The spec as one writes it on a card: pours, how it is made, allergens, how often it holds.

use maud::{Markup, html};

use super::choice::Choice;
use super::fill::Palette;
use super::glass::glass;
use super::picture::{Said, name, of_hundred};
use crate::answer::{Frame, Poured, SpecLine};
use crate::quantity::{Currency, UnitSystem, number};
use crate::render::words;

/// The card of a spec; `id` is its place among the specs of the page.
pub fn card(frame: &Frame, choice: &Choice, palette: &Palette, id: usize, units: UnitSystem) -> Markup {
    let spec = choice.spec;
    html! {
        article.card id=(format!("card-{id}")) aria-labelledby=(format!("card-{id}-t")) {
            h2 id=(format!("card-{id}-t")) {
                (name(&words::upper_first(&choice.label)))
                @if let Some(share) = spec.within_all { small { " holds in " b { (of_hundred(share)) } " of 100 serves" } }
            }
            div.poured { (glass(frame, spec, palette)) (pours(frame, spec, palette, units)) }
            p.method { (Said(&words::method_sentences(frame, spec, units))) }
            @if let Some(notes) = words::notes_words(spec) { p.notes { "Notes: " (Said(&notes)) } }
            @if let Some(allergens) = &spec.allergens { p.allergens { (Said(allergens)) } }
        }
    }
}

fn pours(frame: &Frame, spec: &SpecLine, palette: &Palette, units: UnitSystem) -> Markup {
    let priced = spec.pours.iter().any(|p| p.cost.is_some());
    html! {
        table.pours {
            caption.unseen { "What is poured" }
            thead.unseen {
                tr {
                    th scope="col" { "Amount" }
                    th scope="col" { "Ingredient" }
                    @if priced { th scope="col" { "Cost" } }
                }
            }
            tbody {
                @for pour in &spec.pours {
                    @let (amount, unit) = words::amount_digits(pour.amount(), units);
                    tr {
                        td.amount { b { (amount) } " " (unit) }
                        th scope="row" { (palette.swatch(&pour.ingredient)) " " (name(&pour.ingredient)) }
                        @if priced { td.cost { (cost(frame, pour)) } }
                    }
                }
            }
        }
    }
}

fn cost(frame: &Frame, pour: &Poured) -> String {
    let none = || if frame.currency == Currency::NONE { String::new() } else { "no price".to_owned() };
    pour.cost.map_or_else(none, |c| format!("{} {}", number::fixed(c, 2), frame.currency))
}
