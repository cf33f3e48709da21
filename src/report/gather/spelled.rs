//! How what an answer holds is spelled in JSON and CSV: one word for each, which does not change.

use serde::{Serialize, Serializer};

use super::Outcome;
use crate::batch::{Place, Water};
use crate::liquid::Form;
use crate::quantity::Unit;
use crate::read::{HeldBy, Shelf};

/// Something that JSON and CSV have a word for.
pub trait Spelled {
    /// The word.
    fn spelled(self) -> &'static str;
}

/// Gives each variant of a type its word, in JSON as well.
macro_rules! spelled {
    ($($of:ty { $($variant:ident: $word:literal),+ })+) => {$(
        impl Spelled for $of {
            fn spelled(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }
        }

        impl Serialize for $of {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_str(self.spelled())
            }
        }
    )+};
}

/// What brings something into the glass.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// A pour.
    Pour,
    /// The water from the ice.
    Ice,
}

/// What a place on the track of a drink is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stand {
    /// The drink that it comes from.
    Reference,
    /// A spec that was kept.
    Kept,
    /// A spec that was tasted and has no name.
    Tasted,
    /// The best now.
    Best,
}

/// How the search for a drink of a menu ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Drawn {
    /// A spec was found and is proved to be the best.
    Found,
    /// No spec meets its brief.
    Conflict,
    /// The search was stopped.
    Stopped,
    /// Its brief cannot be read.
    Refused,
}

spelled! {
    Unit { Ml: "ml", G: "g" }
    Form { Liquid: "liquid", Powder: "powder" }
    Place { Vessel: "vessel", Glass: "glass" }
    Water { FromIce: "ice", Added: "added" }
    HeldBy { Brief: "brief", Custom: "custom" }
    Shelf { Brief: "brief", House: "house", Larder: "larder" }
    Source { Pour: "pour", Ice: "ice" }
    Stand { Reference: "reference", Kept: "kept", Tasted: "tasted", Best: "best" }
    Outcome { Found: "found", Conflict: "conflict", Stopped: "stopped" }
    Drawn { Found: "found", Conflict: "conflict", Stopped: "stopped", Refused: "refused" }
}
