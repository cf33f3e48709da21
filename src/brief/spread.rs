//! How far things are off: the hand that pours, and what a natural range is between.

use crate::liquid::Form;

/// A closed range, `min <= max`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// Lower end.
    pub min: f64,
    /// Upper end.
    pub max: f64,
}

/// The natural ranges of a composition, where they are known; typical values stand in the label.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Natural {
    /// % vol.
    pub strength: Option<Range>,
    /// g/L (powder: g/kg).
    pub sugar: Option<Range>,
    /// g/L as citric (powder: g/kg).
    pub acid: Option<Range>,
}

impl Natural {
    /// Whether nothing varies.
    pub fn is_fixed(&self) -> bool {
        let spread = |r: &Option<Range>| r.is_some_and(|r| r.max > r.min);
        !(spread(&self.strength) || spread(&self.sugar) || spread(&self.acid))
    }
}

/// Standard deviation of a pour in the bar's step where nothing is stated, ml.
/// Common practice, no source: no published spread of pours by the jigger was found.
pub const JIGGER: f64 = 1.0;
/// Standard deviation of a pour by hand and eye, as a share of it.
///
/// Bartenders who aimed at 44.3 ml poured 46.4 ml into tall and 54.6 ml into short glasses on average (Wansink,
/// van Ittersum, BMJ 331, 2005, 1512, as its abstract tells): the shape of the glass alone moves a pour by 9 % of the
/// aim to either side. The abstract has no spread of single pours; a tenth is common practice, no source.
pub const FREE_HAND: f64 = 0.1;
/// Standard deviation of a dash, as a share of it. Common practice, no source.
pub const DASH: f64 = 0.3;
/// Standard deviation of a weighed amount, in steps of the scale. Common practice, no source.
pub const SCALE: f64 = 0.5;
/// Standard deviation of a weighed amount where any amount may be weighed, g. Common practice, no source.
pub const FREE_SCALE: f64 = 0.05;

/// How far off one pour is: the standard deviation, a part of which grows with the amount.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PourError {
    /// The part that does not depend on the amount, ml (powder: g).
    pub fixed: f64,
    /// The part that grows with the amount, as a share of it.
    pub share: f64,
}

impl PourError {
    /// So many ml (g) whatever is poured.
    pub fn fixed(amount: f64) -> Self {
        Self { fixed: amount, share: 0.0 }
    }

    /// A share of what is poured.
    pub fn share(share: f64) -> Self {
        Self { fixed: 0.0, share }
    }

    /// The standard deviation of a pour of this amount: two independent errors add as squares.
    pub fn at(self, amount: f64) -> f64 {
        if self.share == 0.0 { self.fixed } else { self.fixed.hypot(self.share * amount) }
    }

    /// Whether nothing is off.
    pub fn is_exact(self) -> bool {
        self.fixed <= 0.0 && self.share <= 0.0
    }
}

/// How something is poured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Poured {
    /// By a jigger, whose lines are as good as the step is fine.
    Jigger,
    /// By hand and eye.
    FreeHand,
    /// By the dash.
    Dash,
    /// On a scale.
    Scale,
    /// However: it is off by this much.
    Stated(PourError),
}

impl Poured {
    /// The ways that have a word in a brief.
    pub const WORDS: [(&'static str, Self); 4] = [
        ("jigger", Self::Jigger),
        ("free hand", Self::FreeHand),
        ("dash", Self::Dash),
        ("scale", Self::Scale),
    ];

    /// Its word in a brief; nothing of a stated figure.
    pub fn keyword(self) -> Option<&'static str> {
        Self::WORDS.into_iter().find(|(_, way)| *way == self).map(|(word, _)| word)
    }

    /// The error of a pour in steps of this size, where the bar's own step is `bar` ml (any amount: `None`).
    ///
    /// An error stated in ml and a jigger's belong to a pour in the bar's step: what has a finer step of its own is
    /// measured with a finer tool, and its error shrinks as the step does.
    pub fn error(self, form: Form, step: Option<f64>, bar: Option<f64>) -> PourError {
        let finer = match (form, step) {
            (Form::Liquid, Some(step)) => bar.map_or(1.0, |bar| (step / bar).min(1.0)),
            _ => 1.0,
        };
        match self {
            Self::Jigger => PourError::fixed(JIGGER * finer),
            Self::FreeHand => PourError::share(FREE_HAND),
            Self::Dash => PourError::share(DASH),
            Self::Scale => PourError::fixed(match step {
                Some(step) => SCALE * step,
                None => FREE_SCALE,
            }),
            Self::Stated(error) => PourError { fixed: error.fixed * finer, ..error },
        }
    }
}

/// Where an ingredient's figures and ranges are from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Known {
    /// From a label, a table, or experience: known before anything is measured.
    #[default]
    Before,
    /// From measurements that were kept: no knowledge beside them.
    Measured,
}

/// What the natural range of an ingredient is between, and so what moves together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Varies {
    /// Each serve has its own: a fruit pressed, an egg opened for it.
    Serve,
    /// A lot has one: tonight's juice, a batch of syrup. All serves from it move together.
    #[default]
    Lot,
    /// A season has one: so do all lots of it.
    Season,
    /// A make has one: bottles of it are alike.
    Make,
}

impl Varies {
    /// Every word of a brief with its meaning.
    pub const WORDS: [(&'static str, Self); 4] =
        [("serve", Self::Serve), ("lot", Self::Lot), ("season", Self::Season), ("make", Self::Make)];

    /// Its word.
    pub fn keyword(self) -> &'static str {
        Self::WORDS.into_iter().find(|(_, varies)| *varies == self).map_or("lot", |(word, _)| word)
    }
}

/// How an ingredient differs from pour to pour.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Spread {
    /// How it is poured; `None`: as everything in the brief is, and on a scale where it is a powder.
    pub poured: Option<Poured>,
    /// What its natural ranges are between.
    pub varies: Varies,
    /// Ranges between makes, within which one make stands still: they are asked for and not drawn.
    pub makes: Natural,
    /// Where its figures and ranges are from.
    pub known: Known,
}
