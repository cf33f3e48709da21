//! A range in plain characters, with the served value in its place.

use crate::render::document::{Place, Range};

/// Draws a range over `columns` columns (at least 5): `[----o----]` where both sides are limited,
/// `<----o----]` and `[----o---->` where one is open, and an `x` in place of the end that is missed.
pub fn draw(range: &Range, columns: usize) -> String {
    let inner = columns.saturating_sub(2).max(3);
    let left = if range.min.is_some() { '[' } else { '<' };
    let right = if range.max.is_some() { ']' } else { '>' };
    let line = "-".repeat(inner);
    match range.place {
        Place::Unknown => format!("{left}{line}{right}"),
        Place::Under => format!("x{line}{right}"),
        Place::Over => format!("{left}{line}x"),
        Place::Inside(share) => {
            let before = (share * (inner - 1) as f64).round() as usize;
            let after = (inner - 1).saturating_sub(before);
            format!("{left}{}o{}{right}", "-".repeat(before), "-".repeat(after))
        }
    }
}
