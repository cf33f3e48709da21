//! The parts that an answer has, and how much of it is shown.

/// A part of an answer, by the word that asks for it alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// What is poured, and how.
    Card,
    /// What was swapped.
    Swap,
    /// What is in the glass, beside its limits.
    Glass,
    /// What each ingredient brings.
    Brings,
    /// What moved against the reference.
    Reference,
    /// How often it holds.
    Service,
    /// Specs that hold more often.
    Steadier,
    /// The next-best sets of ingredients.
    Alternatives,
    /// What is proved.
    Proof,
    /// What clashes, and every way out.
    Conflict,
    /// What holds the spec back.
    Limits,
    /// What a looser limit would bring.
    Looser,
    /// What prices would change.
    Prices,
    /// Who is in play.
    Play,
    /// The drinks of a menu.
    Drinks,
    /// What a change of a menu does.
    Changes,
    /// One shelf for all drinks.
    Shelf,
    /// A trade-off curve.
    Curve,
    /// Where the set of ingredients switches.
    Switches,
    /// The specs along a curve, or a ranked list.
    Specs,
    /// What goes into a batch.
    Vessel,
    /// House preparations.
    Preparations,
    /// A batch measured again.
    Measured,
    /// What to buy.
    Buy,
    /// What it costs.
    Money,
    /// What a label says.
    Label,
    /// What makes keeping it a risk.
    Keeping,
    /// In which order a flight is tasted.
    Order,
    /// Which code of a flight is which.
    Key,
    /// What follows from what was said, or measured.
    Learned,
    /// What was said, glass by glass.
    Said,
    /// What is worth doing next.
    Next,
    /// The lines that keep it.
    Lines,
    /// What instruments would read.
    Instruments,
    /// Built-in ingredients.
    Larder,
    /// What asks for care.
    Mind,
    /// What was asked.
    Asked,
}

impl Part {
    /// Every part that can be asked for alone, in the order in which answers have them.
    pub const ALL: [Self; 35] = [
        Self::Card,
        Self::Swap,
        Self::Glass,
        Self::Brings,
        Self::Reference,
        Self::Service,
        Self::Steadier,
        Self::Alternatives,
        Self::Proof,
        Self::Conflict,
        Self::Limits,
        Self::Looser,
        Self::Prices,
        Self::Play,
        Self::Drinks,
        Self::Changes,
        Self::Shelf,
        Self::Curve,
        Self::Switches,
        Self::Specs,
        Self::Vessel,
        Self::Preparations,
        Self::Measured,
        Self::Buy,
        Self::Money,
        Self::Label,
        Self::Keeping,
        Self::Order,
        Self::Key,
        Self::Learned,
        Self::Next,
        Self::Lines,
        Self::Said,
        Self::Instruments,
        Self::Mind,
    ];

    /// The word that asks for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Card => "card",
            Self::Swap => "swap",
            Self::Glass => "glass",
            Self::Brings => "brings",
            Self::Reference => "reference",
            Self::Service => "service",
            Self::Steadier => "steadier",
            Self::Alternatives => "alternatives",
            Self::Proof => "proof",
            Self::Conflict => "conflict",
            Self::Limits => "limits",
            Self::Looser => "looser",
            Self::Prices => "prices",
            Self::Play => "play",
            Self::Drinks => "drinks",
            Self::Changes => "changes",
            Self::Shelf => "shelf",
            Self::Curve => "curve",
            Self::Switches => "switches",
            Self::Specs => "specs",
            Self::Vessel => "vessel",
            Self::Preparations => "preparations",
            Self::Measured => "measured",
            Self::Buy => "buy",
            Self::Money => "money",
            Self::Label => "label",
            Self::Keeping => "keeping",
            Self::Order => "order",
            Self::Key => "key",
            Self::Learned => "learned",
            Self::Next => "next",
            Self::Said => "said",
            Self::Lines => "lines",
            Self::Instruments => "instruments",
            Self::Larder => "larder",
            Self::Mind => "mind",
            Self::Asked => "asked",
        }
    }

    /// The part that a word asks for.
    pub fn named(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|part| part.word() == word)
    }
}

/// How much of an answer is shown to people.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Extent {
    /// What fits on a screen.
    #[default]
    Screen,
    /// All of it.
    Full,
    /// One part.
    Only(Part),
}
