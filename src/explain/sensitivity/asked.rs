//! One limit that is asked about: which bound of a program it is, and which way it gets looser.

use crate::brief::{Measure, Side};
use crate::explain::demand::Demand;
use crate::lp::bound::{Bound, Way};

/// One limit that the brief sets, by one side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Asked {
    /// Whose it is.
    pub demand: Demand,
    /// From which side it bounds.
    pub side: Side,
    /// At what value: of a glass, the ml that it holds with its headroom.
    pub limit: f64,
    /// What is limited, where it is a measure.
    pub measure: Option<Measure>,
    /// Its place among the model's limits, where it is one.
    pub place: Option<usize>,
}

/// Which bound of a program.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Origin {
    /// A row's.
    Row(usize),
    /// A variable's.
    Variable(usize),
}

/// The bound that a limit is.
pub fn bound(asked: &Asked, origin: Origin) -> Bound {
    match (origin, asked.side) {
        (Origin::Row(row), Side::Min) => Bound::RowMin(row),
        (Origin::Row(row), Side::Max) => Bound::RowMax(row),
        (Origin::Variable(at), Side::Min) => Bound::Min(at),
        (Origin::Variable(at), Side::Max) => Bound::Max(at),
    }
}

/// The way in which a limit gets looser.
pub fn loosens(side: Side) -> Way {
    match side {
        Side::Min => Way::Down,
        Side::Max => Way::Up,
    }
}
