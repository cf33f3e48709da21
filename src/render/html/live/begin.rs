//! What is found as one types.

use maud::{Markup, html};
use serde_json::json;

use crate::render::html::picture::{Said, name};

/// An ingredient of the house or the larder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Offer {
    /// Its name.
    pub name: String,
    /// `house` or `larder`.
    pub from: &'static str,
    /// What it does and brings, in a few words.
    pub about: String,
}

/// Offers as buttons, each with what it adds.
pub fn offers(all: &[Offer]) -> Markup {
    html! {
        @for offer in all {
            li {
                button type="button" data-offer=(json!({ "kind": "add", "name": offer.name, "from": offer.from }).to_string()) {
                    (name(&offer.name)) " " small { (Said(&format!("{}, {}", offer.from, offer.about))) }
                }
            }
        }
    }
}
