//! What each ingredient and the ice bring, in the words of the brief.

use super::Source;
use super::figures::ServedFigures;
use crate::brief::Brief;
use crate::explain::contribution::{Bringer, Contribution, contributions};
use crate::quantity::Unit;
use crate::solve::Spec;

/// What the water from the ice is called among the ingredients.
const ICE: &str = "water from the ice";

/// What one pour, or the ice, brings.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct ContributionLine {
    /// `pour` or `ice`.
    pub source: Source,
    /// The ingredient's name; of the ice, what it is called.
    pub ingredient: String,
    /// ml or g.
    pub amount: f64,
    /// `ml` or `g`.
    pub unit: Unit,
    /// In grams.
    pub grams: Grams,
    /// Its share of the served figures, by their keys and in their units: all together add up to them.
    pub share: ServedFigures,
}

/// What is brought in grams.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Grams {
    /// Ethanol.
    pub ethanol: f64,
    /// Sugars.
    pub sugar: f64,
    /// Sweetness, as sucrose.
    pub sweetness: f64,
    /// Acid, as citric.
    pub acid: f64,
}

/// What each pour of a spec brings, and last the ice.
pub fn lines(brief: &Brief, spec: &Spec) -> Vec<ContributionLine> {
    contributions(brief, &spec.pours, &spec.served).iter().map(|brought| line(brief, brought)).collect()
}

fn line(brief: &Brief, brought: &Contribution) -> ContributionLine {
    let (source, ingredient, amount, unit) = match brought.from {
        Bringer::Pour(pour) => {
            let candidate = &brief.candidates[pour.candidate];
            (Source::Pour, candidate.name.as_str(), pour.amount, candidate.unit())
        }
        Bringer::Ice(melt) => (Source::Ice, ICE, melt, Unit::Ml),
    };
    let share = brought.shares.iter().map(|(m, share)| (brief.measure_name(*m).to_owned(), *share)).collect();
    ContributionLine {
        source,
        ingredient: ingredient.to_owned(),
        amount,
        unit,
        grams: Grams {
            ethanol: brought.ethanol,
            sugar: brought.sugar,
            sweetness: brought.sweetness,
            acid: brought.acid,
        },
        share: ServedFigures(share),
    }
}
