//! The demo briefs, as a user runs them.

use serde_json::Value;
use unicode_width::UnicodeWidthStr;

use super::run::washline;
use crate::effort::some;

/// Every demo and the status with which `spec` ends on it.
const DEMOS: [(&str, i32); 9] = [
    ("problems-demo/caffeine-free.toml", 0),
    ("problems-demo/from-the-house.toml", 0),
    ("problems-demo/highball.toml", 0),
    ("problems-demo/low-strength.toml", 0),
    ("problems-demo/quince-notebook.toml", 0),
    ("problems-demo/spritz.toml", 0),
    ("problems-demo/stirred-budget.toml", 0),
    ("problems-demo/sweetener-swap.toml", 0),
    ("problems-demo/too-much.toml", 1),
];

/// The demo that most checks are made on.
const LOW: (&str, i32) = ("problems-demo/low-strength.toml", 0);

/// The pours of a spec in JSON as one would write them on the command line.
fn spec_line(spec: &Value) -> String {
    let pours = spec["pours"].as_array().expect("pours");
    let pour = |p: &Value| {
        format!(
            "{} {} {}",
            p["amount"],
            p["unit"].as_str().expect("ml or g"),
            p["ingredient"].as_str().expect("a name")
        )
    };
    pours.iter().map(pour).collect::<Vec<_>>().join(", ")
}

#[test]
fn every_demo_file_is_tried() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/problems-demo");
    let mut files: Vec<String> = std::fs::read_dir(folder)
        .expect("the folder")
        .map(|entry| entry.expect("an entry").file_name().into_string().expect("a plain name"))
        .filter(|name| !["README.md", "house.toml", "menu"].contains(&name.as_str()))
        .map(|name| format!("problems-demo/{name}"))
        .collect();
    files.sort();
    assert_eq!(files, DEMOS.map(|(file, _)| file.to_owned()));
}

#[test]
fn every_format_ends_alike_and_twice_the_same() {
    let formats = ["text", "json", "markdown", "csv"];
    let cases = DEMOS.into_iter().flat_map(|demo| formats.map(|format| (demo, format)));
    for ((file, status), format) in some(cases, 18) {
        let run = || washline(["spec", file, "--format", format]).go().answered(status);
        assert_eq!(run(), run(), "{file} {format}");
    }
}

#[test]
fn text_fits_80_columns() {
    for (file, status) in some(DEMOS, 4) {
        for units in ["ml", "oz"] {
            let text = washline(["spec", file, "--units", units]).go().answered(status);
            let wide: Vec<&str> = text.lines().filter(|line| line.width() > 80).collect();
            assert!(wide.is_empty(), "{file}: {wide:?}");
        }
    }
}

#[test]
fn every_spec_shown_passes_the_check_and_is_no_better_than_the_bound() {
    for (file, _) in some(DEMOS.iter().filter(|(_, status)| *status == 0), 4) {
        let answer = washline(["spec", file, "--format", "json"]).go().json(0);
        assert_eq!((&answer["outcome"], &answer["complete"]), (&Value::from("found"), &Value::from(true)));
        let others = answer["alternatives"].as_array().expect("a list");
        let lowest = answer["aim"]["direction"] != "highest";
        let bound = answer["bound"].as_f64().expect("a bound");
        // The contract's resolution: of what differs by no more the steadiest comes first.
        let to = answer["as_good"]["to"].as_f64().expect("a resolution");
        let mut last = bound;
        for spec in std::iter::once(&answer["best"]).chain(others) {
            let checked = washline(["check", file, &spec_line(spec), "--format", "json"]).go().json(0);
            assert_eq!(checked["meets"], true, "{}", spec_line(spec));
            assert_eq!(checked["spec"]["served"], spec["served"], "{}", spec_line(spec));
            let score = spec["score"].as_f64().expect("a score");
            let (rounding, room) = (1e-9 * bound.abs(), to + 1e-9 * last.abs());
            assert!(if lowest { score >= last - room } else { score <= last + room }, "{score} after {last}");
            assert!(
                if lowest { score >= bound - rounding } else { score <= bound + rounding },
                "{score} beats {bound}"
            );
            last = score;
        }
    }
}

#[test]
fn alternatives_are_different_sets() {
    let answer = washline(["spec", LOW.0, "--format", "json"]).go().json(0);
    let set = |spec: &Value| {
        let pours = spec["pours"].as_array().expect("pours").iter();
        let mut names: Vec<String> = pours.map(|p| p["ingredient"].to_string()).collect();
        names.sort();
        names
    };
    let others = answer["alternatives"].as_array().expect("a list");
    let mut sets: Vec<_> = std::iter::once(&answer["best"]).chain(others).map(set).collect();
    let all = sets.len();
    sets.sort();
    sets.dedup();
    assert_eq!((all, sets.len()), (7, 7));
}

#[test]
fn a_brief_comes_from_standard_input_too() {
    let (file, status) = LOW;
    let text = std::fs::read(concat!(env!("CARGO_MANIFEST_DIR"), "/problems-demo/low-strength.toml"))
        .expect("a file");
    let piped = washline(["spec", "-"]).input(text).go().answered(status);
    assert_eq!(piped, washline(["spec", file]).go().answered(status));
}

#[test]
fn a_setting_changes_the_question() {
    let answer =
        washline(["spec", LOW.0, "--format", "json", "--set", "targets.strength.max=8.5"]).go().json(0);
    assert!(answer["best"]["served"]["strength"].as_f64().expect("a number") <= 8.5 * (1.0 + 1e-9));
}

#[test]
fn a_spec_that_misses_ends_with_status_1() {
    let spec = "50 ml aged rum, 25 ml lime juice, 12.5 ml bay syrup";
    let text = washline(["check", LOW.0, spec]).go().answered(1);
    assert!(text.contains("This spec misses"), "{text}");
}

#[test]
fn no_time_at_all_stops_with_status_3() {
    let answer = washline(["spec", LOW.0, "--time-limit", "0", "--format", "json"]).go().json(3);
    assert_eq!(answer["outcome"], "stopped");
    assert_eq!(answer["complete"], false);
}

/// An alternative by its number is the one that the list has, measured anew.
#[test]
fn an_alternative_is_shown_whole() {
    let file = "problems-demo/stirred-budget.toml";
    let all = washline(["spec", file, "--format", "json"]).go().json(0);
    let second = washline(["spec", file, "--alternative", "2", "--format", "json"]).go().json(0);
    assert_eq!(second["spec"]["pours"], all["alternatives"][1]["pours"]);
    assert_eq!(second["meets"], true);
    let said = washline(["spec", file, "--alternative", "99"]).go().refused();
    assert!(said.contains("alternative"), "{said}");
}

/// Where nothing has a price there is no money to speak of.
#[test]
fn without_prices_no_format_has_a_currency() {
    let brief = "title = \"Unpriced\"\n[serve]\nmethod = \"shake\"\n[targets]\nvolume = { min = 80, max = 120 }\n\
                 strength = { min = 14, max = 22 }\nacid = { min = 5, max = 9 }\n[aim]\nnearest = \"middle\"\n\
                 [hold]\nsugar = 10\n[reference]\ngin = \"50 ml\"\n\"lemon juice\" = \"25 ml\"\n\
                 \"sugar syrup 1:1\" = \"20 ml\"\n[[candidate]]\nlarder = \"gin\"\n[[candidate]]\nlarder = \"lemon juice\"\n\
                 [[candidate]]\nlarder = \"sugar syrup 1:1\"\n";
    for command in [&["spec", "-", "--full"][..], &["batch", "-", "--serves", "12", "--full"]] {
        for format in some(["text", "markdown", "csv"], 3) {
            let form = ["--format", format];
            let asked = command.iter().chain(&form);
            let said = washline(asked).input(brief).go().answered(0);
            assert!(!said.contains("XXX"), "{command:?} {format}: {said}");
        }
    }
    let best = washline(["spec", "-"]).input(brief).go().answered(0);
    assert!(best.contains("from the middle of a range"), "{best}");
}
