//! Keywords: the words that may stand in one place, each with its meaning.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::{Deserialize, Deserializer, Error};

use super::HoldWish;
use crate::brief::{Allergen, Handling, Nearest, Per, Role, Said, Varies};
use crate::liquid::{Form, Method};

/// A meaning that a brief writes as one of a few words.
pub trait Keyword: Copy + PartialEq + 'static {
    /// What the list of words is called in the schema.
    const NAME: &'static str;

    /// Every word with its meaning, in the order in which they are shown.
    fn words() -> Vec<(&'static str, Self)>;

    /// The word of this meaning.
    fn word(self) -> &'static str {
        Self::words().into_iter().find(|(_, meaning)| *meaning == self).map_or("", |(word, _)| word)
    }
}

/// One keyword of a brief.
#[derive(Debug, Clone, Copy)]
pub struct Word<T>(pub T);

impl<'de, T: Keyword> Deserialize<'de> for Word<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        let known = T::words().into_iter().find(|(word, _)| *word == text);
        known.map(|(_, meaning)| Self(meaning)).ok_or_else(|| D::Error::custom("unknown word"))
    }
}

impl<T: Keyword> JsonSchema for Word<T> {
    fn schema_name() -> Cow<'static, str> {
        T::NAME.into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let words: Vec<_> = T::words().into_iter().map(|(word, _)| word).collect();
        json_schema!({ "type": "string", "enum": words })
    }
}

/// Whether there is ice in the glass.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Served {
    /// There is none.
    Up,
    /// There is.
    OnIce,
}

/// Whether a preparation's parts are weighed or measured by volume.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum By {
    /// Parts in grams.
    Weight,
    /// Parts in ml.
    Volume,
}

/// Where ingredients are brought from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Store {
    /// The house.
    House,
    /// The built-in larder.
    Larder,
}

/// Gives meanings their words: those that stand here, or those that the type itself has for each of its meanings.
macro_rules! keywords {
    (own: $($own:ident),+; $($of:ident { $($word:literal: $meaning:ident),+ })+) => {
        $(impl Keyword for $of {
            const NAME: &'static str = stringify!($of);

            fn words() -> Vec<(&'static str, Self)> {
                vec![$(($word, Self::$meaning)),+]
            }
        })+
        $(impl Keyword for $own {
            const NAME: &'static str = stringify!($own);

            fn words() -> Vec<(&'static str, Self)> {
                Self::ALL.into_iter().map(|meaning| (meaning.keyword(), meaning)).collect()
            }
        })+
    };
}

keywords! {
    own: Allergen, Handling, Role, Said;
    HoldWish { "typical": Typical, "worst": Worst }
    By { "weight": Weight, "volume": Volume }
    Form { "liquid": Liquid, "powder": Powder }
    Method { "shake": Shake, "stir": Stir, "build": Build, "blend": Blend, "none": None }
    Nearest { "reference": Reference, "middle": Middle }
    Per { "serve": Serve, "litre": Litre }
    Served { "up": Up, "on ice": OnIce }
    Store { "house": House, "larder": Larder }
}

impl Keyword for Varies {
    const NAME: &'static str = "Varies";

    fn words() -> Vec<(&'static str, Self)> {
        Self::WORDS.to_vec()
    }
}
