//! Everything that a brief demands and that can be named: what conflicts, what is in the way.
//!
//! Hard always are the pour steps, the smallest pours of what is poured by choice, and the physics.

use crate::brief::{Brief, Choose, Pour, Proportion, Served, Side, Step};
use crate::model::{Limit, Model, Source};
use crate::quantity::{Amount, UnitSystem, number};
use crate::tolerance;

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

impl Demand {
    /// All demands of a brief: its targets, then its rules, in its own order.
    pub fn all(brief: &Brief) -> Vec<Self> {
        let both = [Side::Min, Side::Max];
        let mut all = vec![];
        for (at, target) in brief.targets.iter().enumerate() {
            all.extend(target.sides().map(|(side, _)| Self::Target(at, side)));
        }
        if brief.reference.is_some() {
            all.extend((0..brief.hold.len()).map(Self::Hold));
        }
        all.extend(brief.serve.glass.map(|_| Self::Glass));
        all.extend(brief.serve.most.map(|_| Self::Most));
        for (at, rule) in brief.choose.iter().enumerate() {
            all.extend(both.into_iter().filter(|s| count(rule, *s).is_some()).map(|s| Self::Choose(at, s)));
        }
        for (at, rule) in brief.proportions.iter().enumerate() {
            let sides = both.into_iter().filter(|s| ratio(rule, *s).is_some());
            all.extend(sides.map(|s| Self::Proportion(at, s)));
        }
        let usable = |at: &usize| !brief.candidates[*at].out;
        let candidates = || (0..brief.candidates.len()).filter(usable);
        all.extend(candidates().filter(|at| brief.candidates[*at].must).map(Self::Must));
        all.extend(candidates().filter(|at| brief.candidates[*at].most.is_some()).map(Self::Largest));
        all
    }

    /// Whether it speaks of what is in the glass, and so may be missed by a little.
    pub fn is_target(self) -> bool {
        matches!(self, Self::Target(..) | Self::Hold(_))
    }

    /// The limits on measures that it stands for.
    pub fn limits(self, brief: &Brief, model: &Model) -> Vec<Limit> {
        match self {
            Self::Target(at, side) => {
                let target = &brief.targets[at];
                let limit = |value| Limit { measure: target.measure, side, value, source: Source::Target };
                target.limit(side).map(limit).into_iter().collect()
            }
            Self::Hold(at) => {
                let held = |l: &&Limit| l.source == Source::Hold && l.measure == brief.hold[at].measure;
                model.limits.iter().filter(held).copied().collect()
            }
            Self::Glass => model.limits.iter().filter(|l| l.source == Source::Glass).copied().collect(),
            _ => vec![],
        }
    }

    /// Whether a spec keeps it. `model` is the brief's own.
    pub fn met(self, model: &Model, pours: &[Pour], served: &Served) -> bool {
        let brief = model.brief;
        let used = |at: usize| amount(pours, at) > 0.0;
        match self {
            Self::Target(..) | Self::Hold(_) | Self::Glass => {
                let met = |l: &Limit| l.met(served) && l.met_by(model.judged_value(pours, served, l));
                self.limits(brief, model).iter().all(met)
            }
            Self::Most => brief.serve.most.is_none_or(|most| pours.len() <= most),
            Self::Choose(at, side) => {
                let rule = &brief.choose[at];
                let many = rule.members.iter().filter(|&&m| used(m)).count();
                count(rule, side).is_none_or(|limit| within(side, many as f64, limit as f64))
            }
            Self::Proportion(at, side) => {
                let rule = &brief.proportions[at];
                let (of, to) = (amount(pours, rule.of), amount(pours, rule.to));
                ratio(rule, side).is_none_or(|limit| within(side, of, limit * to))
            }
            Self::Must(at) => tolerance::meets_min(amount(pours, at), brief.candidates[at].least),
            Self::Largest(at) => {
                brief.candidates[at].most.is_none_or(|most| tolerance::meets_max(amount(pours, at), most))
            }
        }
    }

    /// What is called so: a target's key, or a rule's name.
    pub fn name(self, brief: &Brief) -> String {
        let ingredient = |at: usize| brief.candidates[at].name.clone();
        match self {
            Self::Target(at, _) => brief.measure_name(brief.targets[at].measure).to_owned(),
            Self::Hold(at) => format!("hold {}", brief.measure_name(brief.hold[at].measure)),
            Self::Glass => "glass".to_owned(),
            Self::Most => "most".to_owned(),
            Self::Choose(at, _) => format!("choose {}", brief.choose[at].label),
            Self::Proportion(at, _) => {
                let rule = &brief.proportions[at];
                format!("{} to {}", ingredient(rule.of), ingredient(rule.to))
            }
            Self::Must(at) | Self::Largest(at) => ingredient(at),
        }
    }

    /// The rule in words; nothing for a target, which is told by its figures.
    pub fn rule(self, brief: &Brief) -> Option<String> {
        let bound = |side: Side| if side == Side::Min { "at least" } else { "at most" };
        Some(match self {
            Self::Target(..) => return None,
            Self::Hold(at) => {
                let hold = brief.hold[at];
                let unit = brief.measure_unit(hold.measure);
                let within = number::trimmed(hold.within, 3);
                let name = brief.measure_name(hold.measure);
                format!("{name} within {within} {unit} of the reference")
            }
            Self::Glass => {
                let glass = brief.serve.glass?;
                let (brim, free) = (pour_words(brief, None, glass.brim), number::trimmed(glass.headroom, 1));
                format!("{free} % of the {brim} glass left free")
            }
            Self::Most => format!("at most {} ingredients", brief.serve.most?),
            Self::Choose(at, side) => {
                let rule = &brief.choose[at];
                format!("{} {} of {}", bound(side), count(rule, side)?, rule.label)
            }
            Self::Proportion(at, side) => {
                let limit = number::trimmed(ratio(&brief.proportions[at], side)?, 3);
                format!("{} {} {limit}", self.name(brief), bound(side))
            }
            Self::Must(at) => {
                let candidate = &brief.candidates[at];
                let least = pour_words(brief, Some(at), candidate.least);
                format!("at least {least} of {} (it has to be used)", candidate.name)
            }
            Self::Largest(at) => {
                let candidate = &brief.candidates[at];
                format!("at most {} of {}", pour_words(brief, Some(at), candidate.most?), candidate.name)
            }
        })
    }

    /// The side that it bounds, and at what figure.
    pub fn asked(self, brief: &Brief) -> Option<(Side, f64)> {
        Some(match self {
            Self::Target(at, side) => (side, brief.targets[at].limit(side)?),
            Self::Hold(at) => (Side::Max, brief.hold[at].within),
            Self::Glass => (Side::Min, brief.serve.glass?.brim),
            Self::Most => (Side::Max, brief.serve.most? as f64),
            Self::Choose(at, side) => (side, count(&brief.choose[at], side)? as f64),
            Self::Proportion(at, side) => (side, ratio(&brief.proportions[at], side)?),
            Self::Must(at) => (Side::Min, brief.candidates[at].least),
            Self::Largest(at) => (Side::Max, brief.candidates[at].most?),
        })
    }
}

/// The same brief without some of its demands.
pub fn without(brief: &Brief, dropped: &[Demand]) -> Brief {
    let mut open = brief.clone();
    let mut held = vec![true; brief.hold.len()];
    for demand in dropped {
        match *demand {
            Demand::Target(at, Side::Min) => open.targets[at].min = None,
            Demand::Target(at, Side::Max) => open.targets[at].max = None,
            Demand::Hold(at) => held[at] = false,
            Demand::Glass => open.serve.glass = None,
            Demand::Most => open.serve.most = None,
            Demand::Choose(at, Side::Min) => open.choose[at].min = None,
            Demand::Choose(at, Side::Max) => open.choose[at].max = None,
            Demand::Proportion(at, Side::Min) => open.proportions[at].min = None,
            Demand::Proportion(at, Side::Max) => open.proportions[at].max = None,
            Demand::Must(at) => {
                let candidate = &mut open.candidates[at];
                candidate.must = false;
                candidate.least = match candidate.step {
                    Step::Every(step) => step,
                    Step::Free => 0.0,
                };
            }
            Demand::Largest(at) => open.candidates[at].most = None,
        }
    }
    let mut kept = held.into_iter();
    open.hold.retain(|_| kept.next().unwrap_or(true));
    open
}

fn within(side: Side, value: f64, limit: f64) -> bool {
    match side {
        Side::Min => tolerance::meets_min(value, limit),
        Side::Max => tolerance::meets_max(value, limit),
    }
}

fn count(rule: &Choose, side: Side) -> Option<usize> {
    if side == Side::Min { rule.min } else { rule.max }
}

fn ratio(rule: &Proportion, side: Side) -> Option<f64> {
    if side == Side::Min { rule.min } else { rule.max }
}

fn amount(pours: &[Pour], candidate: usize) -> f64 {
    pours.iter().filter(|p| p.candidate == candidate).map(|p| p.amount).sum()
}

fn pour_words(brief: &Brief, candidate: Option<usize>, value: f64) -> String {
    let amount =
        candidate.map_or(Amount::ml(value), |at| Amount { value, unit: brief.candidates[at].unit() });
    number::pour(amount, UnitSystem::Metric)
}
