//! Everything that a brief demands and that can be named: what conflicts, what is in the way.
//!
//! Hard always are the pour steps, the smallest pours of what is poured by choice, and the physics.

pub use crate::brief::edit::{Demand, without};
use crate::brief::{Brief, Limit, Pour, Served, Side, Source, poured};
use crate::model::Model;
use crate::quantity::{Amount, UnitSystem, number};
use crate::tolerance;

impl Demand {
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
        let used = |at: usize| poured(pours, at) > 0.0;
        match self {
            Self::Target(..) | Self::Hold(_) | Self::Glass => {
                let met = |l: &Limit| l.met(served) && l.met_by(model.judged_value(pours, served, l));
                self.limits(brief, model).iter().all(met)
            }
            Self::Most => brief.serve.most.is_none_or(|most| pours.len() <= most),
            Self::Choose(at, side) => {
                let rule = &brief.choose[at];
                let many = rule.members.iter().filter(|&&m| used(m)).count();
                rule.limit(side).is_none_or(|limit| within(side, many as f64, limit as f64))
            }
            Self::Proportion(at, side) => {
                let rule = &brief.proportions[at];
                let (of, to) = (poured(pours, rule.of), poured(pours, rule.to));
                rule.limit(side).is_none_or(|limit| within(side, of, limit * to))
            }
            Self::Must(at) => tolerance::meets_min(poured(pours, at), brief.candidates[at].least),
            Self::Largest(at) => {
                brief.candidates[at].most.is_none_or(|most| tolerance::meets_max(poured(pours, at), most))
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
                format!("{} {} of {}", bound(side), rule.limit(side)?, rule.label)
            }
            Self::Proportion(at, side) => {
                let limit = number::trimmed(brief.proportions[at].limit(side)?, 3);
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
}

fn within(side: Side, value: f64, limit: f64) -> bool {
    match side {
        Side::Min => tolerance::meets_min(value, limit),
        Side::Max => tolerance::meets_max(value, limit),
    }
}

fn pour_words(brief: &Brief, candidate: Option<usize>, value: f64) -> String {
    let amount =
        candidate.map_or(Amount::ml(value), |at| Amount { value, unit: brief.candidates[at].unit() });
    number::pour(amount, UnitSystem::Metric)
}
