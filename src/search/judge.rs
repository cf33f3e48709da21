//! The exact judge: the physics decides whether a spec meets the brief, and what it scores.

use super::incumbents::Entry;
use crate::brief::{Pour, Served, serve};
use crate::free;
use crate::model::{Model, Objective};

/// Judges specs of one model for one objective.
#[derive(Debug, Clone, Copy)]
pub struct Judge<'a> {
    /// The brief as numbers.
    pub model: &'a Model<'a>,
    /// What is made least.
    pub objective: &'a Objective,
}

impl Judge<'_> {
    /// The pours of a set of columns and their units.
    pub fn pours(&self, set: &[usize], units: &[f64]) -> Vec<Pour> {
        set.iter().zip(units).map(|(c, u)| self.model.pour(*c, *u)).collect()
    }

    /// Measures a spec; `None` if it breaks a limit, a proportion, or has no score.
    pub fn measured(&self, pours: &[Pour]) -> Option<(Served, f64)> {
        if pours.is_empty() {
            return None;
        }
        let served = serve(self.model.brief, pours);
        if !self.model.meets_limits(pours, &served)
            || !self.model.keeps_proportions(pours)
            || !self.model.keeps_objective_bounds(pours, &served)
        {
            return None;
        }
        let score = self.objective.score(self.model, pours, &served);
        // Last, because it takes the longest.
        (score.is_finite() && self.model.holds_in_service(pours, &served)).then_some((served, score))
    }

    /// The entry of a spec that passes; `None` if it cannot be poured, breaks a count, or see
    /// [`Self::measured`].
    pub fn entry(&self, set: Vec<usize>, units: Vec<f64>) -> Option<Entry> {
        if !self.model.keeps_counts(&set, &units) {
            return None;
        }
        let (served, score) = self.measured(&self.pours(&set, &units))?;
        let cost = if served.cost.is_finite() { served.cost } else { 0.0 };
        Some(Entry { score, cost, set, units })
    }

    /// The best entry with this set: whole amounts as they are, free ones re-solved. Where an ingredient may be poured in
    /// any amount, the relaxation's point is only near the optimum, and repeated expansion at the point finds it.
    pub fn polished(&self, set: &[usize], units: &[f64]) -> Option<Entry> {
        let free = free::polished(self.model, self.objective, set, units)?;
        self.entry(set.to_vec(), set.iter().map(|c| free.units[*c]).collect())
    }
}
