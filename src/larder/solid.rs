//! Solids that are no sugars: which they are decides what a label may say of them.

use serde::Deserialize;

/// What the solids of an entry that are no sugars are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Solid {
    /// A polyol that is allowed as a sweetener (E 420, 421, 953 and 965 to 968).
    #[default]
    Polyol,
    /// Glycerol, E 422: sweet, but it is allowed as a humectant and carrier, not as a sweetener.
    Glycerol,
    /// Allulose: a sugar by chemistry that hardly feeds.
    Allulose,
    /// A sweetener of which milligrams are enough.
    Intense,
    /// A gum: it gives body and no sweetness.
    Gum,
    /// Salt.
    Salt,
}

impl Solid {
    /// What it is called.
    pub fn words(self) -> &'static str {
        match self {
            Self::Polyol => "polyols",
            Self::Glycerol => "glycerol",
            Self::Allulose => "allulose",
            Self::Intense => "high-intensity sweetener",
            Self::Gum => "gum",
            Self::Salt => "salt",
        }
    }

    /// Whether it is a sweetener in the sense of EU 1169/2011 Annex III, 2: an additive of that class.
    pub fn is_sweetener(self) -> bool {
        matches!(self, Self::Polyol | Self::Intense)
    }
}
