//! The validated question: what the drink must measure, what may go into it, what to aim for.
//!
//! A [`Brief`] holds no text positions and knows no file format and no solver. Whatever stands in
//! it has been checked by `read`: ranges are in order, names are unique, steps are rounded inwards.

mod aim;
mod candidate;
pub mod edit;
mod jigger;
mod limit;
mod measure;
mod notebook;
mod notes;
mod rules;
mod served;
mod settings;
mod spread;
mod stored;
mod words;

pub use aim::{Aim, Goal, Nearest, Resolution};
pub use candidate::{Allergen, Candidate, Handling, Origin, Part, Preparation, Role, Step};
pub use jigger::Jigger;
pub use limit::{Limit, Source};
pub use measure::{Measure, Numerator, Over, Per, Property};
pub use notebook::{Facet, Said, Tasted, Titration, Weighed, Word};
pub use notes::{Notes, same_note};
pub use rules::{Choose, Proportion, Side, Target};
pub use served::{Figures, Pour, Served, poured, serve, serve_on, serve_with};
pub use settings::{Answer, Glass, GlassIce, Hold, HoldFor, Menu, Reference, Serve, Variation};
pub use spread::{JIGGER, Known, Natural, PourError, Poured, Range, Spread, Varies};
pub use stored::{Stock, Stored};
pub(crate) use words::words;

use crate::quantity::Currency;

/// One whole question. Candidates stand in the order of the file; everything else refers to them by
/// their index.
#[derive(Debug, Clone, PartialEq)]
pub struct Brief {
    /// What the drink is called.
    pub title: String,
    /// Shown with every amount of money.
    pub currency: Currency,
    /// Method, ice, glass, and how many ingredients at most.
    pub serve: Serve,
    /// Limits on what is in the glass, one entry a measure.
    pub targets: Vec<Target>,
    /// Targets that were given as one figure: their range is that figure, give or take what is usual.
    pub about: Vec<(Measure, f64)>,
    /// What makes one spec better than another.
    pub aim: Aim,
    /// Which differences of it do not matter.
    pub resolution: Resolution,
    /// Flavour notes that are asked for.
    pub notes: Notes,
    /// The price that the guest pays.
    pub menu: Option<Menu>,
    /// How many serves of it go out in a week, where that is known.
    pub serves: Option<f64>,
    /// Further properties that ingredients carry.
    pub properties: Vec<Property>,
    /// What may go into the drink; those that are `out` are known but not used.
    pub candidates: Vec<Candidate>,
    /// How many of a group are used.
    pub choose: Vec<Choose>,
    /// Ratios of poured volumes.
    pub proportions: Vec<Proportion>,
    /// The spec that this drink comes from.
    pub reference: Option<Reference>,
    /// Targets from the reference's own measured values.
    pub hold: Vec<Hold>,
    /// How many alternatives are wanted.
    pub answer: Answer,
    /// Natural ranges and the hand that pours.
    pub variation: Variation,
    /// What tasters said of glasses.
    pub tasted: Vec<Tasted>,
    /// What was weighed, read and titrated.
    pub weighed: Vec<Weighed>,
}

impl Brief {
    /// The index of the candidate of this name.
    pub fn find(&self, name: &str) -> Option<usize> {
        self.candidates.iter().position(|c| c.name == name)
    }

    /// The target on a measure, if there is one.
    pub fn target(&self, measure: Measure) -> Option<&Target> {
        self.targets.iter().find(|t| t.measure == measure)
    }

    /// What `[hold]` keeps, as ranges: the reference's own value, give or take. Lower ends may be under zero.
    pub fn held(&self) -> Vec<Target> {
        let Some(reference) = &self.reference else { return Vec::new() };
        let served = serve(self, &reference.pours);
        let range = |hold: &Hold| {
            let value = served.value(hold.measure);
            Target { measure: hold.measure, min: Some(value - hold.within), max: Some(value + hold.within) }
        };
        self.hold.iter().map(range).collect()
    }

    /// Every measure that a target or a hold limits, in the order of the measures; where both do, the
    /// tighter on each side.
    pub fn limits(&self) -> Vec<Target> {
        let mut limits = self.targets.clone();
        for held in self.held() {
            let min = held.min.map(|min| min.max(0.0));
            match limits.iter_mut().find(|t| t.measure == held.measure) {
                Some(target) => {
                    target.min = [target.min, min].into_iter().flatten().reduce(f64::max);
                    target.max = [target.max, held.max].into_iter().flatten().reduce(f64::min);
                }
                None => limits.push(Target { min, ..held }),
            }
        }
        limits.sort_by_key(|limit| limit.measure);
        limits
    }

    /// Indices of the candidates that may be used.
    pub fn usable(&self) -> impl Iterator<Item = usize> + '_ {
        self.candidates.iter().enumerate().filter(|(_, c)| !c.out).map(|(i, _)| i)
    }

    /// Every measure that is shown, in its order: the built-in ones, then the properties.
    pub fn measures(&self) -> impl Iterator<Item = Measure> + use<> {
        Measure::BUILT_IN.into_iter().chain((0..self.properties.len()).map(Measure::Property))
    }

    /// The name of a measure as the brief writes it: `strength`, `caffeine`.
    pub fn measure_name(&self, measure: Measure) -> &str {
        match measure {
            Measure::Property(at) => &self.properties[at].name,
            other => other.keyword(),
        }
    }

    /// The unit in which a measure is stated: `% vol`, `GBP`, `mg/L`.
    pub fn measure_unit(&self, measure: Measure) -> String {
        match measure {
            Measure::Property(at) => {
                let property = &self.properties[at];
                match property.per {
                    Per::Serve => property.unit.clone(),
                    Per::Litre => format!("{}/L", property.unit),
                }
            }
            Measure::Cost => self.currency.code().to_owned(),
            other => other.unit().to_owned(),
        }
    }

    /// Whether anything that decides needs to know what every ingredient costs.
    pub fn asks_for_cost(&self) -> bool {
        let money = |m: Measure| matches!(m, Measure::Cost | Measure::PourCost);
        self.targets.iter().any(|t| money(t.measure))
            || self.hold.iter().any(|h| money(h.measure))
            || matches!(self.aim, Aim::Lowest(Goal::Measure(m)) | Aim::Highest(Goal::Measure(m)) if money(m))
    }
}

#[cfg(test)]
mod tests;
