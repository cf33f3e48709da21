//! What asks for care in a spec: short, never missing where it applies, and never more than a pointer.
//!
//! Nothing here replaces local rules or a competent person, and the texts say so once.

mod drink;
mod handled;
mod sure;

use crate::brief::Brief;
use crate::solve::Spec;

/// One thing that asks for care.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Caution {
    /// What it is about.
    topic: Topic,
    /// The words.
    text: String,
}

/// What a caution is about; the order is that of the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Topic {
    Ethanol,
    Allergens,
    Handling,
    Caffeine,
    Polyols,
    Melt,
    Density,
    Crystals,
    Judged,
}

impl Topic {
    /// Whether the words name a figure of the one drink, so that they differ from spec to spec
    /// although they warn of the same thing.
    fn is_figure(self) -> bool {
        matches!(self, Self::Ethanol | Self::Caffeine | Self::Polyols | Self::Melt | Self::Density)
    }
}

/// The cautions of a list of specs: those of the first, then what only the others ask for, with the
/// number of the first alternative that asks for it.
pub fn cautions(brief: &Brief, specs: &[Spec]) -> Vec<String> {
    let mut said: Vec<Caution> = Vec::new();
    let mut texts = Vec::new();
    for (at, spec) in specs.iter().enumerate() {
        for caution in of_spec(brief, spec) {
            let known = said
                .iter()
                .any(|s| s.topic == caution.topic && (caution.topic.is_figure() || s.text == caution.text));
            if known {
                continue;
            }
            texts.push(match at {
                0 => caution.text.clone(),
                _ => format!("Alternative {at}: {}", lower_first(&caution.text)),
            });
            said.push(caution);
        }
    }
    if said.iter().any(|c| c.topic < Topic::Melt) {
        texts.push("Check all of this with your local rules and a competent person.".to_owned());
    }
    texts
}

/// The cautions of one spec that is made as a batch. Where to have them checked stands with the label's facts.
pub fn of_batch(brief: &Brief, spec: &Spec) -> Vec<String> {
    of_spec(brief, spec).into_iter().map(|caution| caution.text).collect()
}

fn of_spec(brief: &Brief, spec: &Spec) -> Vec<Caution> {
    let mut cautions = drink::cautions(brief, spec);
    cautions.extend(handled::cautions(brief, spec));
    cautions.extend(sure::cautions(brief, spec));
    cautions.sort_by_key(|c| c.topic);
    cautions
}

/// The words within a sentence: `Contains` becomes `contains`; `EU rules` stays.
fn lower_first(text: &str) -> String {
    let mut letters = text.chars();
    match (letters.next(), letters.next()) {
        (Some(first), Some(second)) if second.is_lowercase() => {
            first.to_lowercase().chain([second]).chain(letters).collect()
        }
        _ => text.to_owned(),
    }
}

/// `a`, `a and b`, `a, b and c`.
fn listed(names: &[&str]) -> String {
    match names {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}
