//! Specs to choose from: the card and the strips of the one that is chosen, and all of them as a matrix.

use maud::{Markup, html};

use super::card::card;
use super::choice::{CARDS, Choice};
use super::fill::Palette;
use super::matrix::matrix;
use super::strips::strips;
use crate::answer::Frame;
use crate::quantity::UnitSystem;

/// Cards, strips and, where there is a choice, the matrix.
pub fn choices(frame: &Frame, all: &[Choice], palette: &Palette, units: UnitSystem) -> Markup {
    html! {
        (shown(frame, &all[..all.len().min(CARDS)], all.len() == 1, palette, units))
        @if all.len() > 1 { (matrix(frame, all, palette, CARDS, units)) }
    }
}

/// The card and the strips of each, of which the chosen one is shown; `alone` where there is no choice.
pub fn shown(frame: &Frame, all: &[Choice], alone: bool, palette: &Palette, units: UnitSystem) -> Markup {
    html! {
        section.specs aria-label="The spec" {
            @for (id, choice) in all.iter().enumerate() {
                div.spec.only[alone] id=(format!("spec-{id}")) {
                    (card(frame, choice, palette, id, units))
                    (strips(frame, choice.spec, choice.strays, id, units))
                }
            }
        }
    }
}
