//! What single ingredients ask for: allergens and handling.

use super::{Caution, Topic, listed};
use crate::brief::{Allergen, Brief, Handling};
use crate::larder;
use crate::solve::Spec;

pub fn cautions(brief: &Brief, spec: &Spec) -> Vec<Caution> {
    let care = Handling::ALL.into_iter().filter_map(|h| handling(brief, spec, h));
    allergens(brief, spec).into_iter().chain(care).collect()
}

fn allergens(brief: &Brief, spec: &Spec) -> Option<Caution> {
    let carriers = |allergen: Allergen| {
        let names: Vec<&str> = used(brief, spec, |c| c.allergens.contains(&allergen));
        (!names.is_empty()).then(|| format!("{} ({})", allergen.keyword(), listed(&names)))
    };
    let found: Vec<String> = Allergen::ALL.into_iter().filter_map(carriers).collect();
    let further = some_makes(brief, spec);
    let text = match (found.is_empty(), further) {
        (true, None) => return None,
        (true, Some(further)) => further,
        (false, None) => format!("Allergens: {}.", found.join(", ")),
        (false, Some(further)) => format!("Allergens: {}. {further}", found.join(", ")),
    };
    Some(Caution { topic: Topic::Allergens, text: format!("{text} Check the labels of what you pour.") })
}

/// Allergens that only some makes hold.
fn some_makes(brief: &Brief, spec: &Spec) -> Option<String> {
    let of = |candidate: usize| {
        let groups: Vec<&str> = larder::may_hold(brief, candidate).iter().map(|a| a.keyword()).collect();
        let name = &brief.candidates[candidate].name;
        (!groups.is_empty()).then(|| format!("{} ({name})", listed(&groups)))
    };
    let all: Vec<String> = spec.pours.iter().filter_map(|p| of(p.candidate)).collect();
    (!all.is_empty()).then(|| format!("Allergens in some makes: {}.", all.join(", ")))
}

fn handling(brief: &Brief, spec: &Spec, handling: Handling) -> Option<Caution> {
    let names = used(brief, spec, |c| c.handling.contains(&handling));
    let what = advice(handling);
    (!names.is_empty()).then(|| Caution {
        topic: Topic::Handling,
        text: format!("{}: {what}", upper_first(&listed(&names))),
    })
}

fn used<'a>(brief: &'a Brief, spec: &Spec, keep: impl Fn(&crate::brief::Candidate) -> bool) -> Vec<&'a str> {
    let candidates = spec.pours.iter().map(|p| &brief.candidates[p.candidate]);
    candidates.filter(|c| keep(c)).map(|c| c.name.as_str()).collect()
}

fn advice(handling: Handling) -> &'static str {
    match handling {
        Handling::RawEgg => "raw egg; tell the guest, keep it cold, or use pasteurised.",
        Handling::Dairy => "spoils; keep it cold and use it soon. It can curdle with acid.",
        Handling::FreshJuice => "changes within hours; squeeze for the shift and taste.",
        Handling::ConcentratedAcid => {
            "strong enough to burn; weigh it, add it to water and never the other way, guard eyes and hands."
        }
        Handling::Overproof => "burns with a flame at room temperature; keep it from heat and open fire.",
        Handling::Quinine => "contains quinine; name it, some guests must avoid it.",
        Handling::Botanical => {
            "botanicals; use only what is sold as food, and mind the limits on some of their active substances."
        }
        Handling::Glycerol => "glycerol; not for young children, follow the food agency's limits.",
        Handling::Polyol => "polyols; large amounts may have a laxative effect.",
        Handling::Carbonated => {
            "holds gas; never shake or blend it or close it in: add it last, after the ice work. The melt \
             counts it as if it had been on the ice."
        }
    }
}

fn upper_first(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
