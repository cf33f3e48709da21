//! One spec among those to choose from, and what chooses it.
//!
//! Choosing takes no script: a row of the matrix holds a radio button, and the style sheet shows what
//! belongs to the one that is on.

use std::fmt::Write as _;

use maud::{Markup, html};

use super::picture::{Said, name};
use super::strips::Strays;
use crate::answer::SpecLine;

/// Cards beyond these would make the page heavy; their rows stand in the matrix all the same.
pub const CARDS: usize = 12;

/// One spec among those of a page.
pub struct Choice<'a> {
    /// What it is: `the best`, `alternative 1`, `the reference`.
    pub label: String,
    /// The spec.
    pub spec: &'a SpecLine,
    /// How far its figures stray, where that is known.
    pub strays: Strays<'a>,
}

impl<'a> Choice<'a> {
    /// A spec of which no more is known than what it measures.
    pub fn of(label: &str, spec: &'a SpecLine) -> Self {
        Self { label: label.to_owned(), spec, strays: Strays::default() }
    }
}

/// The name of a row, and what chooses it where it is one of the first `cards`.
pub fn pick(id: usize, label: &str, cards: usize) -> Markup {
    if id >= cards {
        return html! { (Said(label)) };
    }
    html! {
        label { input type="radio" name="spec" id=(format!("pick-{id}")) checked=[(id == 0).then_some("checked")]; span { (name(label)) } }
    }
}

/// The rules that show what belongs to the chosen row; without them the first is shown.
pub fn rules() -> String {
    let mut css = String::from("@supports not selector(:has(a)){#spec-0{display:grid}}\n");
    for id in 0..CARDS {
        // Writing to a string cannot fail.
        let _ = writeln!(css, ":root:has(#pick-{id}:checked) #spec-{id}{{display:grid}}");
    }
    css
}
