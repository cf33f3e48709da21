//! `--swap`, as a user runs it.

use serde_json::Value;
use unicode_width::UnicodeWidthStr;

use super::run::washline;
use crate::effort::some;

const DEMO: &str = "problems-demo/sweetener-swap.toml";
const SYRUP: &str = "sugar syrup 1:1";

fn names(pours: &Value) -> Vec<&str> {
    pours.as_array().expect("pours").iter().filter_map(|p| p["ingredient"].as_str()).collect()
}

#[test]
fn the_drink_of_today_stays_as_it_is() {
    let answer = washline(["spec", DEMO, "--format", "json"]).go().json(0);
    assert_eq!(answer["best"]["score"], 0.0);
    assert_eq!(answer["best"]["change"], Value::Array(vec![]));
    assert_eq!(answer["best"]["pours"], answer["reference"]["pours"]);
    assert_eq!(answer.get("swap"), None);
    let text = washline(["spec", DEMO]).go().answered(0);
    assert!(text.contains("The reference itself meets the brief: nothing has to change."), "{text}");
}

#[test]
fn a_swap_holds_the_drink_and_says_what_moved() {
    let swap = format!("{SYRUP}=agave syrup");
    let answer = washline(["spec", DEMO, "--swap", &swap, "--format", "json"]).go().json(0);
    assert!(names(&answer["best"]["pours"]).contains(&"agave syrup"));
    assert!(!names(&answer["best"]["pours"]).contains(&SYRUP));
    assert_eq!((&answer["swap"]["out"][0], &answer["swap"]["in"][0]), (&SYRUP.into(), &"agave syrup".into()));
    assert_eq!(answer["swap"]["held_by"], "brief");
    let (now, before) = (&answer["best"]["served"], &answer["reference"]["served"]);
    for held in answer["swap"]["held"].as_array().expect("a list") {
        let key = held["target"].as_str().expect("a key");
        let figure = |served: &Value| served[key].as_f64().expect("a figure");
        let within = held["within"].as_f64().expect("a number");
        assert_eq!(held["value"], before[key]);
        assert!((figure(now) - figure(before)).abs() <= within * (1.0 + 1e-9), "{key}");
    }
    // The larder has no prices.
    assert!(now["cost"].is_null());
    let text = washline(["spec", DEMO, "--swap", &swap, "--full"]).go().answered(0);
    for part in
        ["The swap", "goes out, agave syrup comes in.", "Beside the reference", "as sweet as", "out: 22.5"]
    {
        assert!(text.contains(part), "{part} is not in\n{text}");
    }
}

#[test]
fn contributions_add_up_in_json() {
    let swap = format!("{SYRUP}=fructose syrup");
    let answer = washline(["spec", DEMO, "--swap", &swap, "--format", "json"]).go().json(0);
    for spec in [&answer["best"], &answer["reference"]] {
        for key in ["volume", "strength", "sugar", "sweetness", "acid", "cost", "energy", "ethanol", "melt"] {
            let lines = spec["contributions"].as_array().expect("a list");
            let sum: f64 = lines.iter().map(|l| l["share"][key].as_f64().expect("a share")).sum();
            let served = spec["served"][key].as_f64().expect("a figure");
            assert!((sum - served).abs() <= 1e-9 * served.abs().max(1.0), "{key}: {sum} and {served}");
        }
    }
}

#[test]
fn a_brief_without_a_hold_gets_the_usual_one_and_its_aim_is_set_aside() {
    let text =
        std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/problems-demo/sweetener-swap.toml"));
    let text = text.expect("the demo").replace("nearest = \"reference\"", "lowest = \"cost\"");
    let (before, rest) = text.split_once("[hold]").expect("a hold");
    let brief = format!("{before}{}", &rest[rest.find("[aim]").expect("an aim")..]);
    let swap = format!("{SYRUP}=fructose syrup");
    let run = |format: &str| {
        washline(["spec", "-", "--swap", &swap, "--format", format]).input(brief.as_str()).go()
    };
    let answer = run("json").json(0);
    assert_eq!(answer["aim"]["of"], "reference");
    assert_eq!(answer["swap"]["held_by"], "custom");
    assert_eq!(answer["swap"]["aim_set_aside"], "lowest cost");
    let held: Vec<&str> = answer["swap"]["held"]
        .as_array()
        .expect("a list")
        .iter()
        .filter_map(|h| h["target"].as_str())
        .collect();
    assert_eq!(held, ["volume", "strength", "sweetness", "acid"]);
    let text = run("text").answered(0).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("the brief's own (lowest cost) is set aside"), "{text}");
}

#[test]
fn another_acid_is_told() {
    let text = washline(["spec", DEMO, "--swap", "lemon juice=cider vinegar"]).go().answered(0);
    assert!(text.contains("Equal titratable acid is not equal sourness"), "{text}");
    let text = washline(["spec", DEMO]).go().answered(0);
    assert!(!text.contains("sourness"), "{text}");
}

#[test]
fn everything_of_a_kind_is_ranked() {
    let swap = format!("{SYRUP}=?");
    let run = |format: &str| washline(["spec", DEMO, "--swap", &swap, "--format", format]).go();
    let answer = run("json").json(0);
    let ranked = answer["ranked"].as_array().expect("a list");
    assert!(ranked.len() >= 20, "{} tried", ranked.len());
    let found: Vec<&Value> = ranked.iter().take_while(|r| r["outcome"] == "found").collect();
    assert!(found.len() >= 10 && ranked[found.len()..].iter().all(|r| r["outcome"] == "conflict"));
    let scores: Vec<f64> = found.iter().filter_map(|r| r["score"].as_f64()).collect();
    assert!(scores.is_sorted() && scores.len() == found.len());
    // Each line is what the swap by itself gives.
    for line in found.iter().take(3).chain(found.last()) {
        let one = format!("{SYRUP}={}", line["in"].as_str().expect("a name"));
        let alone = washline(["spec", DEMO, "--swap", &one, "--format", "json"]).go().json(0);
        assert_eq!(alone["best"], line["spec"], "{one}");
    }
    for format in some(["text", "json", "markdown", "csv"], 4) {
        assert_eq!(run(format).answered(0), run(format).answered(0), "{format}");
    }
    let text = run("text").answered(0);
    let wide: Vec<&str> = text.lines().filter(|line| line.width() > 80).collect();
    assert!(wide.is_empty(), "{wide:?}");
}

#[test]
fn what_cannot_be_swapped_is_refused() {
    let said = |arguments: &[&str]| washline(arguments).go().refused();
    let no_reference = said(&["spec", "problems-demo/low-strength.toml", "--swap", "lime juice=verjus"]);
    assert!(no_reference.contains("a swap needs the spec that the drink comes from"), "{no_reference}");
    let all = said(&["spec", "problems-demo/low-strength.toml", "--swap", "lime juice=?"]);
    assert!(all.contains("lime juice=?: a swap needs"), "{all}");
    let unknown = said(&["spec", DEMO, "--swap", "lemn juice=?"]);
    assert!(unknown.contains("did you mean \"lemon juice\"?"), "{unknown}");
    let check = said(&["check", DEMO, "50 ml gin", "--swap", "lemon juice=?"]);
    assert!(check.contains("Only `washline spec` tries them all"), "{check}");
    let twice = said(&["spec", DEMO, "--swap", "lemon juice=?", "--swap", "gin=?"]);
    assert!(twice.contains("`?` stands in more than one swap"), "{twice}");
}

#[test]
fn a_cost_limit_leaves_out_what_has_no_price() {
    let swap = format!("{SYRUP}=?");
    let limited = ["spec", DEMO, "--swap", &swap, "--set", "targets.cost.max=2"];
    let text = washline(limited).go().answered(0);
    assert!(
        text.contains("Not tried, as the brief limits the cost") && text.contains("fructose syrup"),
        "{text}"
    );
    let one = format!("{SYRUP}=agave syrup");
    let priceless = ["spec", DEMO, "--swap", &one, "--set", "targets.cost.max=2"];
    let said = washline(priceless).go().refused();
    assert!(said.contains("candidate.\"agave syrup\".price="), "{said}");
    let price = "candidate.\"agave syrup\".price=6.10 per 500 ml";
    washline(priceless.iter().chain(&["--set", price])).go().answered(0);
}

#[test]
fn no_time_stops_the_trials_with_status_3() {
    let swap = format!("{SYRUP}=?");
    let answer =
        washline(["spec", DEMO, "--swap", &swap, "--time-limit", "0", "--format", "json"]).go().json(3);
    assert!(answer["ranked"].as_array().expect("a list").iter().any(|r| r["outcome"] == "stopped"));
}

#[test]
fn the_caffeine_goes_and_the_drink_stays() {
    let answer = washline(["spec", "problems-demo/caffeine-free.toml", "--format", "json"]).go().json(0);
    assert!(answer["reference"]["served"]["caffeine"].as_f64().expect("a figure") > 5.0);
    assert_eq!(answer["best"]["served"]["caffeine"], 0.0);
    assert!(!names(&answer["best"]["pours"]).contains(&"black tea"));
}

/// A sour of our own whose sugar may lie between two figures.
fn sour(sugar: &str) -> String {
    format!(
        "title = \"Landing sour\"\n[serve]\nmethod = \"shake\"\nglass = \"160 ml\"\npour = \"2.5 ml\"\n[targets]\n\
         volume = {{ min = 100, max = 135 }}\nstrength = {{ min = 13, max = 17 }}\nsugar = {sugar}\n\
         acid = {{ min = 6, max = 9 }}\n[aim]\nnearest = \"reference\"\n[reference]\ngin = \"50 ml\"\n\
         \"lemon juice\" = \"22.5 ml\"\n\"{SYRUP}\" = \"20 ml\"\n[[candidate]]\nlarder = \"gin\"\n[[candidate]]\n\
         larder = \"lemon juice\"\n[[candidate]]\nlarder = \"{SYRUP}\"\n"
    )
}

/// A blend in the place of one: both of it are in the glass.
#[test]
fn two_may_come_in_for_one() {
    let swap = format!("{SYRUP}=honey syrup 1:1 + agave syrup");
    let brief = sour("{ min = 60, max = 130 }");
    let answer =
        washline(["spec", "-", "--swap", &swap, "--format", "json"]).input(brief.as_str()).go().json(0);
    let pours = names(&answer["best"]["pours"]);
    assert!(["honey syrup 1:1", "agave syrup"].iter().all(|name| pours.contains(name)), "{pours:?}");
    assert!(!pours.contains(&SYRUP), "{pours:?}");
}

/// Where nothing fits, what comes nearest is told, with what it would take; a limit opened by so much lets it in.
#[test]
fn what_nearly_fits_is_told_with_what_it_takes() {
    let (any, narrow) = (format!("{SYRUP}=?"), sour("{ min = 75.00, max = 75.01 }"));
    let said = washline(["spec", "-", "--swap", &any]).input(narrow.as_str()).go().answered(1);
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    let (_, nearest) = said.split_once("The nearest: ").unwrap_or_else(|| panic!("{said}"));
    let (pour, rest) = nearest.split_once(" would do with ").expect("what would do");
    let name = pour.split_once(" ml ").expect("an amount").1;
    let (needed, _) = rest.split_once(" (asked").expect("what was asked");
    let figure = needed.split(' ').rev().nth(1).expect("a figure and its unit");
    let side = if needed.contains("at most") { "max" } else { "min" };
    assert!(needed.starts_with("sugar"), "{needed}");
    let (set, swap) = (format!("targets.sugar.{side}={figure}"), format!("{SYRUP}={name}"));
    let opened = washline(["spec", "-", "--swap", &swap, "--set", &set]).input(narrow.as_str()).go();
    assert!(opened.answered(0).contains(name));
    washline(["spec", "-", "--swap", &swap]).input(narrow.as_str()).go().answered(1);
}
