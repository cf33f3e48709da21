//! What makes keeping a batch a risk. No shelf life is ever promised: that takes a laboratory.

use super::Water;
use super::scaling::{Line, Place, Vessel};
use crate::brief::{Brief, Handling};
use crate::quantity::number::fixed;

/// Under this strength, % vol, yeasts and moulds may grow. Common practice, no source: fortified wines,
/// which keep for weeks, have about as much.
const STRONG: f64 = 20.0;
/// Under this sugar, g/L, sugar preserves nothing. Common practice, no source: a syrup of 2:1.
const SWEET: f64 = 800.0;
/// Under this acid, g/L as citric, acid preserves nothing. Common practice, no source; it is pH that
/// counts, which is not worked out here.
const SOUR: f64 = 5.0;

/// What is said where nothing speaks against keeping, and first where something does.
const NO_PROMISE: &str = "No shelf life is promised here: that takes a test of the drink itself.";

/// What spoils, most urgent first, and what is done about it. Common practice, no source.
const SPOILS: [(Handling, &str, &str); 4] = [
    (
        Handling::RawEgg,
        "Raw egg",
        "mix it in by the serve, or use pasteurised and keep the batch at 5 °C or less",
    ),
    (Handling::PasteurisedEgg, "Pasteurised egg", "keep the batch at 5 °C or less, and use it soon"),
    (
        Handling::Dairy,
        "Milk or cream",
        "keep the batch at 5 °C or less, and see whether it curdles with the acid",
    ),
    (
        Handling::FreshJuice,
        "Fresh juice",
        "its taste moves within hours; keep the batch cold, or add the juice on the day",
    ),
];

/// The risks, most urgent first; the first line promises nothing.
pub fn risks(brief: &Brief, lines: &[Line], vessel: &Vessel, from: Water) -> Vec<String> {
    let mut risks = vec![NO_PROMISE.to_owned()];
    for (handling, what, advice) in SPOILS {
        let names = holding(brief, lines, handling);
        if !names.is_empty() {
            risks.push(format!("{what} ({}): {advice}.", names.join(", ")));
        }
    }
    risks.extend(weak(vessel, from));
    risks
}

fn holding<'a>(brief: &'a Brief, lines: &[Line], handling: Handling) -> Vec<&'a str> {
    let still = lines.iter().filter(|line| line.place == Place::Vessel);
    let candidates = still.map(|line| &brief.candidates[line.candidate]);
    candidates.filter(|c| c.handling.contains(&handling)).map(|c| c.name.as_str()).collect()
}

/// What the mix itself does not do to keep.
fn weak(vessel: &Vessel, from: Water) -> Option<String> {
    if vessel.strength >= STRONG || vessel.sugar >= SWEET {
        return None;
    }
    let mut reasons = vec![
        format!("{} % vol is little alcohol", fixed(vessel.strength, 1)),
        format!("{} g/L little sugar", fixed(vessel.sugar, 0)),
    ];
    if vessel.acid < SOUR {
        reasons.push(format!("{} g/L little acid", fixed(vessel.acid, 1)));
    }
    let water = match from {
        Water::Added => " Add the water on the day where you can.",
        Water::FromIce => "",
    };
    Some(format!(
        "The mix does not keep itself: {} (rules of thumb, no limits). Keep it cold, and date it.{water}",
        reasons.join(", ")
    ))
}
