//! Figures that no bar has, in every place that takes one: refused where they stand, or worked with.

use super::briefs::SMALL;
use crate::effort::{one_in, some};
use crate::run::washline;

const FIGURES: [&str; 11] = [
    "1e308",
    "1e-308",
    "5e-324",
    "inf",
    "-inf",
    "nan",
    "-1",
    "-0.0",
    "99999999999999999999",
    "9223372036854775807",
    "1e9",
];

/// What is written where: `@` is the figure.
const PLACES: [(&str, &str); 27] = [
    ("max = 14", "max = @"),
    ("min = 9,", "min = @,"),
    ("max = 140", "max = @"),
    ("min = 100,", "min = @,"),
    ("strength = 40", "strength = @"),
    ("strength = 40", "strength = { typical = 40, min = 40, max = @ }"),
    ("acid = 60", "acid = @"),
    ("brix = 60", "brix = @"),
    ("brix = 60", "sugar = @"),
    ("brix = 60", "brix = 60\ndensity = @"),
    ("brix = 60", "brix = 60\nsweetness = @"),
    ("brix = 60", "brix = 60\nyield = @"),
    ("brix = 60", "brix = 60\nmax = \"@ ml\""),
    ("brix = 60", "brix = 60\nmin = \"@ ml\""),
    ("brix = 60", "brix = 60\npour = \"@ ml\""),
    ("15 per 700 ml", "@ per 700 ml"),
    ("15 per 700 ml", "15 per @ ml"),
    ("most = 6", "most = @"),
    ("\"2.5 ml\"", "\"@ ml\""),
    ("\"2.5 ml\"", "\"2.5 ml\"\nmelt = @"),
    ("\"2.5 ml\"", "\"2.5 ml\"\nglass = \"@ ml\""),
    ("\"2.5 ml\"", "\"2.5 ml\"\nglass = \"160 ml\"\nheadroom = @"),
    ("[aim]", "[menu]\nprice = @\n[aim]"),
    ("[aim]", "[answer]\nalternatives = @\n[aim]"),
    ("[aim]", "[answer]\nwithin = @\n[aim]"),
    ("[aim]", "[variation]\npour_error = \"@ ml\"\n[aim]"),
    ("[aim]", "[[proportion]]\nof = \"lime\"\nto = \"syrup\"\nmin = @\n[aim]"),
];

/// Whether a person can use what is said: the place, the line itself, what is wrong, what to do.
fn told(text: &str, said: &str) -> Result<(), String> {
    let fault = |what: &str| Err(format!("{what}:\n{said}"));
    let Some(place) = said.split("--> standard input:").nth(1) else { return fault("no place") };
    let mut numbers = place.split(|c: char| !c.is_ascii_digit()).map(str::parse::<usize>);
    let (Some(Ok(line)), Some(Ok(column))) = (numbers.next(), numbers.next()) else {
        return fault("no line and column");
    };
    let Some(meant) = text.lines().nth(line - 1).filter(|l| (1..=l.len()).contains(&column)) else {
        return fault("a place outside the text");
    };
    if !said.contains(&format!("{line} | {meant}")) {
        return fault("the line does not stand there");
    }
    if said.contains("= help: ") { Ok(()) } else { fault("no help") }
}

#[test]
fn no_figure_breaks_it() {
    let mut answered = 0;
    let mut faults = vec![];
    let cases = PLACES.into_iter().flat_map(|place| FIGURES.map(|figure| (place, figure)));
    for ((meant, place), figure) in some(cases, 18) {
        assert!(SMALL.contains(meant), "{meant}");
        let text = SMALL.replacen(meant, &place.replace('@', figure), 1);
        let run = washline(["spec", "-", "--format", "json"]).input(text.as_str()).go();
        let outcome = match run.status {
            2 if run.out.is_empty() => told(&text, &run.err),
            0 | 1 | 3 => {
                answered += 1;
                let json = serde_json::from_str::<serde_json::Value>(&run.out);
                json.map(drop).map_err(|e| e.to_string())
            }
            other => Err(format!("status {other}: {}", run.err)),
        };
        faults.extend(outcome.err().map(|what| format!("{place} with {figure}: {what}")));
    }
    assert!(faults.is_empty(), "{} faults\n{}", faults.len(), faults.join("\n"));
    // Some of these are figures that a drink may have: next to nothing, or nothing.
    assert!((20..120).contains(&(answered * one_in(18))), "{answered} answered");
}

#[test]
fn no_figure_on_the_command_line_breaks_it() {
    for figure in FIGURES {
        let lines: [&[&str]; 6] = [
            &["batch", "-", "--serves", figure],
            &["batch", "-", "--make", &format!("{figure} l")],
            &["batch", "-", "--serves", "10", "--bottle", &format!("{figure} ml")],
            &["batch", "-", "--serves", "10", "--pour-cost", figure],
            &["spec", "-", "--time-limit", figure],
            &["sweep", "-", "--over", &format!("targets.strength.max={figure}..12"), "--steps", "3"],
        ];
        for line in lines {
            let run = washline(line).input(SMALL).go();
            assert!((0..=3).contains(&run.status), "{line:?}: {} {}", run.status, run.err);
            assert!(run.status != 2 || (run.out.is_empty() && !run.err.trim().is_empty()), "{line:?}");
        }
    }
}

/// Marks of other systems say nothing about the drink.
#[test]
fn a_byte_order_mark_and_other_line_ends_change_nothing() {
    let plain = washline(["spec", "-"]).input(SMALL).go().answered(0);
    for text in [
        format!("\u{feff}{SMALL}"),
        SMALL.replace('\n', "\r\n"),
        format!("\u{feff}{}", SMALL.replace('\n', "\r\n")),
    ] {
        assert_eq!(washline(["spec", "-"]).input(text).go().answered(0), plain);
    }
}

#[test]
fn a_zero_byte_is_told_where_it_stands() {
    for text in [SMALL.replace("Corner", "Cor\0ner"), format!("{SMALL}\0\0")] {
        let said = washline(["spec", "-"]).input(text.as_str()).go().refused();
        assert!(said.contains("[not-toml]") && said.contains('␀') && !said.contains('\0'), "{said}");
    }
}
