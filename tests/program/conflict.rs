//! A brief that cannot be met, as a user sees it and acts on it.

use serde_json::Value;

use super::run::washline;

const FILE: &str = "problems-demo/too-much.toml";

fn answer() -> Value {
    washline(["spec", FILE, "--format", "json"]).go().json(1)
}

fn keys(value: &Value) -> Vec<&str> {
    value.as_object().expect("an object").keys().map(String::as_str).collect()
}

/// Where a change goes in the file: a target's side, or an ingredient's least.
fn setting(change: &Value) -> String {
    let name = |key: &str| change[key].as_str().expect("a word").to_owned();
    match name("target").as_str() {
        // The first candidate of the file.
        "aged rum" => format!("candidate.0.{}={} ml", name("side"), change["needed"]),
        target => format!("targets.{target}.{}={}", name("side"), change["needed"]),
    }
}

#[test]
fn the_conflict_has_the_fields_of_the_contract() {
    let answer = answer();
    assert_eq!(answer["outcome"], "conflict");
    let conflict = &answer["conflict"];
    let fields = ["core", "cores", "reach", "enough", "relax", "spec"];
    assert_eq!(keys(conflict)[..6], fields);
    assert_eq!(conflict["core"], conflict["cores"][0]);
    for item in
        conflict["cores"].as_array().expect("cores").iter().flat_map(|c| c.as_array().expect("a core"))
    {
        assert!(keys(item) == ["target", "side", "limit"] || keys(item) == ["rule"], "{item}");
    }
    assert_eq!(keys(&conflict["reach"][0]), ["target", "min", "max"]);
    for change in
        [&conflict["enough"], &conflict["relax"]].into_iter().flat_map(|c| c.as_array().expect("a list"))
    {
        assert_eq!(keys(change), ["target", "side", "asked", "needed"]);
    }
    assert_eq!(keys(&conflict["spec"])[..3], ["pours", "melt", "score"]);
}

/// Whoever follows the advice gets a drink; whoever follows it not quite gets none.
#[test]
fn any_one_change_that_is_enough_is_enough() {
    let answer = answer();
    let enough = answer["conflict"]["enough"].as_array().expect("a list");
    assert!(enough.len() >= 2, "{enough:?}");
    for change in enough {
        let run = |value: String| washline(["spec", FILE, "--format", "json", "--set", &value]).go();
        run(setting(change)).json(0);
        let mut less = change.clone();
        let needed = change["needed"].as_f64().expect("a number");
        // Amounts move by pour steps, figures by anything.
        let by = if change["target"] == "aged rum" { 2.5 } else { 1e-6 * needed };
        let sign = if change["side"] == "min" { 1.0 } else { -1.0 };
        less["needed"] = Value::from(needed + sign * by);
        run(setting(&less)).json(1);
    }
}

#[test]
fn all_changes_of_the_smallest_relaxation_together_are_enough() {
    let answer = answer();
    let mut arguments = vec!["spec".to_owned(), FILE.to_owned(), "--format".to_owned(), "json".to_owned()];
    for change in answer["conflict"]["relax"].as_array().expect("a list") {
        arguments.extend(["--set".to_owned(), setting(change)]);
    }
    // The drink of a way out is the best by score alone: every difference matters.
    arguments.extend(["--set".to_owned(), "aim.to=0".to_owned()]);
    let relaxed = washline(&arguments).go().json(0);
    assert_eq!(relaxed["best"]["pours"], answer["conflict"]["spec"]["pours"]);
}

#[test]
fn the_text_says_why_first_and_speaks_no_jargon() {
    let text = washline(["spec", FILE, "--full"]).go().answered(1);
    let places = ["cannot", "The smallest change", "What does not go together", "would be enough"];
    let found: Vec<Option<usize>> = places.iter().map(|p| text.find(p)).collect();
    assert!(found.iter().all(Option::is_some) && found.is_sorted(), "{found:?}\n{text}");
    for word in ["infeasible", "dual", "basis", "constraint", "row", "bound", "relax"] {
        let words = text.split(|c: char| !c.is_alphabetic());
        assert!(words.into_iter().all(|w| w != word), "{word}\n{text}");
    }
}

/// The spec that the smallest change makes possible is shown: so is what asks for care in it.
#[test]
fn the_way_out_comes_with_its_cautions() {
    let text = washline(["spec", FILE, "--set", "candidate.1.must=true"]).go().answered(1);
    let (card, mind) = text.split_once("\n  Mind: ").expect("what to mind");
    assert!(card.contains("fino sherry  ") && mind.contains("sulphites (fino sherry)"), "{text}");
}
