//! What is looked up on the page: ingredients as one types, and a brief to begin with.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::Beside;
use super::told::{Told, told};
use crate::draft::{At, Wish, brief, method};
use crate::finding::Finding;
use crate::larder::{self, Family};
use crate::quantity::number;
use crate::read::{house_offers, starter};
use crate::render::html::live::Offer;

/// So many are shown; who looks for more types another letter.
const SHOWN: usize = 8;

/// Ingredients of house and larder that words find, the house's first. What is listed already does not come again.
pub fn found(words: &str, house: &Beside) -> Vec<Offer> {
    let wanted: Vec<String> = words.to_lowercase().split_whitespace().map(str::to_owned).collect();
    if wanted.is_empty() {
        return Vec::new();
    }
    let hit = |text: &str| wanted.iter().all(|word| text.to_lowercase().contains(word.as_str()));
    let offers = house_offers(house.as_deref());
    let kept = offers.iter().filter(|(name, role)| hit(&format!("{name} {}", role.keyword())));
    let kept = kept.map(|(name, role)| Offer {
        name: name.clone(),
        from: "house",
        about: role.keyword().to_owned(),
    });
    let listed = |name: &str| offers.iter().any(|(known, _)| known == name);
    let larder = larder::search(&wanted)
        .into_iter()
        .filter(|entry| !listed(&entry.name))
        .map(|entry| Offer { name: entry.name.clone(), from: "larder", about: about(entry) });
    kept.chain(larder).take(SHOWN).collect()
}

/// `sour, acid 61 g/L`: the role and what it brings.
fn about(entry: &larder::Entry) -> String {
    let label = &entry.label;
    let figures = [(label.strength, "% vol"), (label.sugar, "g/L sugar"), (label.acid, "g/L acid")];
    let figures = figures.into_iter().filter(|(figure, _)| *figure > 0.0);
    let figures: Vec<String> =
        figures.map(|(figure, unit)| format!("{} {unit}", number::trimmed(figure, 1))).collect();
    std::iter::once(entry.role.keyword().to_owned()).chain(figures).collect::<Vec<_>>().join(", ")
}

/// What a new brief begins with.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Begin {
    /// The drink as it stands on a card.
    pub line: String,
    /// A family of drinks.
    pub family: String,
    /// How it is made.
    pub method: String,
    /// At most this strength, % vol.
    pub lighter: String,
    /// The glass.
    pub glass: String,
}

/// The text of a new brief.
///
/// # Errors
/// What is wrong with what it is to begin with, as `washline new` says it.
pub fn begun(begin: &Begin, house: &Beside, path: Option<&str>) -> Result<String, Vec<Told>> {
    let given = |text: &str| Some(text.trim().to_owned()).filter(|text| !text.is_empty());
    if given(&begin.line).or(given(&begin.family)).is_none() {
        return Ok(starter().to_owned());
    }
    let lighter = match given(&begin.lighter) {
        None => None,
        Some(typed) => Some(positive(&typed).ok_or_else(|| vec![not_positive(&typed)])?),
    };
    let wish = Wish {
        line: given(&begin.line),
        family: given(&begin.family).and_then(|family| Family::find(&family)),
        method: given(&begin.method).and_then(|word| method(&word)),
        lighter,
        glass: given(&begin.glass),
        at: house
            .as_ref()
            .zip(path)
            .map(|(house, path)| At { house: Arc::clone(house), path: path.to_owned() }),
        ..Wish::default()
    };
    brief(&wish).map_err(|findings| {
        // Places are those of the line that was typed.
        let mut all = told(&begin.line, &findings);
        all.iter_mut().for_each(|one| one.fields = vec!["line".to_owned()]);
        all
    })
}

fn positive(text: &str) -> Option<f64> {
    text.trim_end_matches('%').trim_end().replace(',', ".").parse().ok().filter(|n| *n > 0.0 && *n <= 100.0)
}

fn not_positive(typed: &str) -> Told {
    let what = format!("\"{typed}\" is no strength");
    let finding = Finding::placeless("not-a-figure", what, "write a number over 0, for example 8");
    let mut told = told("", &[finding]);
    let mut one = told.remove(0);
    one.fields = vec!["lighter".to_owned()];
    one
}

/// Words to look ingredients up by.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Find {
    /// What was typed.
    pub words: String,
}

/// What is to be written.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Save {
    /// The text.
    pub text: String,
    /// What the file held when it was last seen: another text in it is not written over.
    pub base: String,
    /// The name of a file that is new.
    pub name: String,
}

/// A file, as it is on disk.
#[derive(Debug, Clone, Default, Serialize)]
pub struct OnDisk {
    /// What the file is called; nothing where the brief has none yet.
    pub file: Option<String>,
    /// What it holds; empty where there is none yet.
    pub text: String,
    /// Whether what was to be written was.
    pub written: bool,
    /// What stands in the way.
    pub findings: Vec<Told>,
    /// A piece of the page.
    pub html: String,
}
