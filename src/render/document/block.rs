//! What an answer is made of before any format is chosen: blocks, in the order in which they are read.

/// A whole answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Document {
    /// What it is about.
    pub title: String,
    /// Its sections, in order.
    pub sections: Vec<Section>,
    /// How to see more of it on the command line; nothing where all is shown.
    pub more: Option<String>,
}

/// A part of a document under one heading.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// Which part of the answer it is.
    pub part: super::Part,
    /// Its heading; the first section stands under the title alone.
    pub heading: Option<String>,
    /// What stands in it.
    pub blocks: Vec<Block>,
}

/// One thing to read.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// A paragraph.
    Sentence(Sentence),
    /// A list of short sentences.
    Items(Vec<String>),
    /// Rows and columns: a card, figures, alternatives.
    Table(Table),
    /// A curve.
    Plot(Plot),
    /// What asks for care.
    Caution(String),
}

/// A paragraph.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sentence {
    /// Its text.
    pub text: String,
    /// How it is meant.
    pub tone: Tone,
}

/// How a text is meant; where there is no colour it says the same without.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Tone {
    /// Ordinary.
    #[default]
    Plain,
    /// What matters most.
    Strong,
    /// What stands back.
    Aside,
    /// What is met.
    Good,
    /// What sits at its limit.
    Edge,
    /// What is missed or in the way.
    Alarm,
}

/// Rows and columns.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// What stands over the columns, and how they are set.
    pub columns: Vec<Column>,
    /// The rows, each with a cell a column.
    pub rows: Vec<Row>,
    /// Whether its headings need saying.
    pub heads: Heads,
}

/// Whether the headings of a table need saying.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Heads {
    /// They tell what the figures are.
    Shown,
    /// The cells speak for themselves; only formats that cannot do without show them.
    Spoken,
}

/// A column.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Column {
    /// What it is called.
    pub head: String,
    /// In which unit its figures are; empty where the cells say it, or there is none.
    pub unit: String,
    /// How it is set.
    pub kind: Kind,
}

/// How a column is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Figures, their points under each other.
    Figure,
    /// Short words or ranges, flush left, on one line.
    Short,
    /// Names and sentences, which may take several lines.
    Words,
    /// A range with a value in it.
    Range,
}

/// A row.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// How all of it is meant, unless a cell says otherwise.
    pub tone: Tone,
    /// A cell a column.
    pub cells: Vec<Cell>,
}

/// What stands in a cell.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// Nothing.
    Nothing,
    /// A name or a sentence.
    Words(String, Tone),
    /// A figure, written as people read it, and its unit where the column has none.
    Figure {
        /// The number.
        number: String,
        /// Its unit; may be empty.
        unit: String,
        /// How it is meant.
        tone: Tone,
        /// How much of a whole it is, from 0 to 1, where that is worth a shade.
        share: Option<f64>,
    },
    /// A range with a value in it.
    Range(Range),
}

/// A range with a value in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Range {
    /// The lower limit as it is written.
    pub min: Option<String>,
    /// The upper limit as it is written.
    pub max: Option<String>,
    /// Both in words: `105 to 125`, `at most 1.60`.
    pub words: String,
    /// Where the value stands.
    pub place: Place,
    /// How it is meant.
    pub tone: Tone,
}

/// Where a value stands in a range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Place {
    /// Nobody knows.
    Unknown,
    /// Under its lower limit.
    Under,
    /// Over its upper limit.
    Over,
    /// 0 at the left end, 1 at the right one.
    Inside(f64),
}

/// A curve of marked points.
#[derive(Debug, Clone, PartialEq)]
pub struct Plot {
    /// The points in order: a height and a mark each.
    pub points: Vec<Point>,
    /// What the heights of the lowest and the highest point read.
    pub heights: [String; 2],
    /// What the first and the last place read.
    pub ends: [String; 2],
    /// What a mark means that is no set of ingredients.
    pub legend: Option<String>,
}

/// A point of a curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// How high; nothing where there is no answer.
    pub height: Option<f64>,
    /// Its mark.
    pub mark: char,
}

impl Plot {
    /// The lowest and the highest of its heights.
    pub fn reach(points: &[Point]) -> (f64, f64) {
        let known = points.iter().filter_map(|point| point.height).filter(|height| height.is_finite());
        known.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), h| (low.min(h), high.max(h)))
    }
}

impl Block {
    /// An ordinary paragraph.
    pub fn plain(text: impl Into<String>) -> Self {
        Self::said(text, Tone::Plain)
    }

    /// A paragraph that is meant in a certain way.
    pub fn said(text: impl Into<String>, tone: Tone) -> Self {
        Self::Sentence(Sentence { text: text.into(), tone })
    }
}

impl Table {
    /// A table whose headings tell what the figures are.
    pub fn headed(columns: Vec<Column>, rows: impl IntoIterator<Item = Row>) -> Self {
        Self { columns, rows: rows.into_iter().collect(), heads: Heads::Shown }
    }

    /// A table whose cells speak for themselves.
    pub fn spoken(columns: Vec<Column>, rows: impl IntoIterator<Item = Row>) -> Self {
        Self { heads: Heads::Spoken, ..Self::headed(columns, rows) }
    }

    /// The block of it; nothing where it has no rows.
    pub fn block(self) -> Option<Block> {
        (!self.rows.is_empty()).then_some(Block::Table(self))
    }
}

impl Section {
    /// A section with a heading.
    pub fn new(part: super::Part, heading: impl Into<String>, blocks: Vec<Block>) -> Self {
        Self { part, heading: Some(heading.into()), blocks }
    }

    /// A list under a heading; nothing where it is empty.
    pub fn items(part: super::Part, heading: &str, items: Vec<String>) -> Option<Self> {
        (!items.is_empty()).then(|| Self::new(part, heading, vec![Block::Items(items)]))
    }

    /// A section without one.
    pub fn bare(part: super::Part, blocks: Vec<Block>) -> Self {
        Self { part, heading: None, blocks }
    }
}

impl Column {
    /// A column of figures with a heading and a unit.
    pub fn figures(head: impl Into<String>, unit: impl Into<String>) -> Self {
        Self { head: head.into(), unit: unit.into(), kind: Kind::Figure }
    }

    /// A column without a unit.
    pub fn of(kind: Kind, head: impl Into<String>) -> Self {
        Self { head: head.into(), unit: String::new(), kind }
    }
}

impl Row {
    /// An ordinary row.
    pub fn plain(cells: Vec<Cell>) -> Self {
        Self { tone: Tone::Plain, cells }
    }
}

impl Cell {
    /// A name or a sentence; nothing where it is empty.
    pub fn words(text: impl Into<String>) -> Self {
        Self::toned(text, Tone::Plain)
    }

    /// Words that are meant in a certain way.
    pub fn toned(text: impl Into<String>, tone: Tone) -> Self {
        let text = text.into();
        if text.is_empty() { Self::Nothing } else { Self::Words(text, tone) }
    }

    /// A bare number; nothing where it is empty.
    pub fn figure(number: impl Into<String>) -> Self {
        Self::amount(number, "", Tone::Plain)
    }

    /// A number with its unit.
    pub fn amount(number: impl Into<String>, unit: impl Into<String>, tone: Tone) -> Self {
        let number = number.into();
        if number.is_empty() {
            Self::Nothing
        } else {
            Self::Figure { number, unit: unit.into(), tone, share: None }
        }
    }

    /// A figure that is so much of a whole.
    pub fn of_whole(mut self, whole: f64) -> Self {
        if let Self::Figure { share, .. } = &mut self {
            *share = Some(whole).filter(|whole| whole.is_finite());
        }
        self
    }

    /// What stands in it, as a reader finds it.
    pub fn text(&self) -> String {
        match self {
            Self::Nothing => String::new(),
            Self::Words(text, _) => text.clone(),
            Self::Figure { number, unit, .. } => format!("{number} {unit}").trim_end().to_owned(),
            Self::Range(range) => range.words.clone(),
        }
    }

    /// A number and its unit, written with a space between them: `22.5 ml`.
    pub fn measured(text: &str, tone: Tone) -> Self {
        match text.split_once(' ') {
            Some((number, unit)) => Self::amount(number, unit, tone),
            None => Self::amount(text, "", tone),
        }
    }
}
