//! Patterns: what a layer, a swatch or a bar is filled with, told apart without colour.

use maud::{Markup, html};

use super::look;
use crate::brief::Role;

/// What something is filled with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fill {
    /// An ingredient, by its role.
    Role(Role),
    /// Water from the ice.
    Melt,
}

/// All fills, in card order.
const ALL: [Fill; 10] = [
    Fill::Role(Role::Base),
    Fill::Role(Role::Modifier),
    Fill::Role(Role::Sour),
    Fill::Role(Role::Sweetener),
    Fill::Role(Role::Bitters),
    Fill::Role(Role::Lengthener),
    Fill::Role(Role::Seasoning),
    Fill::Role(Role::Texture),
    Fill::Role(Role::Water),
    Fill::Melt,
];

impl Fill {
    /// Its name among the page's definitions.
    fn id(self) -> String {
        match self {
            Self::Role(role) => format!("fill-{}", role.keyword()),
            Self::Melt => "fill-melt".to_owned(),
        }
    }

    /// The `fill` of an SVG shape.
    pub fn url(self) -> String {
        format!("url(#{})", self.id())
    }

    fn colour(self) -> &'static str {
        match self {
            Self::Role(role) => look::fill(role),
            Self::Melt => look::MELT,
        }
    }

    /// What is drawn over the colour in a tile of 8 by 8, and in which ink.
    fn grain(self) -> (&'static str, &'static str) {
        let path = match self {
            Self::Role(Role::Base) => "M-2 2L2-2M0 8L8 0M6 10L10 6",
            Self::Role(Role::Modifier) => "M-2 6L2 10M0 0L8 8M6-2L10 2",
            Self::Role(Role::Sour) => "M1.5 2h1.4M5.5 6h1.4",
            Self::Role(Role::Sweetener) => "M0 0L8 8M8 0L0 8",
            Self::Role(Role::Bitters) => "M4 0V8",
            Self::Role(Role::Lengthener) => "M0 4H8",
            Self::Role(Role::Seasoning) => "M3.3 4h1.4",
            Self::Role(Role::Texture) => "M6 4A2 2 0 1 1 2 4A2 2 0 1 1 6 4",
            Self::Role(Role::Water) => "M0 2H4M4 6H8",
            Self::Melt => "M0 4Q2 1 4 4T8 4",
        };
        let ink = if self == Self::Role(Role::Bitters) { "#ffffff" } else { look::GRAIN };
        (path, ink)
    }
}

/// The definitions that every picture of the page refers to.
pub fn definitions() -> Markup {
    html! {
        svg.defs width="0" height="0" aria-hidden="true" focusable="false" {
            defs {
                @for fill in ALL { (tile(fill)) }
                // What is not to be: mud outside the channel, and what stands over the brim.
                pattern id="fill-out" width="6" height="6" patternUnits="userSpaceOnUse" {
                    path.mud d="M-1.5 1.5L1.5-1.5M0 6L6 0M4.5 7.5L7.5 4.5" {}
                }
            }
        }
    }
}

fn tile(fill: Fill) -> Markup {
    let (path, ink) = fill.grain();
    let width = if matches!(fill, Fill::Role(Role::Sour | Role::Seasoning)) { "1.6" } else { "0.9" };
    html! {
        pattern id=(fill.id()) width="8" height="8" patternUnits="userSpaceOnUse" {
            rect width="8" height="8" fill=(fill.colour()) {}
            path d=(path) fill="none" stroke=(ink) stroke-width=(width) stroke-linecap="round" opacity="0.55" {}
        }
    }
}

/// A small piece of the fill, beside a name.
pub fn swatch(fill: Fill) -> Markup {
    html! {
        svg.swatch width="22" height="16" viewBox="0 0 22 16" aria-hidden="true" focusable="false" {
            rect x="0.75" y="0.75" width="20.5" height="14.5" fill=(fill.url()) {}
        }
    }
}
