//! The shelves of the larder.

/// Which shelf an entry stands on; also the order in which they are listed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Group {
    /// Spirits.
    Spirit,
    /// Wines, fortified, aromatised, still and sparkling.
    Wine,
    /// Liqueurs and other sweetened spirits.
    Liqueur,
    /// Bitters.
    Bitters,
    /// Beer and cider.
    Beer,
    /// Citrus juices.
    Citrus,
    /// Other juices.
    Juice,
    /// Vinegars.
    Vinegar,
    /// Syrups and honey.
    Syrup,
    /// Dry sugars, polyols and their like.
    Sugar,
    /// Acids.
    Acid,
    /// Dairy, egg and drinks from plants.
    Dairy,
    /// Tea, coffee and other infusions.
    Infusion,
    /// Sodas.
    Soda,
    /// Salt, brines, sauces, gum, water.
    Pantry,
}

/// What a natural range of the larder is between.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Between {
    /// Makes of a bottled thing. A bar pours one make and knows it, and that one hardly varies: its
    /// label holds to ±0.3 % vol and the like (Regulation (EU) No 1169/2011, Annex XII).
    Makes,
    /// Fruit, jars, batches and kitchens: what differs from one shift to the next.
    Batches,
}

impl Group {
    /// All of them in order, each with its word in the data file and the heading over it in a list.
    pub(super) const ALL: [(Self, &'static str, &'static str); 15] = [
        (Self::Spirit, "spirit", "Spirits"),
        (Self::Wine, "wine", "Wines, fortified and aromatised wines"),
        (Self::Liqueur, "liqueur", "Liqueurs and sweetened spirits"),
        (Self::Bitters, "bitters", "Bitters"),
        (Self::Beer, "beer", "Beer and cider"),
        (Self::Citrus, "citrus", "Citrus juices"),
        (Self::Juice, "juice", "Other juices"),
        (Self::Vinegar, "vinegar", "Vinegars"),
        (Self::Syrup, "syrup", "Syrups and honey"),
        (Self::Sugar, "sugar", "Dry sugars and polyols"),
        (Self::Acid, "acid", "Acids"),
        (Self::Dairy, "dairy", "Dairy, egg and plant drinks"),
        (Self::Infusion, "infusion", "Tea, coffee and infusions"),
        (Self::Soda, "soda", "Sodas"),
        (Self::Pantry, "pantry", "Salt, brines, sauces, gum and water"),
    ];

    /// The word in the data file.
    pub fn keyword(self) -> &'static str {
        Self::ALL[self as usize].1
    }

    /// The heading over it in a list.
    pub fn title(self) -> &'static str {
        Self::ALL[self as usize].2
    }

    /// What the ranges of its entries are between.
    pub fn ranges(self) -> Between {
        match self {
            Self::Spirit
            | Self::Wine
            | Self::Liqueur
            | Self::Bitters
            | Self::Beer
            | Self::Vinegar
            | Self::Soda => Between::Makes,
            _ => Between::Batches,
        }
    }

    /// The group that a word names.
    pub fn from_keyword(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|(_, own, _)| *own == word).map(|(group, ..)| group)
    }
}
