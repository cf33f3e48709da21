//! What one spec pours differently from another, in words.

use crate::quantity::{Amount, UnitSystem, number};
use crate::report::gather::{Change, Turn};

/// One change: `with 10 ml verjus`, `without lime juice`, `+2.5 ml aged rum`.
pub fn change_words(change: &Change, units: UnitSystem) -> String {
    let size = number::pour(Amount { value: change.by.abs(), unit: change.unit }, units);
    let name = &change.ingredient;
    match change.turn {
        Turn::In => format!("with {size} {name}"),
        Turn::Out => format!("without {name}"),
        Turn::Moved if change.by < 0.0 => format!("-{size} {name}"),
        Turn::Moved => format!("+{size} {name}"),
    }
}

/// All changes, what comes in and goes out first: the set is what makes an alternative.
pub fn moves(changes: &[Change], units: UnitSystem) -> String {
    let turned = |turn: Turn| changes.iter().filter(move |c| c.turn == turn);
    let ordered = turned(Turn::In).chain(turned(Turn::Out)).chain(turned(Turn::Moved));
    let words: Vec<String> = ordered.map(|c| change_words(c, units)).collect();
    if words.is_empty() { "the same pours".to_owned() } else { words.join(", ") }
}
