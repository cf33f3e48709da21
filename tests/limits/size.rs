//! Large inputs under a ceiling on memory: a run that needs more is ended by the system, and fails here.

use std::fs;
use std::process::{Command, Output, Stdio};

use serde_json::Value;

use super::briefs::{SMALL, chain, shelf};
use crate::effort::one_in;
use crate::run::washline;

/// A run on a brief with no more address space than so many MB. Threads take theirs from one arena, so that
/// what is counted is what is used.
fn within(megabytes: usize, brief: &str, arguments: &[&str]) -> Output {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("brief.toml");
    fs::write(&path, brief).expect("a brief");
    let line = format!("ulimit -v {}; exec \"$0\" \"$@\"", megabytes * 1024);
    let mut command = Command::new("sh");
    command.args(["-c", &line, env!("CARGO_BIN_EXE_washline")]).args(arguments).arg(&path);
    command.env("MALLOC_ARENA_MAX", "1").stdin(Stdio::null());
    command.output().expect("a run")
}

#[track_caller]
fn ended(output: &Output, statuses: &[i32]) -> (String, String) {
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("UTF-8");
    let (out, err) = (text(&output.stdout), text(&output.stderr));
    let status = output.status.code();
    assert!(
        status.is_some_and(|s| statuses.contains(&s)),
        "{:?}: {}",
        output.status,
        &err[..err.len().min(900)]
    );
    (out, err)
}

#[track_caller]
fn refused(output: &Output, word: &str) {
    let (out, err) = ended(output, &[2]);
    assert!(
        out.is_empty() && err.contains(word) && err.contains("= help: "),
        "{}",
        &err[..err.len().min(900)]
    );
    assert!(err.len() < 40_000, "{} bytes of findings", err.len());
}

/// The ceiling itself: what needs more does not pass.
#[test]
fn the_ceiling_is_one() {
    let output = within(12, &shelf(1000), &["spec"]);
    assert!(!output.status.success(), "twelve megabytes were enough");
}

/// A shelf on which plenty can be poured comes with something good to pour, proved or not.
#[test]
fn a_thousand_candidates_come_with_a_spec() {
    let (out, _) = ended(&within(600, &shelf(1000), &["spec", "--format", "json"]), &[0, 3]);
    let answer: Value = serde_json::from_str(&out).expect("JSON");
    let spec = &answer["best"]["served"];
    for (target, min, max) in
        [("volume", 100.0, 140.0), ("strength", 9.0, 14.0), ("sugar", 50.0, 90.0), ("acid", 5.0, 9.0)]
    {
        let value = spec[target].as_f64().expect(target);
        assert!(min * (1.0 - 1e-9) <= value && value <= max * (1.0 + 1e-9), "{target} {value}");
    }
    let figure = |value: &Value| value.as_f64().expect("a figure");
    let (score, bound) = (figure(&answer["best"]["score"]), figure(&answer["bound"]));
    assert!(bound <= score && score <= 1.1 * bound, "{score} is far from {bound}");
    // Prices are looked into where a change is near; of the rest it is said.
    if answer["outcome"] == "found" {
        let sensitivity = &answer["sensitivity"];
        let asked = sensitivity["ingredients"].as_array().expect("a list").len();
        assert!(asked > 0 && asked as u64 + sensitivity["not_asked"].as_u64().expect("a count") == 1004);
    }
}

/// By hand: 60 g of sugar in 100 g, times 0.99 two hundred times, are 8.039 g; such a syrup weighs 1.030 g
/// a ml (the sucrose tables: 1.0298 at 8 %), so that it holds 82.8 g/L.
#[test]
fn two_hundred_preparations_deep() {
    let last = "100 ml syrup, let down 200 times";
    let line = ["check", "--format", "json", "--set", "serve.method=none"];
    let brief = chain(200).replace("title", "# title");
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("brief.toml");
    fs::write(&path, brief).expect("a brief");
    let path = path.to_str().expect("a plain path");
    let answer = washline(line.into_iter().chain([path, last])).go().json(1);
    let sugar = answer["spec"]["served"]["sugar"].as_f64().expect("sugar");
    assert!((sugar - 82.8).abs() < 0.1, "{sugar}");
    ended(&within(600, &chain(200 / one_in(4)), &["spec"]), &[0, 3]);
}

/// Preparations of two preparations each: a hundred of them would be more raw parts than there are atoms, if
/// they were counted one by one.
#[test]
fn preparations_that_branch_do_not_multiply() {
    let mut text = SMALL.to_owned();
    for at in 0..100 {
        let name = |at: usize| if at == 0 { "syrup".to_owned() } else { format!("mix {at}") };
        let before = [name(at), if at == 0 { "water".to_owned() } else { name(at - 1) }];
        text += &format!(
            "[[candidate]]\nname = \"mix {}\"\nmade = {{ by = \"weight\", parts = {{ \"{}\" = 1, \"{}\" = 1 }} }}\n",
            at + 1,
            before[0],
            before[1]
        );
    }
    ended(&within(600, &text, &["spec"]), &[0, 3]);
}

#[test]
fn files_of_megabytes_are_refused_or_read() {
    let comment = format!("# {}\n", "x".repeat(98));
    refused(&within(100, &(SMALL.to_owned() + &comment.repeat(104_000)), &["spec"]), "[too-large]");
    ended(&within(100, &(SMALL.to_owned() + &comment.repeat(35_000)), &["spec"]), &[0]);
    let title = |length: usize| SMALL.replace("Corner", &"x".repeat(length));
    refused(&within(100, &title(5_000_000), &["spec"]), "[too-large]");
    ended(&within(200, &title(3_500_000), &["check", "--format", "json"]), &[2]);
    ended(&within(300, &title(3_500_000), &["model", "--as", "lp"]), &[0]);
}

#[test]
fn a_million_keys_are_refused() {
    let keys = |count: usize| (0..count).map(|at| format!("k{at}=1\n")).collect::<String>();
    refused(&within(200, &(SMALL.to_owned() + &keys(1_000_000)), &["spec"]), "[too-large]");
    // As many as there is room for.
    refused(&within(500, &(SMALL.to_owned() + &keys(400_000 / one_in(8))), &["spec"]), "[unknown-key]");
    let targets = SMALL.replace("[aim]", &(keys(300_000 / one_in(8)) + "[aim]"));
    refused(&within(700, &targets, &["spec"]), "[unknown-key]");
}

#[test]
fn what_is_nested_too_deep_is_refused() {
    for deep in [
        format!("x = {}{}", "[".repeat(1_000_000), "]".repeat(1_000_000)),
        format!("x = {}1{}", "{a=".repeat(300_000), "}".repeat(300_000)),
        format!("x.{} = 1", vec!["a"; 1_000_000].join(".")),
        format!("[{}]\nb = 1", vec!["a"; 1_000_000].join(".")),
    ] {
        refused(&within(400, &(SMALL.to_owned() + &deep + "\n"), &["spec"]), "nested too deep");
    }
}

/// A hundred thousand points are more than anybody looks at; ten thousand are written down.
#[test]
fn a_sweep_of_very_many_points() {
    let over = ["sweep", "--over", "targets.strength.max=10..14"];
    let steps = |count: &'static str| over.into_iter().chain(["--steps", count]).collect::<Vec<_>>();
    refused(&within(100, SMALL, &steps("100000")), "from 2 to 10000 points");
    let mut stopped = steps("10000");
    stopped.extend(["--time-limit", "0", "--format", "csv"]);
    let (out, _) = ended(&within(300, SMALL, &stopped), &[3]);
    assert!(out.lines().count() > 10_000, "{} lines", out.lines().count());
}
