//! What all components share: text made harmless, names, shares, numbers in drawings.

use maud::{Markup, Render, html};

use crate::quantity::number;
use crate::render::words;

/// Text of the brief or about it, made harmless: control characters and marks that turn the reading
/// direction go; markup is escaped by the template. A number keeps its unit on its line.
pub struct Said<'a>(pub &'a str);

impl Render for Said<'_> {
    fn render_to(&self, buffer: &mut String) {
        apart(&bound(&words::clean(self.0))).as_str().render_to(buffer);
    }
}

/// The longest word that is kept beside a number.
const UNIT: usize = 5;

/// The text with a space that does not break between a number and its unit.
fn bound(text: &str) -> String {
    let mut kept = String::with_capacity(text.len());
    for (at, letter) in text.char_indices() {
        let number = kept.ends_with(|c: char| c.is_ascii_digit());
        let next = text[at + letter.len_utf8()..].split(' ').next().unwrap_or_default();
        let unit = !next.is_empty() && next.chars().count() <= UNIT;
        kept.push(if letter == ' ' && number && unit { '\u{a0}' } else { letter });
    }
    kept
}

/// Whether a letter is written from right to left.
fn leftward(letter: char) -> bool {
    matches!(letter, '\u{590}'..='\u{8ff}' | '\u{fb1d}'..='\u{fdff}' | '\u{fe70}'..='\u{fefc}')
}

/// The text with words that run to the left set apart, so that they turn no figure after them.
fn apart(text: &str) -> String {
    let mut kept = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(start) = rest.find(leftward) {
        let run = &rest[start..];
        // To the last such letter before one that runs to the right, or a figure.
        let end = run.find(|c: char| !leftward(c) && c.is_alphanumeric()).unwrap_or(run.len());
        let end =
            run[..end].char_indices().rfind(|(_, c)| leftward(*c)).map_or(end, |(at, c)| at + c.len_utf8());
        kept.push_str(&rest[..start]);
        kept.push('\u{2068}');
        kept.push_str(&run[..end]);
        kept.push('\u{2069}');
        rest = &run[end..];
    }
    kept + rest
}

/// A name of the brief, kept apart so that its reading direction turns nothing beside it.
pub fn name(text: &str) -> Markup {
    html! { bdi { (Said(text)) } }
}

/// A number in a drawing: hundredths are finer than any eye.
pub fn coordinate(value: f64) -> String {
    number::trimmed(value, 2)
}

/// A place across a drawing that is as wide as there is room.
pub fn across(share: f64) -> String {
    format!("{}%", number::trimmed(100.0 * share, 2))
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

/// Round figures from the lower to the upper end of a scale, about so many.
pub fn marks(low: f64, high: f64, most: usize) -> Vec<f64> {
    let every = step(high - low, most);
    let first = (low / every - 1e-9).ceil();
    let count = ((high / every + 1e-9).floor() - first).clamp(0.0, 12.0) as usize;
    (0..=count).map(|at| (first + at as f64) * every).collect()
}

/// The width of a drawing in which a line is scaled to the room there is.
const ACROSS: f64 = 1000.0;

/// Lines through places, each a share of the width and a height, scaled to the room there is.
pub fn courses(lines: &[Vec<(f64, f64)>], height: f64) -> Markup {
    let corners = |line: &[(f64, f64)]| {
        let corner = |(x, y): &(f64, f64)| format!("{} {}", coordinate(ACROSS * x), coordinate(*y));
        line.iter().map(corner).collect::<Vec<_>>().join(" ")
    };
    html! {
        svg x="0" y="0" width="100%" height=(coordinate(height)) viewBox=(format!("0 0 {} {}", coordinate(ACROSS), coordinate(height))) preserveAspectRatio="none" {
            @for line in lines.iter().filter(|line| line.len() > 1) {
                polyline.course points=(corners(line)) vector-effect="non-scaling-stroke" {}
            }
        }
    }
}

/// The lowest and the highest of some figures.
pub fn reach(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)))
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
    fn a_number_keeps_its_unit() {
        assert_eq!(bound("39 % of 2.5 ml aged rum"), "39\u{a0}% of 2.5\u{a0}ml aged rum");
        assert_eq!(bound("20 serves in all, 3 "), "20 serves in all, 3 ");
    }

    #[test]
    fn words_that_run_to_the_left_turn_nothing_after_them() {
        assert_eq!(apart("pouring מיץ עصير 86 %, ice"), "pouring \u{2068}מיץ עصير\u{2069} 86 %, ice");
        assert_eq!(apart("מיץ (rum)"), "\u{2068}מיץ\u{2069} (rum)");
        assert_eq!(apart("rum"), "rum");
    }

    #[test]
    fn nothing_of_a_brief_becomes_markup() {
        let text = name("<script>\"x\" & 'y'\u{202e}\u{0}").into_string();
        assert_eq!(text, "<bdi>&lt;script&gt;&quot;x&quot; &amp; 'y'\u{fffd}\u{fffd}</bdi>");
    }
}
