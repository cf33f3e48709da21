//! What a brief demands, and how any of it is read, changed, given up and taken back.
//!
//! The one place that knows where a demand's figure stands in a [`Brief`].

use super::{Brief, Candidate, Glass, Side};

/// One demand; numbers are places in the brief's own lists.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Demand {
    /// A side of a target.
    Target(usize, Side),
    /// A measure held at the reference's own.
    Hold(usize),
    /// The glass and what it leaves free.
    Glass,
    /// At most so many ingredients.
    Most,
    /// A side of how many of a group are used.
    Choose(usize, Side),
    /// A side of a ratio of two ingredients.
    Proportion(usize, Side),
    /// A candidate has to be used, and at least its least pour of it.
    Must(usize),
    /// The most that may be poured of a candidate.
    Largest(usize),
}

/// Where the figure of a demand stands.
enum Slot<'b> {
    /// A side of a target or a ratio, or the most of an ingredient.
    Limit(&'b mut Option<f64>),
    /// How many.
    Count(&'b mut Option<usize>),
    /// How far from the reference: nothing is held beyond every number.
    Within(&'b mut f64),
    /// The glass.
    Glass(&'b mut Option<Glass>),
    /// What has to be used, and at least so much of it.
    Must(&'b mut Candidate),
}

impl Slot<'_> {
    /// Takes over what another slot of its own kind holds; another kind says nothing here.
    fn take(self, other: Slot) {
        match (self, other) {
            (Self::Limit(limit), Slot::Limit(other)) => *limit = *other,
            (Self::Count(count), Slot::Count(other)) => *count = *other,
            (Self::Within(within), Slot::Within(other)) => *within = *other,
            (Self::Glass(glass), Slot::Glass(other)) => *glass = *other,
            (Self::Must(candidate), Slot::Must(other)) => {
                (candidate.must, candidate.least) = (other.must, other.least);
            }
            _ => {}
        }
    }

    /// Takes a figure over, in the unit of the demand: of the glass its brim, of an ingredient that has to be used its
    /// least.
    fn set(self, figure: f64) {
        match self {
            Self::Limit(limit) => *limit = Some(figure),
            Self::Count(count) => *count = Some(figure as usize),
            Self::Within(within) => *within = figure,
            Self::Glass(glass) => *glass = glass.map(|glass| Glass { brim: figure, ..glass }),
            Self::Must(candidate) => candidate.least = figure,
        }
    }

    /// Asks for nothing any more.
    fn clear(self) {
        match self {
            Self::Limit(limit) => *limit = None,
            Self::Count(count) => *count = None,
            Self::Within(within) => *within = f64::INFINITY,
            Self::Glass(glass) => *glass = None,
            Self::Must(candidate) => {
                candidate.must = false;
                candidate.least = candidate.step.least();
            }
        }
    }
}

impl Demand {
    /// All demands of a brief: its targets, then its rules, in its own order.
    pub fn all(brief: &Brief) -> Vec<Self> {
        let both = [Side::Min, Side::Max];
        let asked = |demand: &Self| demand.asked(brief).is_some();
        let mut all = vec![];
        for (at, target) in brief.targets.iter().enumerate() {
            all.extend(target.sides().map(|(side, _)| Self::Target(at, side)));
        }
        if brief.reference.is_some() {
            all.extend((0..brief.hold.len()).map(Self::Hold));
        }
        all.extend([Self::Glass, Self::Most].into_iter().filter(asked));
        for at in 0..brief.choose.len() {
            all.extend(both.map(|side| Self::Choose(at, side)).into_iter().filter(asked));
        }
        for at in 0..brief.proportions.len() {
            all.extend(both.map(|side| Self::Proportion(at, side)).into_iter().filter(asked));
        }
        let usable = || brief.usable();
        all.extend(usable().filter(|at| brief.candidates[*at].must).map(Self::Must));
        all.extend(usable().map(Self::Largest).filter(asked));
        all
    }

    /// Whether it speaks of what is in the glass, and so may be missed by a little.
    pub fn is_target(self) -> bool {
        matches!(self, Self::Target(..) | Self::Hold(_))
    }

    /// The side that it bounds, and at what figure.
    pub fn asked(self, brief: &Brief) -> Option<(Side, f64)> {
        Some(match self {
            Self::Target(at, side) => (side, brief.targets[at].limit(side)?),
            Self::Hold(at) => (Side::Max, brief.hold[at].within),
            Self::Glass => (Side::Min, brief.serve.glass?.brim),
            Self::Most => (Side::Max, brief.serve.most? as f64),
            Self::Choose(at, side) => (side, brief.choose[at].limit(side)? as f64),
            Self::Proportion(at, side) => (side, brief.proportions[at].limit(side)?),
            Self::Must(at) => (Side::Min, brief.candidates[at].least),
            Self::Largest(at) => (Side::Max, brief.candidates[at].most?),
        })
    }

    fn slot(self, brief: &mut Brief) -> Slot<'_> {
        match self {
            Self::Target(at, Side::Min) => Slot::Limit(&mut brief.targets[at].min),
            Self::Target(at, Side::Max) => Slot::Limit(&mut brief.targets[at].max),
            Self::Hold(at) => Slot::Within(&mut brief.hold[at].within),
            Self::Glass => Slot::Glass(&mut brief.serve.glass),
            Self::Most => Slot::Count(&mut brief.serve.most),
            Self::Choose(at, Side::Min) => Slot::Count(&mut brief.choose[at].min),
            Self::Choose(at, Side::Max) => Slot::Count(&mut brief.choose[at].max),
            Self::Proportion(at, Side::Min) => Slot::Limit(&mut brief.proportions[at].min),
            Self::Proportion(at, Side::Max) => Slot::Limit(&mut brief.proportions[at].max),
            Self::Must(at) => Slot::Must(&mut brief.candidates[at]),
            Self::Largest(at) => Slot::Limit(&mut brief.candidates[at].most),
        }
    }

    /// Asks for another figure: of the glass another brim, of an ingredient that has to be used another least. What is
    /// asked for nowhere is asked for then.
    pub fn set(self, brief: &mut Brief, figure: f64) {
        self.slot(brief).set(figure);
    }

    /// Asks for it as another brief of the same lists does.
    pub fn take_back(self, brief: &mut Brief, from: &Brief) {
        self.slot(brief).take(self.slot(&mut from.clone()));
    }

    /// Asks for it no more. What is held has no end then: [`without`] takes it out of the list.
    pub fn clear(self, brief: &mut Brief) {
        self.slot(brief).clear();
    }
}

/// The same brief without some of its demands.
pub fn without(brief: &Brief, dropped: &[Demand]) -> Brief {
    let mut open = brief.clone();
    dropped.iter().for_each(|demand| demand.clear(&mut open));
    let mut at = 0..;
    open.hold.retain(|_| at.next().is_none_or(|at| !dropped.contains(&Demand::Hold(at))));
    open
}
