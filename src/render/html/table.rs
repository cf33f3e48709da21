//! Tables: those of documents, and any that is moved sideways where it has no room.

use maud::{Markup, html};

use super::fill::Palette;
use super::picture::{Said, name};
use crate::render::document::{Cell, Column, Heads, Kind, Row, Table, Tone};

/// A table that is moved sideways where it has no room, by keys too.
pub fn sideways(table: &Markup) -> Markup {
    html! { div.sideways tabindex="0" role="group" aria-label="Table" { (table) } }
}

/// A table of a document, with the fills of what it names. Where cells have their share of a whole, they are shaded by it.
pub fn table(table: &Table, palette: &Palette) -> Markup {
    let shaded = table.rows.iter().flat_map(|row| &row.cells).any(|cell| share(cell).is_some());
    sideways(&bare(table, palette, if shaded { "brings" } else { "plain" }))
}

/// The same where it stands, of any class: columns in which nothing stands are left out, and the first of words names
/// the rows.
pub fn bare(table: &Table, palette: &Palette, class: &str) -> Markup {
    let filled = |at: &usize| table.rows.iter().any(|row| row.cells.get(*at) != Some(&Cell::Nothing));
    let shown: Vec<usize> = (0..table.columns.len()).filter(filled).collect();
    let names = shown.iter().copied().find(|at| table.columns[*at].kind == Kind::Words);
    let names = names.or(shown.first().copied());
    html! {
        table class=(class) {
            thead.unseen[table.heads == Heads::Spoken] { tr { @for at in &shown { (head(&table.columns[*at])) } } }
            tbody {
                @for row in &table.rows {
                    tr.sum[row.tone == Tone::Strong] {
                        @for at in &shown { (cell(row, *at, names == Some(*at), palette)) }
                    }
                }
            }
        }
    }
}

fn head(column: &Column) -> Markup {
    html! { th scope="col" { (name(&column.head)) @if !column.unit.is_empty() { " " small { (name(&column.unit)) } } } }
}

fn cell(row: &Row, at: usize, names: bool, palette: &Palette) -> Markup {
    let cell = row.cells.get(at).unwrap_or(&Cell::Nothing);
    let text = cell.text();
    html! {
        @match cell {
            _ if names => th scope="row" { @if palette.has(&text) { (palette.swatch(&text)) " " } (name(&text)) },
            Cell::Figure { number, unit, tone: Tone::Strong, .. } => td.amount { b { (number) } " " (Said(unit)) },
            Cell::Figure { tone, .. } => td class=[share(cell).map(shade).or_else(|| aside(*tone))] { (Said(&text)) },
            Cell::Words(_, tone) => td class=[aside(*tone)] { (name(&text)) },
            Cell::Nothing | Cell::Range(_) => td { (Said(&text)) },
        }
    }
}

fn aside(tone: Tone) -> Option<String> {
    (tone == Tone::Aside).then(|| "aside".to_owned())
}

fn share(cell: &Cell) -> Option<f64> {
    if let Cell::Figure { share, .. } = cell { *share } else { None }
}

/// How dark a cell is for a share of the whole, in tenths: a class of the style sheet.
fn shade(share: f64) -> String {
    let tenths = (10.0 * share.abs()).round().clamp(0.0, 10.0);
    format!("s{tenths}")
}

#[cfg(test)]
mod tests {
    use super::shade;

    #[test]
    fn a_cell_is_as_dark_as_its_share_and_never_darker_than_all() {
        assert_eq!(shade(0.0), "s0");
        assert_eq!(shade(0.34), "s3");
        assert_eq!(shade(-0.5), "s5");
        assert_eq!(shade(7.0), "s10");
    }
}
