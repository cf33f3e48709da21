//! What is said without a picture: who is in play, what asks for care.

use maud::{Markup, html};

use super::picture::{Said, name};
use crate::report::gather::InPlayLine;

/// Ingredients by how often they are used near the best: a full, a half and an empty mark, and the words.
pub fn in_play(found: &InPlayLine) -> Markup {
    let groups = [
        ("full", "In every one", &found.always),
        ("half", "In some", &found.sometimes),
        ("empty", "In none", &found.never),
    ];
    html! {
        div.inplay {
            @for (mark, words, names) in groups {
                @if !names.is_empty() {
                    div {
                        h3 { (moon(mark)) " " (words) }
                        ul { @for one in names { li { (name(one)) } } }
                    }
                }
            }
        }
    }
}

fn moon(mark: &str) -> Markup {
    html! {
        svg.moon width="16" height="16" viewBox="0 0 16 16" aria-hidden="true" focusable="false" {
            circle.ring cx="8" cy="8" r="6.5" {}
            @if mark == "full" { circle.filled cx="8" cy="8" r="6.5" {} }
            @if mark == "half" { path.filled d="M1.5 8a6.5 6.5 0 0 0 13 0z" {} }
        }
    }
}

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
