//! What each ingredient, and the ice, brings into the glass.
//!
//! Shares are in the units of the served figures, so that they add up to them: a share of the strength is
//! the ingredient's own ethanol over the volume of the whole drink. The volume is shared out by the partial
//! volumes at the drink's own composition, which add up to it exactly (Euler), contraction included.

use crate::brief::{Brief, Measure, Per, Pour, Served};
use crate::liquid::{Masses, Portion, ethanol};

/// Where a contribution comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bringer {
    /// A pour.
    Pour(Pour),
    /// The ice: so many ml of water.
    Ice(f64),
}

/// What one pour, or the ice, brings.
#[derive(Debug, Clone, PartialEq)]
pub struct Contribution {
    /// Who brings it.
    pub from: Bringer,
    /// Ethanol, g.
    pub ethanol: f64,
    /// Sugars, g.
    pub sugar: f64,
    /// Sweetness, g as sucrose.
    pub sweetness: f64,
    /// Titratable acid, g as citric.
    pub acid: f64,
    /// Its share of every figure of which there are shares, in that figure's unit; NaN where it is not
    /// known (a cost without a price).
    pub shares: Vec<(Measure, f64)>,
}

impl Contribution {
    /// Its share of a measure; NaN where there is none.
    pub fn share(&self, measure: Measure) -> f64 {
        self.shares.iter().find(|(m, _)| *m == measure).map_or(f64::NAN, |(_, share)| *share)
    }
}

/// The measures that add up from shares, in the order in which they are shown.
pub fn shared(brief: &Brief) -> Vec<Measure> {
    let properties = (0..brief.properties.len()).map(Measure::Property);
    let whole = |m: &Measure| *m != Measure::SugarAcid && (*m != Measure::PourCost || brief.menu.is_some());
    Measure::BUILT_IN.into_iter().filter(whole).chain(properties).collect()
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
        from: Bringer::Pour(pour),
        ethanol: amount * portion.masses.ethanol,
        sugar: amount * portion.sugars,
        sweetness: amount * portion.sweet,
        acid: amount * portion.masses.acid,
        shares: shared(brief).into_iter().map(|m| (m, share(m))).collect(),
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
    let water = Masses { water: melt * ethanol::WATER, ..Masses::default() };
    let share = |measure: Measure| match measure {
        Measure::Volume => served.drink.masses.partial_volumes().of(&water),
        Measure::Melt => melt,
        // Water brings nothing else, and costs nothing.
        Measure::Strength
        | Measure::Sugar
        | Measure::Sweetness
        | Measure::Acid
        | Measure::SugarAcid
        | Measure::Cost
        | Measure::PourCost
        | Measure::Energy
        | Measure::Ethanol
        | Measure::Level
        | Measure::Property(_) => 0.0,
    };
    Contribution {
        from: Bringer::Ice(melt),
        ethanol: 0.0,
        sugar: 0.0,
        sweetness: 0.0,
        acid: 0.0,
        shares: shared(brief).into_iter().map(|m| (m, share(m))).collect(),
    }
}
