//! A spec, measured: the one place where pours become the figures of the drink as served.

use serde::ser::{Serialize, Serializer};

use super::{Brief, Measure, Per};
use crate::liquid::{Drink, Melting, Portion, ice};

/// One pour: which candidate, and how much of it (ml, or g of a powder).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pour {
    /// Index of the candidate in the brief.
    pub candidate: usize,
    /// ml or g.
    pub amount: f64,
}

/// How much of a candidate is poured in all, ml or g; 0 where none is.
pub fn poured(pours: &[Pour], candidate: usize) -> f64 {
    pours.iter().filter(|pour| pour.candidate == candidate).map(|pour| pour.amount).sum()
}

/// Every figure of a served drink. Undefined ones (a ratio over nothing, a cost without prices) are NaN.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Served {
    /// The physics.
    pub drink: Drink,
    /// Money per serve; NaN where a used ingredient has no price.
    pub cost: f64,
    /// Cost in % of the net menu price; NaN without a menu.
    pub pour_cost: f64,
    /// Properties, each as its target states it.
    pub properties: Vec<f64>,
}

impl Served {
    /// The value of a measure in its unit.
    pub fn value(&self, measure: Measure) -> f64 {
        let drink = &self.drink;
        match measure {
            Measure::Volume => drink.volume,
            Measure::Strength => drink.strength(),
            Measure::Sugar => drink.per_volume(1000.0 * drink.sugars),
            Measure::Sweetness => drink.per_volume(1000.0 * drink.sweet),
            Measure::Acid => drink.per_volume(1000.0 * drink.masses.acid),
            Measure::SugarAcid => drink.sugars / drink.masses.acid,
            Measure::Cost => self.cost,
            Measure::PourCost => self.pour_cost,
            Measure::Energy => drink.energy,
            Measure::Ethanol => drink.masses.ethanol,
            Measure::Melt => drink.melt,
            Measure::Level => drink.volume - drink.glass_melt * ice::PER_MELT,
            Measure::Property(at) => self.properties.get(at).copied().unwrap_or(f64::NAN),
        }
    }

    /// Every measure that is shown.
    pub fn figures(&self, brief: &Brief) -> Figures {
        Figures::of(brief, brief.measures(), |measure| self.value(measure))
    }
}

/// Figures by key, in the order in which they are shown; undefined ones are NaN, `null` in JSON.
#[derive(Debug, Clone, PartialEq)]
pub struct Figures(pub Vec<(String, f64)>);

impl Figures {
    /// Some measures under their keys.
    pub fn of(
        brief: &Brief,
        measures: impl Iterator<Item = Measure>,
        value: impl Fn(Measure) -> f64,
    ) -> Self {
        Self(measures.map(|measure| (brief.measure_name(measure).to_owned(), value(measure))).collect())
    }

    /// The figure of a key; NaN where there is none.
    pub fn get(&self, key: &str) -> f64 {
        self.0.iter().find(|(k, _)| k == key).map_or(f64::NAN, |(_, value)| *value)
    }
}

impl Serialize for Figures {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(self.0.iter().map(|(key, value)| (key, value)))
    }
}

/// Measures a spec from its pours alone, with every ingredient's typical composition.
pub fn serve(brief: &Brief, pours: &[Pour]) -> Served {
    serve_with(brief, pours, |at| &brief.candidates[at].portion)
}

/// Measures a spec with other portions than the typical ones (a sour lime, a weak bottle).
pub fn serve_with<'a>(brief: &Brief, pours: &[Pour], portion: impl Fn(usize) -> &'a Portion) -> Served {
    serve_on(brief, pours, portion, brief.serve.melting())
}

/// Measures a spec with other portions and another melt than the typical ones.
pub fn serve_on<'a>(
    brief: &Brief,
    pours: &[Pour],
    portion: impl Fn(usize) -> &'a Portion,
    melting: Melting,
) -> Served {
    let drink = Drink::of(pours.iter().map(|p| (portion(p.candidate), p.amount)), melting);
    let cost = pours
        .iter()
        .fold(0.0, |sum, p| sum + p.amount * brief.candidates[p.candidate].cost_per_unit.unwrap_or(f64::NAN));
    let pour_cost = brief.menu.map_or(f64::NAN, |menu| 100.0 * cost / menu.net());
    let properties = brief
        .properties
        .iter()
        .enumerate()
        .map(|(at, property)| {
            let carried: f64 =
                pours.iter().map(|p| p.amount * brief.candidates[p.candidate].carried(at)).sum();
            match property.per {
                Per::Serve => carried,
                Per::Litre => drink.per_volume(1000.0 * carried),
            }
        })
        .collect();
    Served { drink, cost, pour_cost, properties }
}
