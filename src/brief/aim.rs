//! What makes one spec better than another.

use super::Measure;

/// What is made low or high.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Goal {
    /// A measure of the served drink.
    Measure(Measure),
    /// How much of a candidate is poured, ml or g.
    Ingredient(usize),
}

/// To what the spec is to be close.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Nearest {
    /// Least total amount (ml, and g of powders) poured differently from the reference.
    Reference,
    /// The largest distance from the middle of any two-sided range, over its half width, is least.
    Middle,
}

/// The aim: exactly one of these.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Aim {
    /// As low as possible.
    Lowest(Goal),
    /// As high as possible.
    Highest(Goal),
    /// As close as possible.
    Nearest(Nearest),
    /// As many as possible of the brief's own notes are carried by what is used.
    Notes,
}

/// Which differences of the aim's figure do not matter: nobody can pour, taste or see them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Resolution {
    /// Differences of at most this, in the aim's unit; at 0 all matter.
    By(f64),
    /// Differences of at most this share of the best.
    Share(f64),
}

impl Resolution {
    /// Every difference matters.
    pub const FINE: Self = Self::By(0.0);

    /// What does not matter beside a best value, in the aim's unit.
    pub fn at(self, best: f64) -> f64 {
        match self {
            Self::By(to) => to,
            Self::Share(share) if best.is_finite() => share * best.abs(),
            Self::Share(_) => 0.0,
        }
    }
}

impl Aim {
    /// The word in a brief and in JSON: `lowest`, `highest`, `nearest`.
    pub fn direction(self) -> &'static str {
        match self {
            Self::Lowest(_) => "lowest",
            Self::Highest(_) | Self::Notes => "highest",
            Self::Nearest(_) => "nearest",
        }
    }

    /// Whether score `a` is better than `b` beyond rounding questions (strictly, as numbers).
    pub fn better(self, a: f64, b: f64) -> bool {
        match self {
            Self::Highest(_) | Self::Notes => a > b,
            _ => a < b,
        }
    }
}
