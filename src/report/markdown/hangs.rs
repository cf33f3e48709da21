//! What the answer hangs on: sentences first, then limits and prices as tables.

use super::{escaped, table};
use crate::quantity::UnitSystem;
use crate::report::gather::{SensitivityLine, SpecAnswer};
use crate::report::words;

/// What costs the most, what costs nothing, which price comes first; and every limit that costs
/// something.
pub fn limits(answer: &SpecAnswer, found: &SensitivityLine, units: UnitSystem) -> String {
    let sentences = words::hangs_sentences(answer, found, units);
    if sentences.is_empty() {
        return String::new();
    }
    let mut out = format!("\n## What it hangs on\n\n{}\n", escaped(&sentences.join(" ")));
    let rows = words::limit_rows(answer, found, units);
    if !rows.is_empty() {
        let rows = rows
            .into_iter()
            .map(|r| [r.name, r.tighter, r.looser, r.unit, r.within].map(|c| escaped(&c)).to_vec());
        out += &format!(
            "\n{}\n{}\n",
            table(&["", "tighter", "looser", "", "holds"], "lrrll", rows),
            words::LIMITS_NOTE
        );
    }
    out
}

/// What prices would change.
pub fn prices(found: &SensitivityLine) -> String {
    let rows = words::price_rows(found);
    if rows.is_empty() {
        return String::new();
    }
    let rows = rows.into_iter().map(|r| [r.name, r.now, r.poured, r.free].map(|c| escaped(&c)).to_vec());
    let table = table(&["", "now", "the spec above", "any amounts"], "llll", rows);
    let never = words::never_sentence(found).map_or_else(String::new, |s| format!(" {}", escaped(&s)));
    format!("\n## What prices would change\n\n{table}\n{}{never}\n", words::PRICES_NOTE)
}
