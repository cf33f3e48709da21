//! What can be measured in a served drink.

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
    /// A property of the brief, by its index there.
    Property(usize),
}

impl Measure {
    /// Every measure but the properties, in the order in which they are shown.
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
            Self::Property(_) => "property",
        }
    }

    /// The unit, where it does not depend on the brief (money and properties do).
    pub fn unit(self) -> &'static str {
        match self {
            Self::Volume | Self::Melt => "ml",
            Self::Strength => "% vol",
            Self::Sugar | Self::Sweetness | Self::Acid => "g/L",
            Self::SugarAcid => "g/g",
            Self::PourCost => "%",
            Self::Energy => "kcal",
            Self::Ethanol => "g",
            Self::Cost | Self::Property(_) => "",
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
