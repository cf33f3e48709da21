//! Which bound of a linear program, and which way it goes.

/// A bound of a linear program. `Both` is the one value of a row or variable that has no room: both of
/// its bounds, moved together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Bound {
    /// The lower bound of a row.
    RowMin(usize),
    /// The upper bound of a row.
    RowMax(usize),
    /// Both bounds of a row.
    RowBoth(usize),
    /// The lower bound of a variable.
    Min(usize),
    /// The upper bound of a variable.
    Max(usize),
    /// Both bounds of a variable.
    Both(usize),
}

/// Which way a bound's value goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Way {
    /// Its value rises.
    Up,
    /// Its value falls.
    Down,
}

impl Way {
    /// 1 or -1.
    pub fn sign(self) -> f64 {
        match self {
            Self::Up => 1.0,
            Self::Down => -1.0,
        }
    }

    /// The other way.
    pub fn opposite(self) -> Self {
        match self {
            Self::Up => Self::Down,
            Self::Down => Self::Up,
        }
    }
}
