//! What each figure rests on, so that a result can say where it leans on a guess.

use serde::Deserialize;

/// A figure of an entry that has a provenance.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Figure {
    /// Strength, % vol.
    Strength,
    /// Sugars.
    Sugar,
    /// Which sugars they are; their relative sweetness comes from it.
    Split,
    /// How sweet these sugars taste beside sucrose.
    Sweetness,
    /// Titratable acid.
    Acid,
    /// Polyols.
    Polyols,
    /// How sweet these polyols taste beside sucrose.
    PolyolSweetness,
    /// Density.
    Density,
    /// Caffeine.
    Caffeine,
}

impl Figure {
    /// The words for it.
    pub fn words(self) -> &'static str {
        match self {
            Self::Strength => "strength",
            Self::Sugar => "sugar",
            Self::Split => "kinds of sugar",
            Self::Sweetness => "sweetness of its sugars",
            Self::Acid => "acid",
            Self::Polyols => "polyols",
            Self::PolyolSweetness => "sweetness of its polyols",
            Self::Density => "density",
            Self::Caffeine => "caffeine",
        }
    }
}

/// What a typical value or a range rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Basis {
    /// A published source, or the spread of several.
    Read,
    /// A legal definition or limit.
    Law,
    /// Computed from figures that were read.
    Computed,
    /// A secondary or commercial page, or a stand-in.
    Weak,
    /// A judgement of ours.
    Judgement,
    /// Memory: not looked up.
    Memory,
    /// Taken as 0.
    Assumed,
    /// One end read, the other judgement.
    #[serde(rename = "half read")]
    HalfRead,
    /// One end a legal limit, the other judgement.
    #[serde(rename = "half law")]
    HalfLaw,
}

impl Basis {
    /// How a reader is warned of it; `None` where it is sound.
    pub fn warning(self) -> Option<&'static str> {
        match self {
            Self::Read | Self::Law | Self::Computed => None,
            Self::Weak => Some("a weak source"),
            Self::Judgement => Some("judgement"),
            Self::Memory => Some("from memory"),
            Self::Assumed => Some("taken as 0"),
            Self::HalfRead => Some("one end published, the other judgement"),
            Self::HalfLaw => Some("one end a legal limit, the other judgement"),
        }
    }
}

/// What one figure of an entry rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Provenance {
    /// Which figure.
    pub figure: Figure,
    /// What its typical value rests on; `None` where it goes without saying.
    pub typical: Option<Basis>,
    /// What its range rests on; `None` where it has none.
    pub range: Option<Basis>,
}

impl Provenance {
    /// The warnings that a reader is due, in words.
    pub(super) fn warnings(&self) -> impl Iterator<Item = String> {
        let words = self.figure.words();
        let typical = self.typical.and_then(Basis::warning).map(|w| format!("{words}: {w}"));
        let range = self.range.and_then(Basis::warning).map(|w| format!("{words} range: {w}"));
        typical.into_iter().chain(range)
    }
}
