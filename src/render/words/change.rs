//! What one spec pours differently from another, in words.

use super::listed;
use crate::answer::{Change, Poured, SpecLine, Turn};
use crate::quantity::{Amount, UnitSystem, number};

/// What is poured of what: `20 ml aged rum`.
pub fn poured(pour: &Poured, units: UnitSystem) -> String {
    format!("{} {}", number::pour(pour.amount(), units), pour.ingredient)
}

/// All that a spec pours: `20 ml aged rum, 15 ml fino sherry`.
pub fn pours(spec: &SpecLine, units: UnitSystem) -> String {
    spec.pours.iter().map(|pour| poured(pour, units)).collect::<Vec<_>>().join(", ")
}

/// All changes, what comes in and goes out first: the set is what makes an alternative.
/// `with 10 ml verjus, without lime juice; +2.5 ml aged rum`
pub fn moves(changes: &[Change], units: UnitSystem) -> String {
    let turned = |turn: Turn| changes.iter().filter(move |c| c.turn == turn);
    let coming: Vec<String> =
        turned(Turn::In).map(|c| format!("{} {}", size(c, units), c.ingredient)).collect();
    let going: Vec<&str> = turned(Turn::Out).map(|c| c.ingredient.as_str()).collect();
    let moved: Vec<String> = turned(Turn::Moved)
        .map(|c| format!("{}{} {}", if c.by < 0.0 { "-" } else { "+" }, size(c, units), c.ingredient))
        .collect();
    let coming = listed(&coming);
    let swapped = match (coming.is_empty(), going.is_empty()) {
        (true, true) => String::new(),
        (false, false) => format!("with {coming}, without {}", listed(&going)),
        _ => turned_over(&coming, &listed(&going)),
    };
    let parts: Vec<String> =
        [swapped, moved.join(", ")].into_iter().filter(|part| !part.is_empty()).collect();
    if parts.is_empty() { "the same pours".to_owned() } else { parts.join("; ") }
}

/// `Against the reference: with 10 ml verjus, without lime juice.`
pub fn against(spec: &SpecLine, units: UnitSystem) -> String {
    format!("Against the reference: {}.", moves(&spec.change, units))
}

/// What comes for what, in a few words: `overproof rum for aged rum`, `with verjus`; where the set stays, what
/// is moved.
pub fn exchanged(changes: &[Change], units: UnitSystem) -> String {
    let turned = |turn: Turn| -> Vec<&str> {
        changes.iter().filter(|c| c.turn == turn).map(|c| c.ingredient.as_str()).collect()
    };
    let (coming, going) = (turned(Turn::In), turned(Turn::Out));
    if coming.is_empty() && going.is_empty() {
        return moves(changes, units);
    }
    turned_over(&listed(&coming), &listed(&going))
}

/// What comes for what goes, where there is any of both.
pub fn turned_over(coming: &str, going: &str) -> String {
    match (coming, going) {
        (coming, "") => format!("with {coming}"),
        ("", going) => format!("without {going}"),
        (coming, going) => format!("{coming} for {going}"),
    }
}

fn size(change: &Change, units: UnitSystem) -> String {
    number::pour(Amount { value: change.by.abs(), unit: change.unit }, units)
}
