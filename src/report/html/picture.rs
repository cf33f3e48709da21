//! What all pictures share: their frame, their names, their numbers.

use maud::{Markup, Render, html};

use crate::quantity::number;
use crate::report::words;

/// Text of the brief or about it, made harmless: control characters and marks that turn the reading
/// direction go; markup is escaped by the template.
pub struct Said<'a>(pub &'a str);

impl Render for Said<'_> {
    fn render_to(&self, buffer: &mut String) {
        words::clean(self.0).as_str().render_to(buffer);
    }
}

/// A name of the brief, kept apart so that its reading direction turns nothing beside it.
pub fn name(text: &str) -> Markup {
    html! { bdi { (Said(text)) } }
}

/// What is drawn, in words, for those who do not see it.
pub struct Told {
    /// An id that no other picture of the page has.
    pub id: String,
    /// What it is.
    pub title: String,
    /// What it shows.
    pub text: String,
}

/// The room that a picture takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Room {
    /// Its own coordinates, scaled as a whole to the width that there is.
    Scaled(f64, f64),
    /// As wide as there is room, so many pixels high: places across are in %, text keeps its size.
    Strip(f64),
}

/// A picture with its words.
pub fn picture(class: &str, room: Room, told: &Told, drawing: &Markup) -> Markup {
    let (view, height) = match room {
        Room::Scaled(width, height) => {
            (Some(format!("0 0 {} {}", coordinate(width), coordinate(height))), None)
        }
        Room::Strip(height) => (None, Some(coordinate(height))),
    };
    let (title, text) = (format!("{}-t", told.id), format!("{}-d", told.id));
    html! {
        svg class=(class) role="img" aria-labelledby=(format!("{title} {text}")) viewBox=[view]
            width=[height.as_ref().map(|_| "100%")] height=[height] focusable="false" {
            title id=(title) { (Said(&told.title)) }
            desc id=(text) { (Said(&told.text)) }
            (drawing)
        }
    }
}

/// A number in a picture: hundredths are finer than any eye.
pub fn coordinate(value: f64) -> String {
    number::trimmed(value, 2)
}

/// A place across a strip.
pub fn across(share: f64) -> String {
    format!("{}%", number::trimmed(100.0 * share, 2))
}

/// The table behind a picture, there for those who want the figures.
pub fn behind(table: &Markup) -> Markup {
    html! {
        details.behind {
            summary { "The picture as a table" }
            div.sideways tabindex="0" role="group" aria-label="Table" { (table) }
        }
    }
}

/// A table with a heading row; the first column names the rows.
pub fn table(caption: &str, head: &[&str], rows: &[Vec<String>]) -> Markup {
    html! {
        table {
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
    }
}

/// Steps of a scale that people can read: a 1, 2 or 5 with zeros, and at most `most` of them over `length`.
pub fn step(length: f64, most: usize) -> f64 {
    let rough = length / most.max(1) as f64;
    if !(rough.is_finite() && rough > 0.0) {
        return 1.0;
    }
    let power = 10_f64.powf(rough.log10().floor());
    let round = [1.0, 2.0, 5.0, 10.0].into_iter().find(|r| r * power >= rough * (1.0 - 1e-9));
    round.unwrap_or(10.0) * power
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_round_and_few() {
        assert_eq!(step(160.0, 8), 20.0);
        assert_eq!(step(0.3, 5), 0.1);
        assert_eq!(step(7.0, 5), 2.0);
        assert_eq!(step(0.0, 5), 1.0);
        assert_eq!(step(f64::NAN, 5), 1.0);
    }

    #[test]
    fn nothing_of_a_brief_becomes_markup() {
        let text = name("<script>\"x\" & 'y'\u{202e}\u{0}").into_string();
        assert_eq!(text, "<bdi>&lt;script&gt;&quot;x&quot; &amp; 'y'\u{fffd}\u{fffd}</bdi>");
    }
}
