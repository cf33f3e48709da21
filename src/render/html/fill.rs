//! Fills: colour tells the ingredient, hatching tells its role.

use maud::{Markup, html};

use super::look;
use crate::answer::SpecLine;
use crate::brief::{Brief, Role};

/// The ingredients of a page in card order, each with a colour of its own as long as there are enough.
#[derive(Debug, Default)]
pub struct Palette<'a>(Vec<(&'a str, Role)>);

impl<'a> Palette<'a> {
    /// Everything that any of these specs pours.
    pub fn of(specs: impl IntoIterator<Item = &'a SpecLine>) -> Self {
        let mut names: Vec<(&str, Role)> = Vec::new();
        for pour in specs.into_iter().flat_map(|spec| &spec.pours) {
            if !names.iter().any(|(name, _)| *name == pour.ingredient) {
                names.push((&pour.ingredient, pour.role));
            }
        }
        names.sort_by_key(|(_, role)| Role::ALL.iter().position(|one| one == role));
        Self(names)
    }

    /// Everything that may go into a drink, so that each keeps its colour whatever is poured.
    pub fn shelf(brief: &'a Brief) -> Self {
        let mut names: Vec<(&str, Role)> =
            brief.candidates.iter().map(|c| (c.name.as_str(), c.role)).collect();
        names.sort_by_key(|(_, role)| Role::ALL.iter().position(|one| one == role));
        Self(names)
    }

    /// Every ingredient, in card order.
    pub fn names(&self) -> impl Iterator<Item = &'a str> + '_ {
        self.0.iter().map(|(name, _)| *name)
    }

    /// Whether it is one of them.
    pub fn has(&self, name: &str) -> bool {
        self.0.iter().any(|(known, _)| *known == name)
    }

    /// The `fill` of a shape that stands for an ingredient.
    pub fn url(&self, name: &str) -> String {
        let at = self.0.iter().position(|(known, _)| *known == name).unwrap_or_default();
        format!("url(#fill-{at})")
    }

    /// A small piece of an ingredient's fill, beside its name.
    pub fn swatch(&self, name: &str) -> Markup {
        html! {
            svg.swatch width="18" height="14" aria-hidden="true" focusable="false" {
                rect x="0.75" y="0.75" width="16.5" height="12.5" fill=(self.url(name)) {}
            }
        }
    }

    /// The definitions that the drawings of a page refer to.
    pub fn definitions(&self) -> Markup {
        html! {
            svg.defs width="0" height="0" aria-hidden="true" focusable="false" {
                defs {
                    @for (at, (_, role)) in self.0.iter().enumerate() {
                        (tile(&format!("fill-{at}"), look::INGREDIENTS[at % look::INGREDIENTS.len()], grain(*role)))
                    }
                    (tile("fill-melt", look::MELT, "M0 4Q2 1 4 4T8 4"))
                    pattern id="fill-out" width="6" height="6" patternUnits="userSpaceOnUse" {
                        path.mud d="M-1.5 1.5L1.5-1.5M0 6L6 0M4.5 7.5L7.5 4.5" {}
                    }
                }
            }
        }
    }
}

/// What is drawn over the colour in a tile of 8 by 8.
fn grain(role: Role) -> &'static str {
    match role {
        Role::Base => "M-2 2L2-2M0 8L8 0M6 10L10 6",
        Role::Modifier => "M-2 6L2 10M0 0L8 8M6-2L10 2",
        Role::Sour => "M1.5 2h1.4M5.5 6h1.4",
        Role::Sweetener => "M0 0L8 8M8 0L0 8",
        Role::Bitters => "M4 0V8",
        Role::Lengthener => "M0 4H8",
        Role::Seasoning => "M3.3 4h1.4",
        Role::Texture => "M6 4A2 2 0 1 1 2 4A2 2 0 1 1 6 4",
        Role::Water => "M0 2H4M4 6H8",
    }
}

fn tile(id: &str, colour: &str, grain: &str) -> Markup {
    html! {
        pattern id=(id) width="8" height="8" patternUnits="userSpaceOnUse" {
            rect width="8" height="8" fill=(colour) {}
            path.grain d=(grain) {}
        }
    }
}
