//! How what an answer holds is spelled in JSON and CSV: one word for each, which does not change.

use serde::{Serialize, Serializer};

use crate::batch::{Place, Water};
use crate::brief::Side;
use crate::liquid::Form;
use crate::quantity::Unit;
use crate::read::{HeldBy, Shelf};
use crate::solve::Ending;

/// Something that JSON and CSV have a word for.
pub trait Spelled {
    /// The word.
    fn spelled(self) -> &'static str;
}

/// Gives each variant of a type its word.
macro_rules! spelled {
    ($($of:ty { $($variant:ident: $word:literal),+ })+) => {$(
        impl Spelled for $of {
            fn spelled(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }
        }
    )+};
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

spelled! {
    Form { Liquid: "liquid", Powder: "powder" }
    Place { Vessel: "vessel", Glass: "glass" }
    Water { FromIce: "ice", Added: "added" }
    HeldBy { Brief: "brief", Custom: "custom" }
    Shelf { Brief: "brief", House: "house", Larder: "larder" }
    Stand { Reference: "reference", Kept: "kept", Tasted: "tasted", Best: "best" }
    Ending { Found: "found", Conflict: "conflict", Stopped: "stopped" }
}

impl Spelled for Unit {
    fn spelled(self) -> &'static str {
        self.symbol()
    }
}

impl Spelled for Side {
    fn spelled(self) -> &'static str {
        self.keyword()
    }
}

/// How the search for a drink of a menu ended; nothing where its brief cannot be read.
impl Spelled for Option<Ending> {
    fn spelled(self) -> &'static str {
        self.map_or("refused", Spelled::spelled)
    }
}

/// Gives what is spelled its word in JSON.
macro_rules! serialized {
    ($($of:ty),+) => {$(
        impl Serialize for $of {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                word(self, serializer)
            }
        }
    )+};
}

serialized!(Form, Place, Water, HeldBy, Shelf, Stand, Ending);

/// The word of what has a way into JSON that is not its own.
pub fn word<T: Spelled + Copy, S: Serializer>(of: &T, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(of.spelled())
}
