//! What the answer hangs on: sentences first, then limits and prices as tables.

use super::page::{Ink, Page, WIDTH, left, right, width, wrap};
use crate::quantity::UnitSystem;
use crate::report::gather::{SensitivityLine, SpecAnswer};
use crate::report::words;

/// What stands between two columns.
const GAP: &str = "  ";

/// What costs the most, what costs nothing, which price comes first; and every limit that costs
/// something.
pub fn limits(page: &mut Page, answer: &SpecAnswer, found: &SensitivityLine, units: UnitSystem) {
    let sentences = words::hangs_sentences(answer, found, units);
    if sentences.is_empty() {
        return;
    }
    page.section("What it hangs on");
    sentences.iter().for_each(|sentence| page.paragraph(2, Ink::Plain, sentence));
    let rows = words::limit_rows(answer, found, units);
    if rows.is_empty() {
        return;
    }
    page.gap();
    let rows: Vec<[String; 5]> =
        rows.into_iter().map(|r| [r.name, r.tighter, r.looser, r.unit, r.within]).collect();
    table(
        page,
        ["", "tighter", "looser", "", "holds"],
        &rows,
        [Side::Left, Side::Right, Side::Right, Side::Left, Side::Left],
    );
    page.gap();
    page.paragraph(2, Ink::Faint, words::LIMITS_NOTE);
}

/// What prices would change.
pub fn prices(page: &mut Page, found: &SensitivityLine) {
    let rows = words::price_rows(found);
    if rows.is_empty() {
        return;
    }
    page.section("What prices would change");
    let rows: Vec<[String; 4]> = rows.into_iter().map(|r| [r.name, r.now, r.poured, r.free]).collect();
    table(page, ["", "now", "the spec above", "any amounts"], &rows, [Side::Left; 4]);
    page.gap();
    page.paragraph(2, Ink::Faint, words::PRICES_NOTE);
    words::never_sentence(found).iter().for_each(|sentence| page.paragraph(2, Ink::Plain, sentence));
}

/// Where a column's text stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Side {
    Left,
    Right,
}

/// A table whose first column takes the room that the others leave, and wraps.
fn table<const N: usize>(page: &mut Page, head: [&str; N], rows: &[[String; N]], sides: [Side; N]) {
    let wide = |at: usize| rows.iter().map(|row| width(&row[at])).max().unwrap_or(0).max(width(head[at]));
    let wides: Vec<usize> = (0..N).map(wide).collect();
    let others: usize = wides.iter().skip(1).map(|w| w + GAP.len()).sum();
    let room = WIDTH.saturating_sub(GAP.len() + others).max(12);
    let first = wides[0].min(room);
    let mut line = |cells: [&str; N], ink: Ink| {
        for (at, name) in wrap(cells[0], room).iter().enumerate() {
            let rest = (1..N).filter(|_| at == 0).map(|c| match sides[c] {
                Side::Left => format!("{GAP}{}", left(cells[c], wides[c])),
                Side::Right => format!("{GAP}{}", right(cells[c], wides[c])),
            });
            page.line(&[(ink, &format!("{GAP}{}{}", left(name, first), rest.collect::<String>()))]);
        }
    };
    line(head, Ink::Faint);
    rows.iter().for_each(|row| line(std::array::from_fn(|at| row[at].as_str()), Ink::Plain));
}
