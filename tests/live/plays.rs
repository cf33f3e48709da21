//! What a change does to the text, to the answer and to the file.

use std::fs;
use std::process::Command;

use serde_json::{Value, json};

use super::served::{live, live_with};

#[test]
fn a_change_is_one_line_of_the_text_and_is_written_only_when_asked() {
    let live = live();
    let text = live.text();
    let edit = json!([{ "kind": "limit", "key": "strength", "side": "max", "to": "9" }]);
    let said = live.ask("glass", &text, &edit);
    let new = said["text"].as_str().expect("a text");
    let changed: Vec<(&str, &str)> = text.lines().zip(new.lines()).filter(|(a, b)| a != b).collect();
    assert_eq!(changed.len(), 1);
    assert_eq!(changed[0].1, "strength = { min = 8, max = 9 }     # % vol: the point of it all");
    assert_eq!(fs::read_to_string(live.file("low-strength.toml")).expect("a file"), text);
    let saved = live.post("save", &json!({ "text": new, "base": text }));
    assert_eq!(saved["written"], true);
    assert_eq!(fs::read_to_string(live.file("low-strength.toml")).expect("a file"), new);
    // What cannot be read is never written.
    let said = live.post("save", &json!({ "text": "nonsense", "base": new }));
    assert_eq!(said["written"], false);
    assert_eq!(fs::read_to_string(live.file("low-strength.toml")).expect("a file"), new);
}

#[test]
fn a_file_that_was_changed_meanwhile_is_not_written_over() {
    let live = live();
    let text = live.text();
    let theirs = format!("{text}# theirs\n");
    fs::write(live.file("low-strength.toml"), &theirs).expect("written");
    let mine = format!("{text}# mine\n");
    let said = live.post("save", &json!({ "text": mine, "base": text }));
    assert_eq!((said["written"].as_bool(), said["text"].as_str()), (Some(false), Some(theirs.as_str())));
    assert_eq!(fs::read_to_string(live.file("low-strength.toml")).expect("a file"), theirs);
    // Once she has seen theirs, hers may be written.
    assert_eq!(live.post("save", &json!({ "text": mine, "base": theirs }))["written"], true);
    assert_eq!(fs::read_to_string(live.file("low-strength.toml")).expect("a file"), mine);
}

#[test]
fn the_answer_of_an_older_state_does_not_come() {
    let live = live();
    let text = live.text();
    let ask = |seq: u64, tab: &str| {
        let body = json!({ "seq": seq, "tab": tab, "text": text }).to_string();
        live.post_as(&live.own(), "glass", &body).status
    };
    assert_eq!([ask(5, "a"), ask(4, "a"), ask(5, "a"), ask(1, "b"), ask(6, "a")], [200, 204, 200, 200, 200]);
    // A long question is given up as soon as a newer one comes.
    let (older, newer) = std::thread::scope(|scope| {
        let slow = scope.spawn(|| {
            let body = json!({ "seq": 7, "tab": "a", "text": text }).to_string();
            live.post_as(&live.own(), "reasons", &body).status
        });
        while ask(6, "a") != 204 {}
        let newer = ask(8, "a");
        (slow.join().expect("an answer"), newer)
    });
    assert_eq!((older, newer), (204, 200));
}

#[test]
fn the_answer_is_that_of_the_command_line() {
    let live = live();
    let text = live.text();
    let run = |set: &[&str]| {
        let mut command = Command::new(env!("CARGO_BIN_EXE_washline"));
        command.arg("spec").arg(live.file("low-strength.toml")).args(["--format", "json"]).args(set);
        let out = command.output().expect("an answer").stdout;
        serde_json::from_slice::<Value>(&out).expect("JSON")
    };
    let names = |spec: &Value| -> Vec<String> {
        let pours = spec["pours"].as_array().expect("pours");
        pours
            .iter()
            .map(|pour| format!("<b>{}</b> {}", pour["amount"], pour["unit"].as_str().expect("a unit")))
            .collect()
    };
    // By the score alone first, then what holds in the most serves.
    for (path, set) in
        [("glass", &["--set", "aim.to=0", "--set", "answer.alternatives=0"][..]), ("others", &[])]
    {
        let card =
            live.ask(path, &text, &json!([]))["fragments"]["card"].as_str().expect("a card").to_owned();
        let first = card.split("id=\"spec-1\"").next().expect("a card").to_owned();
        let mut rest = first.as_str();
        for amount in names(&run(set)["best"]) {
            let amount = amount.replace(".0<", "<");
            rest = rest.split_once(&amount).unwrap_or_else(|| panic!("{path}: {amount} is not in {first}")).1;
        }
        assert!(!rest.contains("class=\"amount\""), "{path}: {rest}");
    }
}

#[test]
fn a_finding_stands_at_its_field_in_the_words_of_the_command_line() {
    let live = live();
    let text = live.text();
    for (edit, field, words) in [
        (
            json!({ "kind": "price", "name": "lime juice", "to": "dear" }),
            "candidate.lime juice.price",
            "money",
        ),
        (
            json!({ "kind": "limit", "key": "strength", "side": "max", "to": "stiff" }),
            "targets.strength.max",
            "stiff",
        ),
        (
            json!({ "kind": "limit", "key": "strength", "side": "max", "to": "5" }),
            "targets.strength.max",
            "min",
        ),
        (json!({ "kind": "add", "name": "gin", "from": "larder" }), "find", "price"),
        (
            json!({ "kind": "use", "name": "unobtainium", "to": "must" }),
            "candidate.unobtainium",
            "unobtainium",
        ),
    ] {
        let said = live.ask("glass", &text, &json!([edit]));
        assert_eq!(
            (said["taken"].as_bool(), said["text"].as_str()),
            (Some(false), Some(text.as_str())),
            "{edit}"
        );
        let finding = &said["findings"][0];
        let fields = finding["fields"].as_array().expect("fields");
        assert!(fields.contains(&json!(field)), "{edit}: {finding}");
        assert!(finding["said"].as_str().expect("words").contains(words), "{edit}: {finding}");
    }
}

#[test]
fn a_conflict_is_left_by_its_smallest_change() {
    let live = live_with(&["problems-demo/too-much.toml"], &["too-much.toml"]);
    let text = live.text();
    let said = live.ask("others", &text, &json!([]));
    let clash = said["fragments"]["ways"].as_str().expect("a conflict");
    let edits =
        clash.split("data-edits=\"").nth(1).and_then(|rest| rest.split('"').next()).expect("a way out");
    let edits: Value = serde_json::from_str(&edits.replace("&quot;", "\"")).expect("changes");
    let left = live.ask("others", &text, &edits);
    assert_eq!(left["taken"], true);
    assert!(left["fragments"]["card"].as_str().expect("a card").contains("class=\"amount\""), "{left}");
    assert_eq!(left["fragments"]["ways"], "");
}

#[test]
fn what_is_told_along_an_end_is_so() {
    let live = live();
    let text = live.text();
    let asked = json!({ "tab": "t", "text": text, "key": "strength", "side": "max", "axis": [5, 12] });
    let found = live.post("along", &asked);
    let open = found["open"].as_array().expect("stretches");
    let first = open.first().expect("something can be poured")[0].as_f64().expect("a number");
    assert!(first > 8.0 && first < 9.5, "{found}");
    let pourable = |at: f64| {
        let edit = json!([{ "kind": "limit", "key": "strength", "side": "max", "to": at.to_string() }]);
        let said = live.ask("glass", &text, &edit);
        said["fragments"]["card"].as_str().is_some_and(|card| card.contains("class=\"amount\""))
    };
    assert!(pourable(first));
    assert!(!pourable(first - 0.1), "{found}");
}

#[test]
fn a_drink_begins_with_a_line_or_a_family_and_is_saved_under_a_new_name() {
    let live = live_with(&["problems-demo/house.toml"], &["--house", "house.toml"]);
    assert_eq!(live.text(), "");
    for begin in [
        json!({ "line": "50 ml aged rum, 25 ml lime juice, 20 ml sugar syrup 1:1", "lighter": "12" }),
        json!({ "family": "sour" }),
    ] {
        let text = live.post("begin", &begin)["text"].as_str().expect("a text").to_owned();
        let said = live.ask("glass", &text, &json!([]));
        assert!(said["fragments"]["card"].as_str().expect("a card").contains("class=\"amount\""), "{said}");
    }
    let said = live.post("begin", &json!({ "line": "50 ml moonbeams" }));
    assert_eq!(said["findings"][0]["fields"][0], "line");
    let offers =
        live.post("find", &json!({ "words": "bay syr" }))["html"].as_str().expect("offers").to_owned();
    assert!(offers.contains("house, sweetener"), "{offers}");
    let text = live.post("begin", &json!({ "family": "sour" }))["text"].as_str().expect("a text").to_owned();
    let saved = live.post("save", &json!({ "text": text, "base": "", "name": "my sour.toml" }));
    assert_eq!((saved["written"].as_bool(), saved["file"].as_str()), (Some(true), Some("my sour.toml")));
    assert_eq!(fs::read_to_string(live.file("my sour.toml")).expect("a file"), text);
}
