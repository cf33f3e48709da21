//! Sets of bottles.

/// Words of a set.
const WORDS: usize = 16;

/// A set of bottles, by their numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Set([u64; WORDS]);

impl Set {
    /// More bottles than this no set holds.
    pub const MOST: usize = 64 * WORDS;

    /// The first so many.
    pub fn first(count: usize) -> Self {
        (0..count).collect()
    }

    /// Whether a bottle is in it.
    pub fn has(&self, at: usize) -> bool {
        self.0.get(at / 64).is_some_and(|word| word & (1 << (at % 64)) != 0)
    }

    /// The same with one more.
    pub fn with(mut self, at: usize) -> Self {
        self.0[at / 64] |= 1 << (at % 64);
        self
    }

    /// The same without one.
    pub fn without(mut self, at: usize) -> Self {
        self.0[at / 64] &= !(1 << (at % 64));
        self
    }

    /// What either has.
    pub fn or(mut self, other: &Self) -> Self {
        self.0.iter_mut().zip(&other.0).for_each(|(a, b)| *a |= b);
        self
    }

    /// What both have.
    pub fn and(mut self, other: &Self) -> Self {
        self.0.iter_mut().zip(&other.0).for_each(|(a, b)| *a &= b);
        self
    }

    /// What it has and the other has not.
    pub fn less(mut self, other: &Self) -> Self {
        self.0.iter_mut().zip(&other.0).for_each(|(a, b)| *a &= !b);
        self
    }

    /// Whether the other has all of it.
    pub fn within(&self, other: &Self) -> bool {
        self.0.iter().zip(&other.0).all(|(a, b)| a & !b == 0)
    }

    /// How many.
    pub fn len(&self) -> usize {
        self.0.iter().map(|word| word.count_ones() as usize).sum()
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.0.iter().all(|word| *word == 0)
    }

    /// The numbers in it, in order.
    pub fn iter(&self) -> impl Iterator<Item = usize> + '_ {
        (0..Self::MOST).filter(|at| self.has(*at))
    }
}

impl FromIterator<usize> for Set {
    fn from_iter<I: IntoIterator<Item = usize>>(all: I) -> Self {
        all.into_iter().fold(Self::default(), Self::with)
    }
}
