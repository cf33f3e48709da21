//! A menu as a page: the same blocks that text has, as headings, tables and lists.

use maud::html;

use super::fill::Palette;
use super::page::{Page, Paged};
use super::sections::{body, parts};
use crate::answer::MenuAnswer;
use crate::quantity::UnitSystem;
use crate::render::document::{Part, Told as _};
use crate::render::words;
use crate::solve::Ending;

impl Paged for MenuAnswer {
    /// The menu as a page.
    fn page(&self, units: UnitSystem) -> Page<'_> {
        let document = self.full(units);
        let mut said = words::menu::drinks_sentences(self);
        let shelf = self.shelf.iter();
        said.extend(shelf.flat_map(|shelf| words::menu::shelf_sentences(shelf).into_iter().take(1)));
        let palette = Palette::default();
        let drinks = document.sections.iter().filter(|section| section.part == Part::Drinks);
        let drinks = drinks.filter_map(|section| body(&section.blocks, &said, &palette));
        let all = self.drinks.iter().all(|drink| drink.outcome == Some(Ending::Found));
        Page {
            first: html! { @for table in drinks { (table) } },
            parts: parts(&document, &[Part::Drinks], &said, &palette),
            kind: format!("Menu of {}", words::counted(self.drinks.len(), "drink")),
            title: &self.title,
            said,
            warned: !all,
            palette,
            script: None,
        }
    }
}
