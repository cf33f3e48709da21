//! The answer as people and programs read it.
//!
//! [`crate::answer`] builds an answer once, as plain data; the formats only write it down.

pub mod compare;
mod csv;
mod document;
pub mod html;
mod instruments;
mod json;
mod markdown;
pub mod measure;
mod text;
mod words;

#[cfg(test)]
mod fixture;
#[cfg(test)]
mod tests;

use serde::Serialize;

use crate::quantity::UnitSystem;
use csv::Rows;
use document::{Document, Told};
pub use document::{Extent, Part};

/// In which form an answer is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Format {
    /// For people, 80 columns wide.
    #[default]
    Text,
    /// For programs: the contract's object, numbers not rounded.
    Json,
    /// For a page: a card and tables.
    Markdown,
    /// For a spreadsheet: one row a figure, numbers not rounded.
    Csv,
}

/// Whether text may be coloured; it says the same without.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Colour {
    /// Plain characters only.
    #[default]
    Plain,
    /// Terminal colours.
    Styled,
}

/// How figures look to people.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Look {
    /// In which unit volumes are shown.
    pub units: UnitSystem,
    /// Whether text is coloured.
    pub colour: Colour,
    /// How many columns text has, from [`NARROWEST`] to [`WIDEST`].
    pub width: usize,
    /// How much is shown.
    pub extent: Extent,
}

/// The fewest columns that text is set in.
pub const NARROWEST: usize = 60;
/// The most columns that text is set in.
pub const WIDEST: usize = 120;
/// The columns of text where nothing says otherwise.
pub const COLUMNS: usize = 80;

impl Default for Look {
    fn default() -> Self {
        Self {
            units: UnitSystem::default(),
            colour: Colour::default(),
            width: COLUMNS,
            extent: Extent::default(),
        }
    }
}

/// What can be written in every format.
pub trait Answer: Serialize + Told + Rows {}

impl<T: Serialize + Told + Rows> Answer for T {}

/// Writes an answer.
pub fn write(answer: &impl Answer, format: Format, look: Look) -> String {
    let document = || document::of(answer, look.extent, look.units);
    match format {
        Format::Text => text::write(&document(), look),
        Format::Markdown => markdown::write(&document()),
        Format::Json => json::object(answer),
        Format::Csv => answer.rows(),
    }
}

/// Writes a small answer: blocks are all that there is of it, for a spreadsheet too. JSON has the object.
pub fn small(document: &Document, object: &impl Serialize, format: Format, look: Look) -> String {
    match format {
        Format::Text => text::write(document, look),
        Format::Markdown => markdown::write(document),
        Format::Json => json::object(object),
        Format::Csv => csv::cells(document),
    }
}
