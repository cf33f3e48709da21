//! Keywords: the words that may stand in one place, each with its meaning.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::{Deserialize, Deserializer, Error};

use crate::brief::{Allergen, Handling, Nearest, Per, Role, Varies};
use crate::liquid::{Form, Method};

/// A meaning that a brief writes as one of a few words.
pub trait Keyword: Copy + 'static {
    /// What the list of words is called in the schema.
    const NAME: &'static str;

    /// Every word with its meaning, in the order in which they are shown.
    fn words() -> Vec<(&'static str, Self)>;
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

impl Keyword for By {
    const NAME: &'static str = "By";

    fn words() -> Vec<(&'static str, Self)> {
        vec![("weight", Self::Weight), ("volume", Self::Volume)]
    }
}

impl Keyword for Nearest {
    const NAME: &'static str = "Nearest";

    fn words() -> Vec<(&'static str, Self)> {
        vec![("reference", Self::Reference), ("middle", Self::Middle)]
    }
}

impl Keyword for Method {
    const NAME: &'static str = "Method";

    fn words() -> Vec<(&'static str, Self)> {
        vec![
            ("shake", Self::Shake),
            ("stir", Self::Stir),
            ("build", Self::Build),
            ("blend", Self::Blend),
            ("none", Self::None),
        ]
    }
}

impl Keyword for Served {
    const NAME: &'static str = "Served";

    fn words() -> Vec<(&'static str, Self)> {
        vec![("up", Self::Up), ("on ice", Self::OnIce)]
    }
}

impl Keyword for Form {
    const NAME: &'static str = "Form";

    fn words() -> Vec<(&'static str, Self)> {
        vec![("liquid", Self::Liquid), ("powder", Self::Powder)]
    }
}

impl Keyword for Per {
    const NAME: &'static str = "Per";

    fn words() -> Vec<(&'static str, Self)> {
        vec![("serve", Self::Serve), ("litre", Self::Litre)]
    }
}

impl Keyword for Varies {
    const NAME: &'static str = "Varies";

    fn words() -> Vec<(&'static str, Self)> {
        Self::WORDS.to_vec()
    }
}

impl Keyword for Role {
    const NAME: &'static str = "Role";

    fn words() -> Vec<(&'static str, Self)> {
        Self::ALL.into_iter().map(|role| (role.keyword(), role)).collect()
    }
}

impl Keyword for Allergen {
    const NAME: &'static str = "Allergen";

    fn words() -> Vec<(&'static str, Self)> {
        Self::ALL.into_iter().map(|allergen| (allergen.keyword(), allergen)).collect()
    }
}

impl Keyword for Handling {
    const NAME: &'static str = "Handling";

    fn words() -> Vec<(&'static str, Self)> {
        Self::ALL.into_iter().map(|handling| (handling.keyword(), handling)).collect()
    }
}
