//! What a label or a menu says of the drink as served: strength, units, energy, allergens.
//!
//! Facts, never advice: what applies to a bar depends on where it stands and how it sells.

use crate::brief::{Allergen, Brief, Pour, Served, words};
use crate::larder;
use crate::liquid::{Label as Composition, energy};
use crate::solve::Spec;

/// UK unit of alcohol, ml of ethanol (UK Chief Medical Officers' guidelines, 2016).
const UNIT: f64 = 10.0;
/// US standard drink, g of ethanol (NIAAA; Dietary Guidelines for Americans).
const STANDARD_DRINK: f64 = 14.0;
/// kJ in a kcal, for energy that no factor of Annex XIV is known for (fat and protein in one sum).
const KILOJOULE: f64 = 4.184;

/// What a label or a menu says.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Label {
    /// % vol at 20 °C, as served; a label states it to one decimal.
    pub strength: f64,
    /// % vol at 20 °C with the strongest makes of the larder's ranges: what is said of a weak drink has to
    /// hold for these too.
    #[serde(skip)]
    pub strongest: f64,
    /// UK units of alcohol in one serve.
    pub units_of_alcohol: f64,
    /// US standard drinks in one serve.
    pub us_standard_drinks: f64,
    /// Energy (EU 1169/2011 Annex XIV).
    pub energy_per_100ml: Energy,
    /// Groups of EU 1169/2011 Annex II that it holds.
    pub allergens: Vec<Allergen>,
    /// What has to be said, each with its source.
    pub statements: Vec<String>,
    /// Major food allergens of the US that it holds.
    pub us_allergens: Vec<UsAllergen>,
    /// Caffeine, mg/L.
    pub caffeine: f64,
    /// Caffeine at the upper end of the larder's ranges, mg/L.
    #[serde(skip)]
    pub caffeine_at_most: f64,
    /// Groups that some makes of an ingredient hold and others do not: `(ingredient, groups)`.
    #[serde(skip)]
    pub may_hold: Vec<(String, Vec<Allergen>)>,
}

/// Energy in both units.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Energy {
    /// kJ.
    pub kj: f64,
    /// kcal.
    pub kcal: f64,
}

words! {
    /// The nine major food allergens of US law (21 U.S.C. 321(qq): FALCPA 2004, sesame by the FASTER Act 2021).
    UsAllergen {
        /// Milk.
        Milk = "milk",
        /// Eggs.
        Eggs = "eggs",
        /// Fish.
        Fish = "fish",
        /// Crustacean shellfish.
        Shellfish = "crustacean shellfish",
        /// Tree nuts.
        TreeNuts = "tree nuts",
        /// Peanuts.
        Peanuts = "peanuts",
        /// Wheat.
        Wheat = "wheat",
        /// Soybeans.
        Soybeans = "soybeans",
        /// Sesame.
        Sesame = "sesame",
    }
}

impl UsAllergen {
    /// The one that a group of Annex II comes under. Cereals with gluten may be wheat, so they count as
    /// wheat until the label says otherwise; celery, mustard, lupin, molluscs and sulphites are none.
    pub fn of(group: Allergen) -> Option<Self> {
        match group {
            Allergen::Gluten => Some(Self::Wheat),
            Allergen::Crustaceans => Some(Self::Shellfish),
            Allergen::Eggs => Some(Self::Eggs),
            Allergen::Fish => Some(Self::Fish),
            Allergen::Peanuts => Some(Self::Peanuts),
            Allergen::Soybeans => Some(Self::Soybeans),
            Allergen::Milk => Some(Self::Milk),
            Allergen::Nuts => Some(Self::TreeNuts),
            Allergen::Sesame => Some(Self::Sesame),
            Allergen::Celery
            | Allergen::Mustard
            | Allergen::Sulphites
            | Allergen::Lupin
            | Allergen::Molluscs => None,
        }
    }
}

/// The label of one serve, as `served` measures it; what has to be said is not in it yet.
pub fn of(brief: &Brief, spec: &Spec, served: &Served) -> Label {
    let drink = &served.drink;
    let ethanol = drink.masses.ethanol;
    let allergens = allergens(brief, &spec.pours);
    let mut us_allergens: Vec<UsAllergen> = allergens.iter().filter_map(|a| UsAllergen::of(*a)).collect();
    us_allergens.sort_unstable();
    Label {
        strength: drink.strength(),
        strongest: drink.strength() + drink.per_volume(further_alcohol(brief, &spec.pours)),
        units_of_alcohol: ethanol / crate::liquid::ethanol::PURE / UNIT,
        us_standard_drinks: ethanol / STANDARD_DRINK,
        energy_per_100ml: Energy {
            kj: drink.per_volume(100.0 * kilojoule(brief, spec, served)),
            kcal: drink.per_volume(100.0 * drink.energy),
        },
        caffeine: larder::caffeine_per_litre(brief, &spec.pours, served),
        caffeine_at_most: larder::caffeine_at_most(brief, &spec.pours, served),
        allergens,
        us_allergens,
        may_hold: may_hold(brief, &spec.pours),
        statements: Vec::new(),
    }
}

/// What the strongest makes bring beyond the typical ones, ml of ethanol times 100. That their mix shrinks a
/// little otherwise is left out: it matters to drinks of under two per cent only, and not to them.
fn further_alcohol(brief: &Brief, pours: &[Pour]) -> f64 {
    let further = |p: &Pour| {
        let more = larder::strongest(brief, p.candidate) - brief.candidates[p.candidate].label.strength;
        p.amount * more
    };
    pours.iter().map(further).sum()
}

/// What is poured carries these, in the order of Annex II.
pub fn allergens(brief: &Brief, pours: &[Pour]) -> Vec<Allergen> {
    let held = |a: &Allergen| pours.iter().any(|p| brief.candidates[p.candidate].allergens.contains(a));
    Allergen::ALL.into_iter().filter(held).collect()
}

fn may_hold(brief: &Brief, pours: &[Pour]) -> Vec<(String, Vec<Allergen>)> {
    let of = |p: &Pour| (brief.candidates[p.candidate].name.clone(), larder::may_hold(brief, p.candidate));
    pours.iter().map(of).filter(|(_, groups)| !groups.is_empty()).collect()
}

/// kJ in one serve: by the factors of Annex XIV, which are no exact multiple of those in kcal.
fn kilojoule(brief: &Brief, spec: &Spec, served: &Served) -> f64 {
    let drink = &served.drink;
    let further = |p: &Pour| p.amount / 1000.0 * further_kilojoule(&brief.candidates[p.candidate].label);
    energy::kilojoule(drink.masses.ethanol, drink.sugars, drink.masses.acid)
        + spec.pours.iter().map(further).sum::<f64>()
}

/// kJ per litre (powder: per kg) from polyols, fat and protein.
fn further_kilojoule(label: &Composition) -> f64 {
    let polyols = label.polyols * label.polyol_energy / energy::POLYOLS * energy::POLYOLS_KJ;
    polyols + KILOJOULE * label.other_energy
}
