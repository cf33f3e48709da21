//! What stands in the freezer or is served without ice: how cold it is in the glass, and whether it freezes.

use super::{Caution, Topic, listed};
use crate::brief::{Brief, Candidate};
use crate::liquid::{Method, heat};
use crate::quantity::number;
use crate::solve::Spec;

/// From here down something stands in a freezer, °C.
const FROZEN: f64 = 0.0;
/// More ice than this share of it has melted by the first sip, and little of it is left for the rest of the drink.
/// Common practice, no source.
const MOST_MELTED: f64 = 0.5;

/// How cold a drink without any ice is, where something in it comes from a freezer.
pub fn glass(brief: &Brief, spec: &Spec) -> Option<Caution> {
    let poured = || spec.pours.iter().map(|pour| &brief.candidates[pour.candidate]);
    let iced = brief.serve.method != Method::None || brief.serve.ice.is_some();
    if iced || !poured().any(|c| c.label.temperature < FROZEN) {
        return None;
    }
    let drink = &spec.served.drink;
    let degrees = mixed(brief, spec);
    let freezes = heat::freezing_point(&drink.masses);
    let slush = if degrees < freezes {
        format!(
            " That is under its freezing point of about {} °C: it turns to slush.",
            number::fixed(freezes, 0)
        )
    } else {
        String::new()
    };
    Some(Caution {
        topic: Topic::Cold,
        text: format!(
            "About {} °C in the glass, if it was mixed before it was chilled; poured together from the bottles, the \
             heat of mixing makes it up to {} °C.{slush}",
            number::fixed(degrees, 0),
            number::fixed(heat::together(&drink.masses, drink.heat).max(degrees), 0)
        ),
    })
}

/// The mean of the temperatures, by what each pour takes to be warmed.
fn mixed(brief: &Brief, spec: &Spec) -> f64 {
    let (mut heat, mut takes) = (0.0, 0.0);
    for pour in &spec.pours {
        let candidate = &brief.candidates[pour.candidate];
        let (m, degrees) = (&candidate.portion.masses, candidate.label.temperature);
        let wet = m.ethanol + m.water;
        let p = if wet > 0.0 { m.ethanol / wet } else { 0.0 };
        let each = pour.amount * (wet * heat::capacity(p).0 + heat::SOLIDS * (m.solids + m.acid));
        heat += each * degrees;
        takes += each;
    }
    heat / takes
}

/// What turns to slush where the brief keeps it.
pub fn freezes(brief: &Brief, spec: &Spec) -> Option<Caution> {
    let solid = |c: &&Candidate| {
        let degrees = c.label.temperature;
        degrees < FROZEN && c.portion.poured > 0.0 && heat::freezing_point(&c.portion.masses) > degrees
    };
    let told = |c: &Candidate| {
        let freezes = heat::freezing_point(&c.portion.masses);
        format!("{} at about {} °C", c.name, number::fixed(freezes, 0))
    };
    let all = spec.pours.iter().map(|pour| &brief.candidates[pour.candidate]).filter(solid);
    let names: Vec<String> = all.map(told).collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    (!names.is_empty()).then(|| Caution {
        topic: Topic::Cold,
        text: format!(
            "Freezes before it is as cold as the brief has it: {}. A bottle that freezes may burst.",
            listed(&names)
        ),
    })
}

/// Ice in the glass that is gone too soon.
pub fn short_of_ice(brief: &Brief, spec: &Spec) -> Option<Caution> {
    let ice = brief.serve.ice?;
    let melted = spec.served.drink.glass_melt;
    (melted > MOST_MELTED * ice.mass).then(|| Caution {
        topic: Topic::Cold,
        text: format!(
            "Of {} g of ice in the glass about {} g have melted by the first sip{}. Give it more ice, or chill what \
             is poured.",
            number::fixed(ice.mass, 0),
            number::fixed(melted, 0),
            if melted > ice.mass { ": more than there is, so the drink stays warmer than 0 °C" } else { "" }
        ),
    })
}
