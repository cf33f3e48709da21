//! Tables: one moved sideways where it has no room, and one of plain words.

use maud::{Markup, html};

use super::picture::{Said, name};

/// A table that is moved sideways where it has no room, by keys too.
pub fn sideways(table: &Markup) -> Markup {
    html! { div.sideways tabindex="0" role="group" aria-label="Table" { (table) } }
}

/// A table with a heading row; the first column names the rows.
pub fn table(caption: &str, head: &[&str], rows: &[Vec<String>]) -> Markup {
    sideways(&html! {
        table.plain {
            caption { (Said(caption)) }
            thead { tr { @for cell in head { th scope="col" { (Said(cell)) } } } }
            tbody {
                @for row in rows {
                    tr {
                        @for (at, cell) in row.iter().enumerate() {
                            @if at == 0 { th scope="row" { (name(cell)) } } @else { td { (name(cell)) } }
                        }
                    }
                }
            }
        }
    })
}

/// How dark a cell is for a share of the whole, in tenths: a class of the style sheet.
pub fn shade(share: f64) -> String {
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
