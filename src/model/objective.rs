//! What the search makes least: a score that is always to be low, and how it is read off a spec.

use super::{Gauge, Model};
use crate::brief::{Aim, Goal, Limit, Measure, Nearest, Pour, Served, Side, Source, Target, poured};
use crate::tolerance::MET;

/// Whether the goal's own value is to be low or high.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sense {
    /// The score is the value.
    Low,
    /// The score is the value with its sign turned.
    High,
}

/// A limit that may be missed, at a price.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Soft {
    /// The limit.
    pub limit: Limit,
    /// By how much (in the measure's unit) it is missed when it is missed by 1.
    pub size: f64,
}

impl Soft {
    /// By how much a value misses it, in its sizes; NaN where the value is undefined.
    pub fn missed(&self, value: f64) -> f64 {
        let by = match self.limit.side {
            Side::Min => self.limit.value - value,
            Side::Max => value - self.limit.value,
        };
        if by.is_nan() { by } else { (by / self.size).max(0.0) }
    }
}

/// How the misses of several soft limits make one score.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Together {
    /// Their sum.
    Sum,
    /// The largest of them.
    Largest,
}

/// What is made least.
#[derive(Debug, Clone, PartialEq)]
pub enum Objective {
    /// A goal, low or high.
    Goal {
        /// Which figure.
        goal: Goal,
        /// How it is made.
        gauge: Gauge,
        /// Low or high.
        sense: Sense,
    },
    /// The ratio of the amounts of two candidates, the first over the second.
    Ratio {
        /// Numerator.
        of: usize,
        /// Denominator.
        to: usize,
        /// Low or high.
        sense: Sense,
    },
    /// The total amount poured differently from given amounts, ml and g.
    Change {
        /// The amount of every column, in search units.
        from: Vec<f64>,
        /// What is added for ingredients of the reference that may not be used, ml or g.
        lost: f64,
    },
    /// How many of some notes are covered, with its sign turned: which columns carry each of them. Less than a least
    /// pour covers a note by its share of it.
    Notes(Vec<Vec<usize>>),
    /// By how much soft limits are missed.
    Elastic {
        /// The limits.
        softs: Vec<Soft>,
        /// How their misses count.
        together: Together,
        /// No miss is larger than this.
        most: f64,
    },
}

impl Objective {
    /// The objective of the model's own aim.
    pub fn of(model: &Model) -> Self {
        match model.brief.aim {
            Aim::Lowest(goal) => Self::goal(model, goal, Sense::Low),
            Aim::Highest(goal) => Self::goal(model, goal, Sense::High),
            Aim::Nearest(Nearest::Reference) => Self::change(model),
            Aim::Nearest(Nearest::Middle) => Self::middle(model),
            Aim::Notes => Self::notes(model),
        }
    }

    /// The notes that any column carries; the others cannot be covered.
    fn notes(model: &Model) -> Self {
        let columns = 0..model.columns.len();
        let carry = |note: &String| columns.clone().filter(|c| model.candidate(*c).has_note(note)).collect();
        let carried = model.brief.notes.aimed.iter().map(carry);
        Self::Notes(carried.filter(|columns: &Vec<usize>| !columns.is_empty()).collect())
    }

    /// A goal made low or high.
    pub fn goal(model: &Model, goal: Goal, sense: Sense) -> Self {
        Self::Goal { goal, gauge: Gauge::of_goal(model, goal), sense }
    }

    /// Whether the score is a ratio over acid, which no acid has none of.
    pub fn is_over_acid(&self) -> bool {
        let soft = |soft: &Soft| soft.limit.measure == Measure::SugarAcid && soft.limit.side == Side::Max;
        match self {
            Self::Goal { goal, .. } => *goal == Goal::Measure(Measure::SugarAcid),
            Self::Elastic { softs, .. } => softs.iter().any(soft),
            Self::Ratio { .. } | Self::Change { .. } | Self::Notes(_) => false,
        }
    }

    /// Least change from the brief's reference.
    fn change(model: &Model) -> Self {
        let pours = model.brief.reference.as_ref().map_or(&[][..], |reference| &reference.pours);
        let from: Vec<f64> = model.columns.iter().map(|c| poured(pours, c.candidate) / c.unit).collect();
        let usable = |p: &&Pour| model.columns.iter().any(|c| c.candidate == p.candidate);
        let lost = pours.iter().filter(|p| !usable(p)).map(|p| p.amount).sum();
        Self::Change { from, lost }
    }

    /// The Chebyshev distance from the middles of the two-sided ranges over their half widths.
    fn middle(model: &Model) -> Self {
        let ranges = model.brief.targets.iter().copied().chain(model.brief.held());
        let mut softs = vec![];
        for Target { measure, min, max } in ranges {
            let (Some(min), Some(max)) = (min, max) else { continue };
            if max <= min {
                continue;
            }
            let (value, size) = (0.5 * (min + max), 0.5 * (max - min));
            for side in [Side::Min, Side::Max] {
                let source = Source::Target;
                softs.push(Soft { limit: Limit { measure, side, value, source }, size });
            }
        }
        // Every target is also a hard limit, so no distance is over 1 (and the margin of a limit).
        Self::Elastic { softs, together: Together::Largest, most: 1.0 + 1e-6 }
    }

    /// The distance from the middles of the ranges, where there is a range.
    pub fn middle_of(model: &Model) -> Option<Self> {
        let middle = Self::middle(model);
        let any = matches!(&middle, Self::Elastic { softs, .. } if !softs.is_empty());
        any.then_some(middle)
    }

    /// The search's score of a measured spec: lower is better. NaN where the figure is undefined.
    pub fn score(&self, model: &Model, pours: &[Pour], served: &Served) -> f64 {
        let poured = |at: usize| poured(pours, at);
        match self {
            Self::Goal { goal, sense, .. } => {
                let value = match goal {
                    Goal::Measure(measure) => served.value(*measure),
                    Goal::Ingredient(at) => poured(*at),
                };
                Self::turned(*sense, value)
            }
            Self::Ratio { of, to, sense } => Self::turned(*sense, poured(*of) / poured(*to)),
            Self::Change { from, lost } => {
                let moved = model.columns.iter().zip(from);
                lost + moved.map(|(c, r)| (poured(c.candidate) - r * c.unit).abs()).sum::<f64>()
            }
            Self::Notes(notes) => {
                let units = |c: usize| poured(model.columns[c].candidate) / model.columns[c].unit;
                0.0 - notes.iter().map(|columns| model.covered(columns, units)).sum::<f64>()
            }
            Self::Elastic { softs, together, .. } => {
                let typical = |soft: &Soft| soft.missed(served.value(soft.limit.measure));
                match together {
                    Together::Sum => {
                        let judged =
                            |soft: &Soft| soft.missed(model.judged_value(pours, served, &soft.limit));
                        softs.iter().map(judged).sum()
                    }
                    // A distance is that of the typical drink. `max` would pass over an undefined miss.
                    Together::Largest => {
                        softs.iter().map(typical).fold(0.0, |a, b| if b > a || b.is_nan() { b } else { a })
                    }
                }
            }
        }
    }

    /// No spec scores better than the limits on the aim's own measure let it; minus infinity where there are
    /// none.
    pub fn floor(&self, model: &Model) -> f64 {
        if let Self::Notes(notes) = self {
            return 0.0 - notes.len() as f64;
        }
        let Self::Goal { goal: Goal::Measure(measure), sense, .. } = self else { return f64::NEG_INFINITY };
        let side = match sense {
            Sense::Low => Side::Min,
            Sense::High => Side::Max,
        };
        let own = model.limits.iter().filter(|limit| limit.measure == *measure && limit.side == side);
        let least = own.map(|limit| Self::turned(*sense, limit.value) - MET * limit.value.abs());
        least.fold(f64::NEG_INFINITY, f64::max)
    }

    /// That no spec may score worse than this, as a limit; only where a measure is the aim.
    pub fn as_limit(&self, score: f64) -> Option<Limit> {
        let Self::Goal { goal: Goal::Measure(measure), sense, .. } = self else { return None };
        let side = match sense {
            Sense::Low => Side::Max,
            Sense::High => Side::Min,
        };
        let value = Self::turned(*sense, score);
        value.is_finite().then_some(Limit { measure: *measure, side, value, source: super::Source::Target })
    }

    /// The value that people are shown for a score.
    pub fn value(&self, score: f64) -> f64 {
        match self {
            Self::Goal { sense, .. } | Self::Ratio { sense, .. } => Self::turned(*sense, score),
            Self::Notes(_) => Self::turned(Sense::High, score),
            Self::Change { .. } | Self::Elastic { .. } => score,
        }
    }

    /// The step in which the scores of pourable specs come, where they come in steps: notes are covered or not.
    pub fn step(&self) -> Option<f64> {
        matches!(self, Self::Notes(_)).then_some(1.0)
    }

    /// The score of a value that people are shown: the way back.
    pub fn score_of(&self, value: f64) -> f64 {
        self.value(value)
    }

    fn turned(sense: Sense, value: f64) -> f64 {
        match sense {
            Sense::Low => value,
            // Not `-value`: the negative of zero would show.
            Sense::High => 0.0 - value,
        }
    }
}
