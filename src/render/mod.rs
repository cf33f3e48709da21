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
pub mod sheet;
mod text;
mod words;

#[cfg(test)]
mod fixture;
#[cfg(test)]
mod tests;

use crate::answer::{
    BatchAnswer, CalibrationAnswer, CheckAnswer, FlightAnswer, LarderAnswer, LessonsAnswer, MenuAnswer,
    SpecAnswer, SubstitutesAnswer, SweepAnswer,
};
use crate::quantity::UnitSystem;
use document::Document;
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
    /// Glasses to taste.
    fn flight(&self, answer: &FlightAnswer) -> String;
    /// Limits from what was said.
    fn lessons(&self, answer: &LessonsAnswer) -> String;
    /// Many drinks.
    fn menu(&self, answer: &MenuAnswer) -> String;
    /// Figures from what was weighed.
    fn calibration(&self, answer: &CalibrationAnswer) -> String;
}

/// The writer of a format.
pub fn exporter(format: Format, look: Look) -> Box<dyn Exporter> {
    match format {
        Format::Text => Box::new(People { look, write: |document, look| text::write(document, look) }),
        Format::Markdown => Box::new(People { look, write: |document, _| markdown::write(document) }),
        Format::Json => Box::new(json::Json),
        Format::Csv => Box::new(csv::Csv),
    }
}

/// A format for people: it draws documents and says nothing of its own.
struct People {
    look: Look,
    write: fn(&Document, Look) -> String,
}

impl People {
    fn drawn(&self, document: &Document) -> String {
        (self.write)(document, self.look)
    }
}

impl Exporter for People {
    fn spec(&self, answer: &SpecAnswer) -> String {
        self.drawn(&document::spec(answer, self.look.extent, self.look.units))
    }

    fn substitutes(&self, answer: &SubstitutesAnswer) -> String {
        self.drawn(&document::substitutes(answer, self.look.extent, self.look.units))
    }

    fn sweep(&self, answer: &SweepAnswer) -> String {
        self.drawn(&document::sweep(answer, self.look.extent, self.look.units))
    }

    fn check(&self, answer: &CheckAnswer) -> String {
        self.drawn(&document::check(answer, self.look.extent, self.look.units))
    }

    fn batch(&self, answer: &BatchAnswer) -> String {
        self.drawn(&document::batch(answer, self.look.extent, self.look.units))
    }

    fn larder(&self, answer: &LarderAnswer) -> String {
        self.drawn(&document::larder(answer))
    }

    fn flight(&self, answer: &FlightAnswer) -> String {
        self.drawn(&document::flight(answer, self.look.extent, self.look.units))
    }

    fn lessons(&self, answer: &LessonsAnswer) -> String {
        self.drawn(&document::lessons(answer, self.look.extent, self.look.units))
    }

    fn menu(&self, answer: &MenuAnswer) -> String {
        self.drawn(&document::menu(answer, self.look.extent, self.look.units))
    }

    fn calibration(&self, answer: &CalibrationAnswer) -> String {
        self.drawn(&document::calibration(answer, self.look.extent))
    }
}
