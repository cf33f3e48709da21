//! The spec as one writes it on a card, each pour with the pattern of its layer.

use maud::{Markup, html};

use super::pattern::{Fill, swatch};
use super::picture::{Said, name};
use crate::quantity::{UnitSystem, number};
use crate::report::gather::{Frame, SpecLine};
use crate::report::words;

/// The pours, what each costs, and how the drink is made.
pub fn card(frame: &Frame, spec: &SpecLine, units: UnitSystem) -> Markup {
    let priced = spec.pours.iter().any(|p| p.cost.is_some());
    html! {
        div.card {
            table {
                caption { "The pours" }
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
                            td.amount { (swatch(Fill::Role(pour.role))) " " b { (amount) } " " (unit) }
                            th scope="row" { (name(&pour.ingredient)) }
                            @if priced { td.cost { (cost(frame, pour.cost)) } }
                        }
                    }
                }
            }
            p.method { (Said(&words::method_sentences(frame, spec, units))) }
        }
    }
}

fn cost(frame: &Frame, cost: Option<f64>) -> String {
    cost.map_or_else(|| "no price".to_owned(), |c| format!("{} {}", number::fixed(c, 2), frame.currency))
}
