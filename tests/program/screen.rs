//! What fits on a screen, and the words that show more.

use unicode_width::UnicodeWidthStr;

use super::run::washline;
use crate::effort::{one_in, some};

const DEMOS: [(&str, i32); 5] = [
    ("low-strength", 0),
    ("stirred-budget", 0),
    ("caffeine-free", 0),
    ("sweetener-swap", 0),
    ("too-much", 1),
];

fn brief(demo: &str) -> String {
    format!("problems-demo/{demo}.toml")
}

#[test]
fn the_default_is_one_screen_and_full_is_more() {
    for (demo, status) in some(DEMOS, 4) {
        let screen = washline(["spec", &brief(demo)]).go().answered(status);
        assert!(screen.lines().count() <= 30, "{demo}: {} lines\n{screen}", screen.lines().count());
        let full = washline(["spec", &brief(demo), "--full"]).go().answered(status);
        assert!(full.lines().count() > screen.lines().count(), "{demo}");
        // Every pour of the card stands in both.
        let json = washline(["spec", &brief(demo), "--format", "json"]).go().json(status);
        let spec = if status == 0 { &json["best"] } else { &json["conflict"]["spec"] };
        for pour in spec["pours"].as_array().expect("a list") {
            let name = pour["ingredient"].as_str().expect("a name");
            assert!(screen.contains(name) && full.contains(name), "{demo}: {name}");
        }
    }
}

/// The bad news stands with the good: how often a spec holds before any figure that nobody can pour.
#[test]
fn the_headline_tells_in_how_many_serves_it_holds() {
    let json = washline(["spec", &brief("low-strength"), "--format", "json"]).go().json(0);
    let volume = json["best"]["served"]["volume"].as_f64().expect("a volume");
    let holds = (100.0 * json["best"]["within_all"].as_f64().expect("a share")).round();
    for arguments in [&["--full"][..], &[]] {
        let text =
            washline([&["spec", "problems-demo/low-strength.toml"][..], arguments].concat()).go().answered(0);
        // As it is read: whatever lines it is broken into.
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        let share = text.find(&format!("{holds} of 100 serves")).expect("the share");
        let limits = text.find(&format!("{volume:.1} ml")).expect("the first figure");
        assert!(share < limits, "{text}");
        if let Some(free) = text.find("Any amounts") {
            assert!(share < free, "{text}");
        }
    }
}

#[test]
fn every_word_that_shows_more_shows_something_of_its_own() {
    for (demo, status) in some(DEMOS, 3) {
        let screen = washline(["spec", &brief(demo)]).go().answered(status);
        let said = screen.split_whitespace().collect::<Vec<_>>().join(" ");
        let words =
            said.split_once("--only with one of ").expect("the words").1.trim_end_matches('.').to_owned();
        let mut seen: Vec<String> = vec![];
        for word in some(words.split(", "), 6) {
            let part = washline(["spec", &brief(demo), "--only", word]).go().answered(status);
            assert!(part.lines().count() > 1 && !part.contains("Nothing to say of"), "{demo} {word}: {part}");
            assert!(!seen.contains(&part), "{demo} {word}: {part}");
            seen.push(part);
        }
        assert!(seen.len() * one_in(6) >= 4, "{demo}: {words}");
    }
}

#[test]
fn a_part_that_is_not_there_is_said_so_and_an_unknown_word_is_refused() {
    let told = washline(["spec", &brief("low-strength"), "--only", "conflict"]).go().answered(0);
    assert!(told.contains("Nothing to say of conflict here"), "{told}");
    let refused = washline(["spec", &brief("low-strength"), "--only", "everything"]).go().refused();
    assert!(refused.contains("card") && refused.contains("mind"), "{refused}");
    washline(["spec", &brief("low-strength"), "--only", "card", "--full"]).go().refused();
}

#[test]
fn text_keeps_to_the_width_that_it_is_given_and_uses_it() {
    let hostile = "tests/browser/hostile.toml";
    let sweep =
        ["sweep", "problems-demo/low-strength.toml", "--over", "targets.strength.max=8..12", "--steps", "5"];
    let batch = ["batch", "problems-demo/stirred-budget.toml", "--serves", "40", "--full"];
    for columns in ["60", "80", "120"] {
        let most: usize = columns.parse().expect("a number");
        let mut runs: Vec<Vec<String>> =
            DEMOS.iter().map(|(demo, _)| vec!["spec".to_owned(), brief(demo), "--full".to_owned()]).collect();
        runs.push(["spec", hostile, "--full"].map(str::to_owned).to_vec());
        runs.push(sweep.map(str::to_owned).to_vec());
        runs.push(batch.map(str::to_owned).to_vec());
        for mut arguments in some(runs, 10) {
            arguments.extend(["--width".to_owned(), columns.to_owned()]);
            let text = washline(&arguments).go().out;
            let widest = text.lines().map(UnicodeWidthStr::width).max().unwrap_or(0);
            // No line is wider; and the room is used.
            assert!(widest <= most && widest + 12 > most, "{arguments:?}: {widest}\n{text}");
        }
    }
    washline(["spec", &brief("low-strength"), "--width", "59"]).go().refused();
    washline(["spec", &brief("low-strength"), "--width", "121"]).go().refused();
}

/// The impossible brief leads with what clashes and the smallest change, then the drink that it gives.
#[test]
fn a_conflict_leads_with_the_clash_and_the_smallest_change() {
    for arguments in [&["--full"][..], &[]] {
        let text =
            washline([&["spec", "problems-demo/too-much.toml"][..], arguments].concat()).go().answered(1);
        let at = |what: &str| text.find(what).unwrap_or_else(|| panic!("{what}: {text}"));
        let order =
            [at("cannot get under"), at("The smallest change"), at("The best spec then"), at("alone")];
        assert!(order.is_sorted(), "{order:?}\n{text}");
    }
}

/// An answer can be had again: what was changed stands in every format, and no clock, so that bytes stay the same.
#[test]
fn what_was_asked_stands_in_every_format() {
    let set = "targets.strength.max=8.5";
    let arguments = ["spec", "problems-demo/low-strength.toml", "--set", set];
    let looks =
        [&["--full"][..], &[], &["--format", "markdown"], &["--format", "csv"], &["--format", "json"]];
    for more in some(looks, 5) {
        let run = || washline([&arguments[..], more].concat()).go().answered(0);
        let said = run();
        assert!(said.contains(set), "{more:?}: {said}");
        assert_eq!(said, run());
    }
    let json = washline([&arguments[..], &["--format", "json"]].concat()).go().json(0);
    assert_eq!(json["asked"]["brief"], "problems-demo/low-strength.toml");
    assert_eq!(json["asked"]["set"], serde_json::json!([set]));
    assert_eq!(json["asked"]["swap"], serde_json::json!([]));
    assert_eq!(json["asked"]["version"], env!("CARGO_PKG_VERSION"));
    let json = washline(["check", arguments[1], "50 ml aged rum", "--format", "json"]).go().json(1);
    assert_eq!(json["asked"]["brief"], arguments[1]);
}
