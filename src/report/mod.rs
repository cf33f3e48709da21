//! The answer as people and programs read it.
//!
//! [`gather`] builds an answer once, as plain data; the formats only write it down.

mod csv;
pub mod gather;
pub mod html;
mod json;
mod markdown;
pub mod program;
pub mod sheet;
mod text;
mod words;

#[cfg(test)]
mod fixture;
#[cfg(test)]
mod tests;

use crate::quantity::UnitSystem;
use gather::{BatchAnswer, CheckAnswer, LarderAnswer, SpecAnswer, SubstitutesAnswer, SweepAnswer};

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
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Look {
    /// In which unit volumes are shown.
    pub units: UnitSystem,
    /// Whether text is coloured.
    pub colour: Colour,
}

/// Writes answers in one format.
pub trait Exporter {
    /// The answer to a brief.
    fn spec(&self, answer: &SpecAnswer) -> String;
    /// Every ingredient of a kind tried in the place of one.
    fn substitutes(&self, answer: &SubstitutesAnswer) -> String;
    /// A trade-off curve.
    fn sweep(&self, answer: &SweepAnswer) -> String;
    /// A given spec, measured.
    fn check(&self, answer: &CheckAnswer) -> String;
    /// A batch.
    fn batch(&self, answer: &BatchAnswer) -> String;
    /// Built-in ingredients.
    fn larder(&self, answer: &LarderAnswer) -> String;
}

/// The writer of a format.
pub fn exporter(format: Format, look: Look) -> Box<dyn Exporter> {
    match format {
        Format::Text => Box::new(text::Text::new(look)),
        Format::Json => Box::new(json::Json),
        Format::Markdown => Box::new(markdown::Markdown::new(look.units)),
        Format::Csv => Box::new(csv::Csv),
    }
}
