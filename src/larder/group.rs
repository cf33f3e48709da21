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
    /// All of them, in order.
    pub const ALL: [Self; 15] = [
        Self::Spirit,
        Self::Wine,
        Self::Liqueur,
        Self::Bitters,
        Self::Beer,
        Self::Citrus,
        Self::Juice,
        Self::Vinegar,
        Self::Syrup,
        Self::Sugar,
        Self::Acid,
        Self::Dairy,
        Self::Infusion,
        Self::Soda,
        Self::Pantry,
    ];

    /// The word in the data file.
    pub fn keyword(self) -> &'static str {
        match self {
            Self::Spirit => "spirit",
            Self::Wine => "wine",
            Self::Liqueur => "liqueur",
            Self::Bitters => "bitters",
            Self::Beer => "beer",
            Self::Citrus => "citrus",
            Self::Juice => "juice",
            Self::Vinegar => "vinegar",
            Self::Syrup => "syrup",
            Self::Sugar => "sugar",
            Self::Acid => "acid",
            Self::Dairy => "dairy",
            Self::Infusion => "infusion",
            Self::Soda => "soda",
            Self::Pantry => "pantry",
        }
    }

    /// The heading over it in a list.
    pub fn title(self) -> &'static str {
        match self {
            Self::Spirit => "Spirits",
            Self::Wine => "Wines, fortified and aromatised wines",
            Self::Liqueur => "Liqueurs and sweetened spirits",
            Self::Bitters => "Bitters",
            Self::Beer => "Beer and cider",
            Self::Citrus => "Citrus juices",
            Self::Juice => "Other juices",
            Self::Vinegar => "Vinegars",
            Self::Syrup => "Syrups and honey",
            Self::Sugar => "Dry sugars and polyols",
            Self::Acid => "Acids",
            Self::Dairy => "Dairy, egg and plant drinks",
            Self::Infusion => "Tea, coffee and infusions",
            Self::Soda => "Sodas",
            Self::Pantry => "Salt, brines, sauces, gum and water",
        }
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
        Self::ALL.into_iter().find(|g| g.keyword() == word)
    }
}
