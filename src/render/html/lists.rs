//! What is said without a picture.

use maud::{Markup, html};

use super::picture::Said;

/// A sentence whose `keys` are set as such; with an odd mark it stays as it is.
fn quoted(text: &str) -> Markup {
    let parts: Vec<&str> = text.split('`').collect();
    if parts.len().is_multiple_of(2) {
        return html! { (Said(text)) };
    }
    html! {
        @for (at, part) in parts.iter().enumerate() {
            @if at % 2 == 0 { (Said(part)) } @else { code { (Said(part)) } }
        }
    }
}

/// Sentences one under the other.
pub fn sentences(all: &[String]) -> Markup {
    html! { ul.sentences { @for one in all { li { (quoted(one)) } } } }
}
