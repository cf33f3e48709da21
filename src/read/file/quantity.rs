//! Quantities as they are written, and what is written as one.

use schemars::json_schema;
use serde::Deserialize;

use super::value::schema;
use super::{At, Entries};

/// A quantity as written: a number with a unit, or a bare number.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(untagged)]
pub enum Quantity {
    /// Text, such as `2.5 ml`.
    Text(String),
    /// A bare number: ml, or g for powders.
    Number(f64),
}

/// What `Amount::parse` accepts, and `free`; which of the two may stand where is checked later.
const QUANTITY_PATTERN: &str = "^\\s*(?:free|(?:\\+?(?:[0-9]+\\.?[0-9]*|\\.[0-9]+)(?:[eE][+-]?[0-9]+)?|\
    (?:[0-9]{1,6}[ \\t]*)?[¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]|\
    (?:[0-9]{1,6}[ \\t]+)?[0-9]{1,6}[/\u{2044}](?!0+(?![0-9]))[0-9]{1,6})\\s*(?:\
    [mMcCdD]?[lL]|(?:[iI][mM][pP]\\s+)?[fF][lL]\\s+[oO][zZ]|[oO][zZ]|[tT][sS][pP]|[tT][bB][sS][pP]|\
    [bB][aA][rR][sS][pP][oO][oO][nN][sS]?|[dD][aA][sS][hH](?:[eE][sS])?|[kK]?[gG])?)\\s*$";

schema!(Quantity: "Quantity", |_generator| {
    json_schema!({
        "description": "A number with a unit, such as \"2.5 ml\"; a bare number is ml, or g for a powder",
        "type": ["string", "number"],
        "pattern": QUANTITY_PATTERN,
        "minimum": 0,
        "maximum": 1e9,
    })
});

/// How far off a pour is: `1 ml + 2 %` or `jigger`, or a bare number.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(transparent)]
pub struct PourError(pub Quantity);

/// A word, an amount, a share, or an amount and a share.
const ERROR_PATTERN: &str = "^\\s*(?:jigger|free hand|dash|scale|\
    \\+?(?:[0-9]+\\.?[0-9]*|\\.[0-9]+)(?:[eE][+-]?[0-9]+)?\\s*(?:%|(?:\
    [mMcCdD]?[lL]|(?:[iI][mM][pP]\\s+)?[fF][lL]\\s+[oO][zZ]|[oO][zZ]|[tT][sS][pP]|[tT][bB][sS][pP]|\
    [bB][aA][rR][sS][pP][oO][oO][nN][sS]?|[dD][aA][sS][hH](?:[eE][sS])?|[kK]?[gG])?\
    (?:\\s*\\+\\s*(?:[0-9]+\\.?[0-9]*|\\.[0-9]+)\\s*%)?))\\s*$";

schema!(PourError: "PourError", |_generator| {
    json_schema!({
        "description": "Standard deviation of one pour: \"1 ml\", \"3 %\" of what is poured, \"1 ml + 3 %\"; or how it is \
                        poured: \"jigger\", \"free hand\", \"dash\", \"scale\"",
        "type": ["string", "number"],
        "pattern": ERROR_PATTERN,
        "minimum": 0,
        "maximum": 1e9,
    })
});

/// In which amounts is poured, as written: a step, `free`, or what jiggers measure.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(from = "Vec<At<Quantity>>")]
pub enum Pour {
    /// A step, `free`, or `jigger 15/25/40`.
    Step(Quantity),
    /// The amounts themselves.
    List(Vec<At<Quantity>>),
}

impl From<Quantity> for Pour {
    fn from(step: Quantity) -> Self {
        Self::Step(step)
    }
}

impl From<Vec<At<Quantity>>> for Pour {
    fn from(list: Vec<At<Quantity>>) -> Self {
        Self::List(list)
    }
}

schema!(Pour: "Pour", |generator| {
    let quantity = generator.subschema_for::<Quantity>();
    json_schema!({
        "description": "A step such as \"2.5 ml\", \"free\", what jiggers measure, halves included: \"jigger 25/50\", \
            or a list of amounts: these and their sums",
        "anyOf": [
            quantity,
            { "type": "string", "pattern": "^\\s*[jJ][iI][gG][gG][eE][rR][sS]?\\s+\\S" },
            { "type": "array", "items": quantity, "minItems": 1 },
        ],
    })
});

/// What was poured, as it is written: a line, or a table of amounts.
#[derive(Debug, Deserialize)]
#[serde(from = "Entries<Quantity>")]
pub enum PouredAs {
    /// `"50 ml aged rum, 25 ml lime juice"`
    Line(String),
    /// `{ "aged rum" = "50 ml", "lime juice" = "25 ml" }`
    Each(Entries<Quantity>),
}

impl From<String> for PouredAs {
    fn from(line: String) -> Self {
        Self::Line(line)
    }
}

impl From<Entries<Quantity>> for PouredAs {
    fn from(each: Entries<Quantity>) -> Self {
        Self::Each(each)
    }
}

schema!(PouredAs: inline "Poured", |generator| {
    let each = generator.subschema_for::<Entries<Quantity>>();
    json_schema!({ "anyOf": [{ "type": "string" }, each] })
});

/// The name of a kept spec; that of a glass of a flight is a number, and may stand without quotes.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(from = "Quantity")]
pub struct Code(pub String);

impl From<Quantity> for Code {
    fn from(written: Quantity) -> Self {
        Self(match written {
            Quantity::Text(name) => name,
            Quantity::Number(number) => number.to_string(),
        })
    }
}

schema!(Code: inline "Code", |_generator| {
    json_schema!({ "anyOf": [{ "type": "string" }, { "type": "integer", "minimum": 0, "maximum": 1_000_000_000 }] })
});
