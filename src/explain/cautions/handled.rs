//! What single ingredients ask for: allergens and handling.

use super::{Caution, Topic, listed};
use crate::brief::{Allergen, Candidate, Handling, Origin};
use crate::larder;

/// What carries allergens, or does in some makes.
pub fn allergens(candidates: &[&Candidate]) -> Option<Caution> {
    let carried = by_allergen(candidates, |c, a| c.allergens.contains(&a));
    let possible = by_allergen(candidates, |c, a| !c.allergens.contains(&a) && may_hold(c, a));
    let text = match (carried.is_empty(), possible.is_empty()) {
        (true, true) => return None,
        (false, true) => format!("Allergens: {carried}"),
        (true, false) => format!("Allergens in some makes: {possible}"),
        (false, false) => format!("Allergens: {carried}; in some makes: {possible}"),
    };
    Some(Caution { topic: Topic::Allergens, text: format!("{text}. Check the labels.") })
}

/// `sulphites (fino sherry), eggs (egg white)`
fn by_allergen(candidates: &[&Candidate], holds: impl Fn(&Candidate, Allergen) -> bool) -> String {
    let carriers = |allergen: Allergen| {
        let names: Vec<&str> =
            candidates.iter().filter(|c| holds(c, allergen)).map(|c| c.name.as_str()).collect();
        (!names.is_empty()).then(|| format!("{} ({})", allergen.keyword(), listed(&names)))
    };
    Allergen::ALL.into_iter().filter_map(carriers).collect::<Vec<_>>().join(", ")
}

/// Whether the larder knows makes of it, or of a part of it, that hold the allergen.
fn may_hold(candidate: &Candidate, allergen: Allergen) -> bool {
    let known = |name: &str| larder::find(name).is_some_and(|e| e.may_hold.contains(&allergen));
    match &candidate.origin {
        Origin::Brief => false,
        Origin::Larder { entry, .. } => known(entry),
        Origin::Made(made) => made.parts.iter().any(|part| known(&part.name)),
    }
}

/// What is handled in one way.
pub fn handling(candidates: &[&Candidate], handling: Handling) -> Option<Caution> {
    let names: Vec<&str> =
        candidates.iter().filter(|c| c.handling.contains(&handling)).map(|c| c.name.as_str()).collect();
    let text = format!("{}: {}", upper_first(&listed(&names)), advice(handling));
    (!names.is_empty()).then_some(Caution { topic: Topic::Handling, text })
}

fn advice(handling: Handling) -> &'static str {
    match handling {
        Handling::RawEgg => "raw egg; tell the guest, keep it cold, or use pasteurised.",
        Handling::PasteurisedEgg => "pasteurised egg; keep it cold, and use it soon once it is open.",
        Handling::Dairy => "spoils; keep it cold, use it soon. Acid can curdle it.",
        Handling::FreshJuice => "changes within hours; press it for the shift, and taste.",
        Handling::ConcentratedAcid => {
            "strong when neat; guard your eyes, weigh it, and see it all dissolved."
        }
        Handling::Overproof => "burns with a flame at room temperature; keep it from heat and open fire.",
        Handling::Quinine => "contains quinine; name it, some guests must avoid it.",
        Handling::Botanical => {
            "botanicals; use only what is sold as food, and mind the limits set for some of them."
        }
        Handling::Glycerol => "glycerol; not for young children, follow the food agency's advice.",
        Handling::Polyol => "polyols; much of them may have a laxative effect.",
        Handling::Carbonated => "holds gas; never shake or blend it, or close it in: it goes in last.",
    }
}

fn upper_first(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
