//! The parts that an answer has, and how much of it is shown.

/// Parts with their words, in the order in which answers have them.
macro_rules! parts {
    ($($(#[$doc:meta])* $part:ident = $word:literal,)+) => {
        /// A part of an answer, by the word that asks for it alone.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum Part { $($(#[$doc])* $part,)+ }

        impl Part {
            /// Every part that can be asked for alone.
            pub fn all() -> impl Iterator<Item = Self> {
                [$(Self::$part),+].into_iter().filter(|part| !matches!(part, Self::Larder | Self::Asked))
            }

            /// The word that asks for it.
            pub fn word(self) -> &'static str {
                match self { $(Self::$part => $word),+ }
            }

            /// The part that a word asks for.
            pub fn named(word: &str) -> Option<Self> {
                Self::all().find(|part| part.word() == word)
            }
        }
    };
}

parts! {
    /// What is poured, and how.
    Card = "card",
    /// What was swapped.
    Swap = "swap",
    /// What is in the glass, beside its limits.
    Glass = "glass",
    /// What each ingredient brings.
    Brings = "brings",
    /// What moved against the reference.
    Reference = "reference",
    /// How often it holds.
    Service = "service",
    /// Specs that hold more often.
    Steadier = "steadier",
    /// The next-best sets of ingredients.
    Alternatives = "alternatives",
    /// What is proved.
    Proof = "proof",
    /// What clashes, and every way out.
    Conflict = "conflict",
    /// What holds the spec back.
    Limits = "limits",
    /// What a looser limit would bring.
    Looser = "looser",
    /// What prices would change.
    Prices = "prices",
    /// Who is in play.
    Play = "play",
    /// The drinks of a menu.
    Drinks = "drinks",
    /// What a change of a menu does.
    Changes = "changes",
    /// One shelf for all drinks.
    Shelf = "shelf",
    /// A trade-off curve.
    Curve = "curve",
    /// Where the set of ingredients switches.
    Switches = "switches",
    /// The specs along a curve, or a ranked list.
    Specs = "specs",
    /// What goes into a batch.
    Vessel = "vessel",
    /// House preparations.
    Preparations = "preparations",
    /// A batch measured again.
    Measured = "measured",
    /// What to buy.
    Buy = "buy",
    /// What it costs.
    Money = "money",
    /// What a label says.
    Label = "label",
    /// What makes keeping it a risk.
    Keeping = "keeping",
    /// In which order a flight is tasted.
    Order = "order",
    /// Which code of a flight is which.
    Key = "key",
    /// What follows from what was said, or measured.
    Learned = "learned",
    /// What is worth doing next.
    Next = "next",
    /// The lines that keep it.
    Lines = "lines",
    /// What was said, glass by glass.
    Said = "said",
    /// What instruments would read.
    Instruments = "instruments",
    /// What asks for care.
    Mind = "mind",
    /// Built-in ingredients.
    Larder = "larder",
    /// What was asked.
    Asked = "asked",
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
