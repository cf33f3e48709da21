//! One node of the pourable search: which amounts are still possible, and a tableau for them.

use super::sums::Sum;
use crate::lp::simplex::Simplex;
use crate::model::{Model, Program};
use crate::tolerance::LOOSE;

/// What is decided of an ingredient.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// Used or not: nothing yet.
    Open,
    /// It is used.
    Used,
    /// It is not used.
    Out,
}

/// The amounts that an ingredient may still take, in its units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Domain {
    /// What is decided.
    pub state: State,
    /// Least, if it is used.
    pub low: f64,
    /// Most.
    pub high: f64,
}

/// A node.
#[derive(Debug, Clone)]
pub struct Node {
    /// A domain a column.
    pub domains: Vec<Domain>,
    /// What the sums may still be.
    pub sums: Vec<Sum>,
    /// The tableau, last solved for the parent.
    pub simplex: Simplex,
    /// No spec below this node scores better.
    pub bound: f64,
}

/// What a branch does to one column.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Change {
    /// Not used.
    Out(usize),
    /// At most so many units.
    AtMost(usize, f64),
    /// Used, and at least so many units.
    AtLeast(usize, f64),
    /// The sum of this index is at most so many steps.
    SumAtMost(usize, f64),
    /// The sum of this index is at least so many steps.
    SumAtLeast(usize, f64),
}

/// No spec is left below a node.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Empty;

impl Node {
    /// The root of a program.
    pub fn root(model: &Model, simplex: Simplex, sums: Vec<Sum>) -> Self {
        let domain = |c: &crate::model::Column| Domain {
            state: if c.must { State::Used } else { State::Open },
            low: c.least,
            high: c.most,
        };
        let domains = model.columns.iter().map(domain).collect();
        Self { domains, sums, simplex, bound: f64::NEG_INFINITY }
    }

    /// Takes over another node without allocating.
    pub fn copy_from(&mut self, other: &Self) {
        self.domains.copy_from_slice(&other.domains);
        self.sums.clone_from(&other.sums);
        self.simplex.copy_from(&other.simplex);
        self.bound = other.bound;
    }

    /// Applies a branch.
    pub fn apply(&mut self, change: Change) {
        match change {
            Change::Out(c) => self.domains[c].state = State::Out,
            Change::AtMost(c, units) => self.domains[c].high = self.domains[c].high.min(units),
            Change::AtLeast(c, units) => {
                self.domains[c].state = State::Used;
                self.domains[c].low = self.domains[c].low.max(units);
            }
            Change::SumAtMost(s, steps) => self.sums[s].high = self.sums[s].high.min(steps),
            Change::SumAtLeast(s, steps) => self.sums[s].low = self.sums[s].low.max(steps),
        }
    }

    /// How many ingredients are certainly used.
    pub fn used(&self) -> usize {
        self.domains.iter().filter(|d| d.state == State::Used).count()
    }

    /// Whether every column is used or not.
    pub fn is_decided(&self) -> bool {
        self.domains.iter().all(|d| d.state != State::Open)
    }

    /// The columns that are used for sure, by rank.
    pub fn used_set(&self, rank: &[usize]) -> Vec<usize> {
        let mut set: Vec<usize> =
            (0..self.domains.len()).filter(|c| self.domains[*c].state == State::Used).collect();
        set.sort_by_key(|c| rank[*c]);
        set
    }

    /// Draws what follows from counts and empty ranges, until nothing more does.
    ///
    /// # Errors
    /// [`Empty`] when some count or range can no longer be kept.
    pub fn propagate(&mut self, model: &Model) -> Result<(), Empty> {
        for domain in &mut self.domains {
            if domain.low > domain.high {
                match domain.state {
                    State::Used => return Err(Empty),
                    State::Open => domain.state = State::Out,
                    State::Out => {}
                }
            }
        }
        loop {
            let mut changed = false;
            for group in &model.groups {
                changed |= self.propagate_group(group)?;
            }
            if !changed {
                return Ok(());
            }
        }
    }

    fn propagate_group(&mut self, group: &crate::model::Group) -> Result<bool, Empty> {
        let (mut used, mut open) = (0, 0);
        for &c in &group.members {
            match self.domains[c].state {
                State::Used => used += 1,
                State::Open => open += 1,
                State::Out => {}
            }
        }
        if used > group.max || used + open < group.min {
            return Err(Empty);
        }
        let follows = match () {
            () if open == 0 => return Ok(false),
            () if used == group.max => State::Out,
            () if used + open == group.min => State::Used,
            () => return Ok(false),
        };
        for &c in &group.members {
            if self.domains[c].state == State::Open {
                self.domains[c].state = follows;
            }
        }
        Ok(true)
    }

    /// Puts the domains and the sums into the tableau as bounds. Sums are loosened as rows are.
    pub fn bound_segments(&mut self, program: &Program) {
        for (at, segment) in program.segments.iter().enumerate() {
            let domain = &self.domains[segment.column];
            let (low, high) = match domain.state {
                State::Open => (0.0, domain.high),
                State::Used => (domain.low, domain.high),
                State::Out => (0.0, 0.0),
            };
            self.simplex.bound(at, segment.part_of(low), segment.part_of(high));
        }
        for sum in &self.sums {
            let (low, high) = (sum.low, sum.high);
            self.simplex.bound(sum.variable, low - LOOSE * low.abs(), high + LOOSE * high.abs());
        }
    }
}
