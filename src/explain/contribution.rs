//! What each ingredient, and the ice, brings into the glass.
//!
//! Shares are in the units of the served figures, so that they add up to them: a share of the strength is
//! the ingredient's own ethanol over the volume of the whole drink. The volume is shared out by the partial
//! volumes at the drink's own composition, which add up to it exactly (Euler), contraction included.

use crate::brief::{Brief, Figures, Measure, Per, Pour, Served};
use crate::liquid::{Masses, Portion, ethanol};
use crate::quantity::Unit;

/// What the water from the ice is called among the ingredients.
const ICE: &str = "water from the ice";

/// What brings something into the glass.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Source {
    /// A pour.
    Pour,
    /// The water from the ice.
    Ice,
}

/// What one pour, or the ice, brings.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Contribution {
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
    /// Its share of every figure of which there are shares, by their keys and in their units: all together add up to
    /// them; NaN where it is not known (a cost without a price).
    pub share: Figures,
}

/// What is brought in grams.
#[derive(Debug, Clone, Copy, PartialEq, Default, serde::Serialize)]
pub struct Grams {
    /// Ethanol.
    pub ethanol: f64,
    /// Sugars.
    pub sugar: f64,
    /// Sweetness, as sucrose.
    pub sweetness: f64,
    /// Titratable acid, as citric.
    pub acid: f64,
}

/// The measures that add up from shares, in the order in which they are shown.
pub fn shared(brief: &Brief) -> impl Iterator<Item = Measure> {
    let whole = |m: &Measure| *m != Measure::SugarAcid && (*m != Measure::PourCost || brief.menu.is_some());
    brief.measures().filter(whole)
}

/// What every pour brings, in their order, and last the ice where any of it melts in.
pub fn contributions(brief: &Brief, pours: &[Pour], served: &Served) -> Vec<Contribution> {
    let mut all: Vec<Contribution> = pours.iter().map(|pour| of_pour(brief, *pour, served)).collect();
    if served.drink.melt > 0.0 {
        all.push(of_ice(brief, served));
    }
    all
}

fn of_pour(brief: &Brief, pour: Pour, served: &Served) -> Contribution {
    let candidate = &brief.candidates[pour.candidate];
    let (portion, amount) = (&candidate.portion, pour.amount);
    let share = |measure: Measure| match measure {
        Measure::Cost => amount * candidate.cost_per_unit.unwrap_or(f64::NAN),
        Measure::PourCost => {
            let net = brief.menu.map_or(f64::NAN, |menu| menu.net());
            100.0 * amount * candidate.cost_per_unit.unwrap_or(f64::NAN) / net
        }
        Measure::Property(at) => {
            let carried = amount * candidate.carried(at);
            match brief.properties[at].per {
                Per::Serve => carried,
                Per::Litre => served.drink.per_volume(1000.0 * carried),
            }
        }
        other => physical(portion, amount, served, other),
    };
    Contribution {
        source: Source::Pour,
        ingredient: candidate.name.clone(),
        amount,
        unit: candidate.unit(),
        grams: Grams {
            ethanol: amount * portion.masses.ethanol,
            sugar: amount * portion.sugars,
            sweetness: amount * portion.sweet,
            acid: amount * portion.masses.acid,
        },
        share: Figures::of(brief, shared(brief), share),
    }
}

/// The share of a measure that the physics alone decides.
fn physical(portion: &Portion, amount: f64, served: &Served, measure: Measure) -> f64 {
    let (drink, masses) = (&served.drink, &portion.masses);
    match measure {
        Measure::Volume => amount * (drink.masses.partial_volumes().of(masses) + portion.excess),
        Measure::Strength => drink.per_volume(100.0 * amount * masses.ethanol / ethanol::PURE),
        Measure::Sugar => drink.per_volume(1000.0 * amount * portion.sugars),
        Measure::Sweetness => drink.per_volume(1000.0 * amount * portion.sweet),
        Measure::Acid => drink.per_volume(1000.0 * amount * masses.acid),
        Measure::Energy => amount * portion.energy,
        Measure::Ethanol => amount * masses.ethanol,
        // A ratio is no sum of shares, the melt is the ice's, and money and properties are known elsewhere.
        Measure::SugarAcid
        | Measure::Melt
        | Measure::Level
        | Measure::Cost
        | Measure::PourCost
        | Measure::Property(_) => 0.0,
    }
}

fn of_ice(brief: &Brief, served: &Served) -> Contribution {
    let melt = served.drink.melt;
    let masses = Masses { water: melt * ethanol::WATER, ..Masses::default() };
    let water = Portion { masses, ..Portion::default() };
    let share = |measure: Measure| match measure {
        Measure::Melt => melt,
        other => physical(&water, 1.0, served, other),
    };
    Contribution {
        source: Source::Ice,
        ingredient: ICE.to_owned(),
        amount: melt,
        unit: Unit::Ml,
        grams: Grams::default(),
        share: Figures::of(brief, shared(brief), share),
    }
}
