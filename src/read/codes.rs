//! The stable codes of findings, one line each: what a test or a search may rely on.

/// Defines each code as a constant and lists them all.
macro_rules! codes {
    ($($(#[doc = $doc:literal])+ $name:ident = $code:literal;)+) => {
        $($(#[doc = $doc])+ pub const $name: &str = $code;)+

        /// Every code that reading can give.
        pub const ALL: &[&str] = &[$($code),+];
    };
}

codes! {
    /// The file is larger than a brief can be.
    TOO_LARGE = "too-large";
    /// The file is not UTF-8 text.
    NOT_UTF8 = "not-utf8";
    /// The file says nothing.
    EMPTY = "empty";
    /// The text is not TOML.
    NOT_TOML = "not-toml";
    /// Something that was weighed off the ice, in a house, without how it was made.
    NO_METHOD = "no-method";
    /// A `--set` that names no place in the brief.
    BAD_SETTING = "bad-setting";
    /// A `--swap` that names no ingredient to take out or to let in.
    BAD_SWAP = "bad-swap";
    /// A key that a brief does not have.
    UNKNOWN_KEY = "unknown-key";
    /// A key that a brief must have.
    MISSING_KEY = "missing-key";
    /// A value of the wrong kind.
    WRONG_TYPE = "wrong-type";
    /// A word that is none of those that may stand there.
    UNKNOWN_WORD = "unknown-word";
    /// A number outside what is possible.
    OUT_OF_RANGE = "out-of-range";
    /// A piece of text that is no quantity.
    BAD_QUANTITY = "bad-quantity";
    /// A piece of text that is no price.
    BAD_PRICE = "bad-price";
    /// ml where grams are meant, or the reverse.
    WRONG_UNIT = "wrong-unit";
    /// A currency code that is none.
    BAD_CURRENCY = "bad-currency";
    /// Prices, and no currency.
    NO_CURRENCY = "no-currency";
    /// No ingredient that may be used.
    NO_CANDIDATES = "no-candidates";
    /// More ingredients than a brief can have.
    TOO_MANY = "too-many";
    /// An ingredient without a name.
    NO_NAME = "no-name";
    /// A name that stands twice.
    DUPLICATE_NAME = "duplicate-name";
    /// An ingredient without figures of which the larder has some.
    NO_FIGURES = "no-figures";
    /// A name that the larder does not know.
    UNKNOWN_LARDER = "unknown-larder";
    /// The house is named where there is none.
    NO_HOUSE = "no-house";
    /// A name that the house does not know.
    UNKNOWN_HOUSE = "unknown-house";
    /// The brief and its house count in different money.
    OTHER_CURRENCY = "other-currency";
    /// A `[[bring]]` that nothing fits.
    NOTHING_BROUGHT = "nothing-brought";
    /// What a `[[bring]]` brought and cannot be used as it stands.
    LEFT_OUT = "left-out";
    /// A kept spec pours what the brief does not have.
    KEPT_WITHOUT = "kept-without";
    /// A note that no ingredient carries.
    UNKNOWN_NOTE = "unknown-note";
    /// A name that no ingredient, target or property has.
    UNKNOWN_NAME = "unknown-name";
    /// A property under the name of something that is measured anyway.
    RESERVED_NAME = "reserved-name";
    /// A property whose unit does not fit what the larder knows of it.
    PROPERTY_UNIT = "property-unit";
    /// Two keys that say the same thing.
    SUGAR_TWICE = "sugar-twice";
    /// A powder with a key that only liquids have, or the reverse.
    FORM = "wrong-form";
    /// A lower end above its upper end.
    MIN_OVER_MAX = "min-over-max";
    /// Contents that no such liquid or powder can have.
    IMPOSSIBLE = "impossible-ingredient";
    /// Natural ranges whose ends no such liquid or powder can have.
    IMPOSSIBLE_RANGE = "impossible-range";
    /// No amount of an ingredient is possible.
    NO_AMOUNT = "no-amount";
    /// Nothing bounds an amount.
    NO_BOUND = "no-bound";
    /// A price is needed, and there is none.
    NO_PRICE = "no-price";
    /// A preparation with figures of its own.
    MADE_AND_LABEL = "made-and-label";
    /// A preparation whose parts come to nothing.
    MADE_OF_NOTHING = "made-of-nothing";
    /// A preparation that needs itself.
    PREP_CYCLE = "prep-cycle";
    /// A powder measured by volume.
    POWDER_BY_VOLUME = "powder-by-volume";
    /// Solids of a preparation that the volume does not know.
    UNCOUNTED_SOLIDS = "uncounted-solids";
    /// Blended, and no melt given.
    NO_MELT = "no-melt";
    /// A target, a rule or a natural range without either side.
    NO_SIDE = "no-side";
    /// A menu price is needed, and there is none.
    NO_MENU = "no-menu";
    /// Not exactly one aim.
    ONE_AIM = "one-aim";
    /// A reference is needed, and there is none.
    NO_REFERENCE = "no-reference";
    /// A measure to be held that the reference does not have.
    NOT_HELD = "not-held";
    /// No range to be in the middle of.
    NO_MIDDLE = "no-middle";
    /// Not exactly one of `role` and `among`.
    ONE_GROUP = "one-group";
    /// More asked for than there are.
    TOO_FEW = "too-few";
    /// A ratio of an ingredient to itself.
    SAME_INGREDIENT = "same-ingredient";
    /// Must be used, and must not.
    MUST_AND_OUT = "must-and-out";
    /// More must be used than may be.
    TOO_MANY_MUSTS = "too-many-musts";
    /// A line of pours in a brief that cannot be read.
    BAD_LINE = "bad-line";
    /// A glass was tasted, and nothing says what was in it.
    NO_GLASS = "no-glass";
    /// Readings of one ingredient, and several were poured.
    SEVERAL_READ = "several-read";
    /// Something was poured, and nothing of it read.
    NOTHING_READ = "nothing-read";
    /// A share of serves is asked for, and amounts without steps.
    NO_STEPS = "no-steps";
}
