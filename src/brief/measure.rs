//! What can be measured in a served drink.

use super::Brief;
use crate::liquid::{Drink, Portion, ethanol};

/// A figure of the drink as served, on which a target may stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Measure {
    /// Served volume at 20 °C, ml.
    Volume,
    /// Strength, % vol at 20 °C.
    Strength,
    /// Sugars, g/L.
    Sugar,
    /// Sweetness, g/L as sucrose.
    Sweetness,
    /// Titratable acid as citric, g/L.
    Acid,
    /// Grams of sugar per gram of acid.
    SugarAcid,
    /// Money per serve, in the brief's currency.
    Cost,
    /// Cost in % of the net menu price.
    PourCost,
    /// Energy, kcal per serve.
    Energy,
    /// Ethanol, g per serve.
    Ethanol,
    /// Water from the ice, ml.
    Melt,
    /// How high the drink stands in its glass, ml, less what its ice took up before any of it melted.
    Level,
    /// A property of the brief, by its index there.
    Property(usize),
}

impl Measure {
    /// Every measure but the properties and the level, in the order in which they are shown.
    pub const BUILT_IN: [Self; 11] = [
        Self::Volume,
        Self::Strength,
        Self::Sugar,
        Self::Sweetness,
        Self::Acid,
        Self::SugarAcid,
        Self::Cost,
        Self::PourCost,
        Self::Energy,
        Self::Ethanol,
        Self::Melt,
    ];

    /// The key in a brief and in JSON; `property` for properties, which have names of their own.
    pub fn keyword(self) -> &'static str {
        match self {
            Self::Volume => "volume",
            Self::Strength => "strength",
            Self::Sugar => "sugar",
            Self::Sweetness => "sweetness",
            Self::Acid => "acid",
            Self::SugarAcid => "sugar_acid",
            Self::Cost => "cost",
            Self::PourCost => "pour_cost",
            Self::Energy => "energy",
            Self::Ethanol => "ethanol",
            Self::Melt => "melt",
            Self::Level => "level",
            Self::Property(_) => "property",
        }
    }

    /// The unit, where it does not depend on the brief (money and properties do).
    pub fn unit(self) -> &'static str {
        match self {
            Self::Volume | Self::Melt | Self::Level => "ml",
            Self::Strength => "% vol",
            Self::Sugar | Self::Sweetness | Self::Acid => "g/L",
            Self::SugarAcid => "g/g",
            Self::PourCost => "%",
            Self::Energy => "kcal",
            Self::Ethanol => "g",
            Self::Cost | Self::Property(_) => "",
        }
    }

    /// A difference that a taster just tells, roughly, in the measure's unit; nothing of money and of what is not
    /// tasted alone. Common practice, no source.
    pub fn just_told(self) -> Option<f64> {
        match self {
            Self::Volume => Some(5.0),
            Self::Strength | Self::SugarAcid => Some(0.5),
            Self::Sugar | Self::Sweetness | Self::Melt | Self::Level => Some(3.0),
            Self::Acid => Some(0.3),
            Self::Energy => Some(10.0),
            Self::Ethanol => Some(1.0),
            Self::Cost | Self::PourCost | Self::Property(_) => None,
        }
    }

    /// How many decimals people are shown.
    pub fn digits(self) -> usize {
        match self {
            Self::Energy => 0,
            Self::Cost | Self::Acid | Self::SugarAcid => 2,
            _ => 1,
        }
    }
}

/// What a measure is made of, before anything is divided by anything.
#[derive(Debug, Clone, Copy)]
pub enum Numerator {
    /// The served volume itself, ml.
    Volume,
    /// The water from the ice itself, ml.
    Melt,
    /// How high it stands in the glass itself, ml.
    Level,
    /// A figure of every ml (or g) that is poured.
    Portion(fn(&Portion) -> f64),
    /// So many times what is poured costs.
    Cost(f64),
    /// So many times what is carried of the property of this index.
    Carried(usize, f64),
}

/// What the part is divided by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Over {
    /// Nothing: the measure is a sum.
    One,
    /// The served volume, ml.
    Volume,
    /// The acid in the glass, g.
    Acid,
}

impl Measure {
    /// How it is made of what is poured: the one definition, which the search's rows, the worst corners, the room of
    /// serves and the exported program read. (What is shown is measured by [`super::serve`], from the drink as a whole.)
    pub fn formula(self, brief: &Brief) -> (Numerator, Over) {
        match self {
            Self::Volume => (Numerator::Volume, Over::One),
            Self::Melt => (Numerator::Melt, Over::One),
            Self::Level => (Numerator::Level, Over::One),
            Self::Strength => {
                (Numerator::Portion(|p| 100.0 * p.masses.ethanol / ethanol::PURE), Over::Volume)
            }
            Self::Sugar => (Numerator::Portion(|p| 1000.0 * p.sugars), Over::Volume),
            Self::Sweetness => (Numerator::Portion(|p| 1000.0 * p.sweet), Over::Volume),
            Self::Acid => (Numerator::Portion(|p| 1000.0 * p.masses.acid), Over::Volume),
            Self::SugarAcid => (Numerator::Portion(|p| p.sugars), Over::Acid),
            Self::Energy => (Numerator::Portion(|p| p.energy), Over::One),
            Self::Ethanol => (Numerator::Portion(|p| p.masses.ethanol), Over::One),
            Self::Cost => (Numerator::Cost(1.0), Over::One),
            Self::PourCost => {
                (Numerator::Cost(100.0 / brief.menu.map_or(f64::NAN, |menu| menu.net())), Over::One)
            }
            Self::Property(at) => match brief.properties[at].per {
                Per::Serve => (Numerator::Carried(at, 1.0), Over::One),
                Per::Litre => (Numerator::Carried(at, 1000.0), Over::Volume),
            },
        }
    }

    /// What it is divided by.
    pub fn over(self, brief: &Brief) -> Over {
        self.formula(brief).1
    }
}

impl Over {
    /// The divisor of a drink.
    pub fn of(self, drink: &Drink) -> f64 {
        match self {
            Self::One => 1.0,
            Self::Volume => drink.volume,
            Self::Acid => drink.masses.acid,
        }
    }
}

/// A further property that ingredients carry, such as caffeine.
#[derive(Debug, Clone, PartialEq)]
pub struct Property {
    /// Its name in the brief.
    pub name: String,
    /// Its unit of mass or count, such as `mg`.
    pub unit: String,
    /// How its target is stated.
    pub per: Per,
}

/// Whether a property is bounded per serve or per litre of the served drink.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Per {
    /// In one serve.
    Serve,
    /// In one litre of the drink as served.
    Litre,
}
