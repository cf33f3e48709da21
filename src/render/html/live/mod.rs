//! The page that is alive: the components of the report as pieces that are put in place one by one, and the controls
//! that change the brief.

mod begin;
mod limits;
mod shelf;
mod shell;
mod ways;

use std::collections::BTreeMap;

use maud::{Markup, html};

pub use begin::{Offer, offers};
pub use limits::{Zone, around, grid, way_sentences, zones};
pub use shelf::{Tried, tried};
pub use shell::{SCRIPT, shell, style};

use super::card::card;
use super::choice::{CARDS, Choice};
use super::fill::Palette;
use super::matrix::matrix;
use super::picture::Said;
use super::{conflict, spec};
use crate::answer::SpecAnswer;
use crate::brief::Brief;
use crate::quantity::UnitSystem;
use crate::solve::Ending;

/// From where to where strips reach, by the key of their measure.
pub type Axes = BTreeMap<String, [f64; 2]>;

/// How much is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Depth {
    /// The best spec and its glass.
    Glass,
    /// What comes next, too, and how often each holds; where nothing can be poured, why and the ways out.
    Others,
    /// What the answer hangs on, too.
    Reasons,
}

/// What is shown.
#[derive(Clone, Copy)]
pub struct View<'a> {
    /// The question.
    pub brief: &'a Brief,
    /// Its answer.
    pub answer: &'a SpecAnswer,
    /// Strips that stay as they are.
    pub axes: &'a Axes,
    /// Whether an end of one is held.
    pub held: bool,
    /// How much of the answer there is.
    pub depth: Depth,
    /// Units of volume.
    pub units: UnitSystem,
}

/// A piece of the page, and the id of the element that holds it.
pub type Fragment = (&'static str, String);

/// The pieces of the page that an answer changes.
pub fn fragments(view: &View) -> Vec<Fragment> {
    let View { answer, units, .. } = *view;
    let palette = Palette::shelf(view.brief);
    let all = spec::specs(answer);
    let conflict = answer.conflict.as_ref();
    let none = answer.best.is_none();
    let deep = view.depth != Depth::Glass;
    let count = if none {
        0
    } else if deep {
        all.len().min(CARDS)
    } else {
        1
    };
    let shown = &all[..count];
    let mut pieces =
        vec![("defs", palette.definitions()), ("said", said(view)), ("limits", limits::limits(view, shown))];
    // What is not moved by a held end waits until the hand rests.
    if !view.held || deep {
        pieces.extend([
            ("shelf", shelf::shelf(view, &palette)),
            ("olds", shelf::olds(view)),
            ("aims", shelf::aims(view)),
            ("bounds", shelf::bounds(view)),
            ("serve", shelf::serve(view)),
        ]);
    }
    match conflict {
        Some(found) => pieces.push(("ways", ways::ways(answer, found, units))),
        None if none && !deep => pieces
            .push(("ways", html! { p.note role="status" { "Looking for what does not go together …" } })),
        None => pieces.push(("ways", html! {})),
    }
    pieces.push(("card", cards(view, shown, &palette)));
    if deep || none {
        let others = if all.len() > 1 && !none {
            matrix(&answer.frame, &all, &palette, CARDS, units)
        } else {
            html! {}
        };
        pieces.push(("others", others));
    }
    if view.depth == Depth::Reasons {
        pieces.push(("reasons", reasons(view, &palette)));
    }
    pieces.into_iter().map(|(id, piece)| (id, piece.into_string())).collect()
}

/// The pieces where the text cannot be read: nothing is shown that is not of this text.
pub fn refused() -> Vec<Fragment> {
    let none = ["said", "limits", "shelf", "ways", "card", "others", "reasons"];
    none.into_iter().map(|id| (id, String::new())).collect()
}

fn cards(view: &View, shown: &[Choice], palette: &Palette) -> Markup {
    html! {
        @for (id, choice) in shown.iter().enumerate() {
            div.spec.only[shown.len() == 1] id=(format!("spec-{id}")) { (card(&view.answer.frame, choice, palette, id, view.units)) }
        }
        @if view.depth != Depth::Glass && !view.answer.cautions.is_empty() {
            details.mind { summary { "Mind" } (super::lists::sentences(&view.answer.cautions)) }
        }
    }
}

/// What to pour and how often it holds; of a first answer what is known by then.
fn said(view: &View) -> Markup {
    let answer = view.answer;
    let (said, warned) = match &answer.conflict {
        Some(found) => (conflict::why(answer, found, view.units), true),
        None if answer.best.is_none() && view.depth == Depth::Glass && answer.outcome == Ending::Conflict => {
            (vec!["No spec that can be poured meets all of this.".to_owned()], true)
        }
        None if answer.best.is_none() && view.depth == Depth::Glass => {
            (vec!["Nothing is found yet; it is looked for further.".to_owned()], true)
        }
        None => (spec::said(answer, view.units), answer.best.is_none()),
    };
    html! { @for sentence in said.iter().filter(|s| !s.is_empty()) { p.said.warned[warned] { (Said(sentence)) } } }
}

fn reasons(view: &View, palette: &Palette) -> Markup {
    let (answer, units) = (view.answer, view.units);
    let parts = spec::parts(answer, &spec::said(answer, units), palette, units);
    html! { div.parts { @for part in &parts { (part.write()) } } }
}
