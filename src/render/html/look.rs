//! The look, written down once: colours, type, space. `style.css` uses these names and no figure of its own.
//!
//! The page is a quay over the river. Above the wash line of the heading lies dry stone (`quay`), below it the
//! river (`page`, and `tide` where something is filled). Colours are those of a harbour: deep water, oxide
//! paint, brass. Nothing is said by colour alone: a miss has a cross and the word, a figure that seldom holds
//! has its share beside it, and every ingredient has its name beside its colour.

use std::fmt::Write as _;

/// One colour in daylight and at night.
pub struct Colour {
    /// Its name in the style sheet.
    pub name: &'static str,
    /// On a light screen and on paper.
    pub light: &'static str,
    /// On a dark screen.
    pub dark: &'static str,
}

const fn colour(name: &'static str, light: &'static str, dark: &'static str) -> Colour {
    Colour { name, light, dark }
}

/// Grounds on which text stands.
pub const GROUNDS: [Colour; 3] = [
    // Dry stone: the heading and the foot. Cool, so that brass and oxide stand out from it.
    colour("quay", "#f8fbfa", "#0a161b"),
    // The river: everything else.
    colour("page", "#ebf2f2", "#0f2027"),
    // Water: what is filled, and the channel in which a figure floats.
    colour("tide", "#cfe2e5", "#1b3a45"),
];

/// What text is written in: each at least 4.5 to 1 on every ground (a test computes it).
pub const INKS: [Colour; 5] = [
    // Deep water instead of black: softer, and the same family as the grounds.
    colour("ink", "#11262c", "#e4eeed"),
    // For what stands back: units, captions.
    colour("soft", "#42595f", "#a9c0c4"),
    // The one accent: wash line, links, what is met.
    colour("river", "#0b5866", "#84ced9"),
    // Oxide of a hull: what is missed or in the way.
    colour("signal", "#a02a10", "#ffa98c"),
    // Brass: what sits at its limit.
    colour("edge", "#734700", "#f0c26b"),
];

/// Lines that only divide; nothing is read from them.
pub const LINES: [Colour; 1] = [colour("line", "#9fb5b8", "#3f5a62")];

/// What the ingredients of a page are filled with, in card order: the same by day and at night, since outlines
/// are ink. Neighbours differ in lightness, so they stay apart without colour; the hatching over them
/// (`fill.rs`) tells the roles apart.
pub const INGREDIENTS: [&str; 14] = [
    "#c98f3f", // amber
    "#e3c9d8", // petal
    "#8f83c0", // lavender
    "#dfe08a", // citron
    "#6fa886", // fern
    "#f0d9b0", // cream
    "#d98066", // brick
    "#b8d8c8", // mist
    "#7f9fc9", // slate blue
    "#efe4a0", // straw
    "#b58a9e", // mauve
    "#c9d3dc", // pewter
    "#a3b04f", // moss
    "#f3b9a0", // peach
];

/// What the water of the ice is filled with.
pub const MELT: &str = "#a5cde0";
/// What the lines of a pattern are drawn in, over any fill.
pub const GRAIN: &str = "#11262c";

/// Sizes of type in rem, of 16 px. Nothing is smaller than 12 px: it is read on a phone behind a bar as well.
const TYPE: [(&str, f64); 6] =
    [("note", 0.78), ("text", 0.94), ("lead", 1.06), ("ask", 1.2), ("figure", 1.35), ("title", 2.0)];

/// Spaces in rem: from a hairsbreadth to the room between two parts.
const SPACE: [(&str, f64); 4] = [("hair", 0.25), ("tight", 0.5), ("room", 1.0), ("wide", 1.75)];

/// Type comes with the system: a bookish face asks the questions, a plain one answers.
const FACES: [(&str, &str); 2] = [
    (
        "asks",
        "\"Iowan Old Style\",\"Palatino Linotype\",Palatino,\"URW Palladio L\",\"Book Antiqua\",Georgia,serif",
    ),
    (
        "answers",
        "system-ui,-apple-system,\"Segoe UI\",Roboto,\"Noto Sans\",\"Helvetica Neue\",Arial,sans-serif",
    ),
];

/// The names of the style sheet with their values. Paper takes the light ones.
pub fn variables() -> String {
    let mut css = String::from(":root{color-scheme:light dark;");
    colours(&mut css, |c| c.light);
    // What lies over a fill is the same by day and at night, as the fills are.
    let _ = write!(css, "--grain:{GRAIN};");
    for (name, size) in TYPE {
        // Writing to a string cannot fail.
        let _ = write!(css, "--type-{name}:{size}rem;");
    }
    for (name, size) in SPACE {
        let _ = write!(css, "--{name}:{size}rem;");
    }
    for (name, stack) in FACES {
        let _ = write!(css, "--{name}:{stack};");
    }
    css.push_str("}\n@media screen and (prefers-color-scheme:dark){:root{");
    colours(&mut css, |c| c.dark);
    css.push_str("}}\n");
    css
}

fn colours(css: &mut String, shade: impl Fn(&Colour) -> &'static str) {
    for colour in GROUNDS.iter().chain(&INKS).chain(&LINES) {
        let _ = write!(css, "--{}:{};", colour.name, shade(colour));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance of a colour, WCAG 2.2.
    fn luminance(colour: &str) -> f64 {
        let part = |at: usize| {
            let byte = u8::from_str_radix(&colour[at..at + 2], 16).expect("hexadecimal");
            let share = f64::from(byte) / 255.0;
            if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5)
    }

    fn contrast(one: &str, other: &str) -> f64 {
        let (one, other) = (luminance(one), luminance(other));
        (one.max(other) + 0.05) / (one.min(other) + 0.05)
    }

    #[test]
    fn the_contrast_formula_is_that_of_wcag() {
        assert!((contrast("#000000", "#ffffff") - 21.0).abs() < 1e-9);
        // The published example of a grey that just fails 4.5 on white is #777777: 4.48.
        assert!((contrast("#777777", "#ffffff") - 4.48).abs() < 0.005);
    }

    #[test]
    fn text_has_contrast_on_every_ground_by_day_and_at_night() {
        for ink in &INKS {
            for ground in &GROUNDS {
                for (ink_shade, shade) in [(ink.light, ground.light), (ink.dark, ground.dark)] {
                    let found = contrast(ink_shade, shade);
                    assert!(found >= 4.5, "{} on {}: {found:.2}", ink.name, ground.name);
                }
            }
        }
    }

    #[test]
    fn the_style_sheet_has_no_colour_of_its_own() {
        let style = include_str!("style.css");
        assert!(!style.contains('#'), "write it down in look.rs");
        for name in style.split("var(--").skip(1).filter_map(|rest| rest.split(')').next()) {
            assert!(variables().contains(&format!("--{name}:")), "{name} is not in look.rs");
        }
    }

    #[test]
    fn a_pattern_can_be_seen_on_every_fill() {
        for fill in INGREDIENTS.into_iter().chain([MELT]) {
            // WCAG 1.4.11: 3 to 1 for what has to be seen in a picture.
            let found = contrast(fill, GRAIN);
            assert!(found >= 3.0, "{fill}: {found:.2}");
        }
    }
}
