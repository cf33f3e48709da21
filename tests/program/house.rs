//! `washline new --from`, `measure`, `compare`, `--keep` and the house, as a user runs them.

use std::fs;

use serde_json::Value;
use unicode_width::UnicodeWidthStr;

use super::run::washline;

const LINE: &str = "50 ml aged rum, 25 ml lime juice, 20 ml sugar syrup 1:1";
const HOUSE: &str = "problems-demo/house.toml";

fn path(folder: &tempfile::TempDir, name: &str) -> String {
    folder.path().join(name).to_str().expect("UTF-8").to_owned()
}

/// A file was written: that is said beside the answer, of which there is none.
fn written(arguments: &[&str]) {
    let run = washline(arguments).go();
    assert_eq!((run.status, run.out.as_str()), (0, ""), "{}", run.err);
    assert!(run.err.starts_with("Wrote "), "{}", run.err);
}

#[test]
fn a_brief_from_a_line_solves_is_kept_and_compared() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = path(&folder, "sour.toml");
    written(&["new", &file, "--from", LINE, "--lighter", "12"]);
    let before = fs::read_to_string(&file).expect("written");
    washline(["spec", &file, "--keep", "lighter"]).go();
    washline(["spec", &file, "--keep", "lighter"]).go().refused();
    let after = fs::read_to_string(&file).expect("written");
    assert!(after.starts_with(before.trim_end()), "{after}");
    washline(["spec", &file, "--set", "targets.strength.max=11", "--keep", "lightest"]).go();
    let answer = washline(["compare", &file, "--format", "json"]).go().json(0);
    let names: Vec<&Value> = answer["specs"].as_array().expect("specs").iter().map(|s| &s["name"]).collect();
    assert_eq!(names, ["reference", "lighter", "lightest", "best now"]);
    let strength = |at: usize| answer["specs"][at]["spec"]["served"]["strength"].as_f64().expect("a figure");
    assert!(strength(0) > 12.0 && strength(1) <= 12.0 + 1e-6 && strength(2) <= 11.0 + 1e-6);
    assert_eq!(answer["specs"][1]["spec"], answer["specs"][3]["spec"]);
    for format in ["text", "markdown", "csv"] {
        assert!(
            washline(["compare", &file, "lightest", "--format", format])
                .go()
                .answered(0)
                .contains("lightest")
        );
    }
    let said = washline(["compare", &file, "lighest"]).go().refused();
    assert!(said.contains("it keeps lighter, lightest"), "{said}");
}

#[test]
fn the_house_is_named_from_the_brief_and_prices_it() {
    let folder = tempfile::tempdir().expect("a folder");
    fs::copy(HOUSE, folder.path().join("house.toml")).expect("copied");
    let (house, file) = (path(&folder, "house.toml"), path(&folder, "sour.toml"));
    let line = "50 ml Aged Rum, 25 ml juice of limes, 15 ml bay syrups";
    written(&["new", &file, "--from", line, "--house", &house, "--aim", "lowest cost", "--under", "2"]);
    let answer = washline(["spec", &file, "--format", "json"]).go().json(0);
    assert_eq!(answer["currency"], "GBP");
    assert!(answer["best"]["served"]["cost"].as_f64().is_some_and(|cost| cost <= 2.0));
}

#[test]
fn a_line_is_measured_in_every_format() {
    let run = |format: &str| {
        washline(["measure", "60 ml gin, 25 ml lemon juice, 20 ml sugar syrup 1:1", "--format", format]).go()
    };
    let answer = run("json").json(0);
    assert_eq!(answer["families"][0]["name"], "sour");
    assert_eq!(answer["families"][0]["inside"], true);
    // 60 ml of gin at 40 % vol are 24 ml of ethanol, whatever the ice does.
    let served = |key: &str| answer["served"][key].as_f64().expect("a figure");
    let share = answer["served"]["strength"].as_f64().expect("a figure") * served("volume") / 100.0;
    assert!((share - 24.0).abs() < 0.8, "{share}");
    for format in ["text", "markdown", "csv"] {
        let text = run(format).answered(0);
        assert!(text.contains("strength"), "{text}");
        assert!(format != "text" || text.lines().all(|line| line.width() <= 80), "{text}");
    }
    let said = washline(["measure", "60 ml gun, 25 ml lemon juice"]).go().refused();
    assert!(said.contains("did you mean") && said.contains("\"gin\""), "{said}");
}

#[test]
fn families_and_the_house_are_listed() {
    let answer = washline(["larder", "--families", "--format", "json"]).go().json(0);
    assert_eq!(answer["families"].as_array().map(Vec::len), Some(10));
    let text = washline(["larder", "--families"]).go().answered(0);
    assert!(text.contains("sour") && text.lines().all(|line| line.width() <= 80), "{text}");
    let syrups = washline(["larder", "syrup", "--house", HOUSE, "--format", "json"]).go().json(0);
    assert_eq!(
        (&syrups["ingredients"][0]["name"], &syrups["ingredients"][0]["from"]),
        (&"bay syrup".into(), &"house".into())
    );
    washline(["larder", "--house", HOUSE]).go().answered(0);
}

#[test]
fn a_fault_of_the_house_is_told_with_the_house_and_its_line() {
    let folder = tempfile::tempdir().expect("a folder");
    let (house, file) = (path(&folder, "house.toml"), path(&folder, "sour.toml"));
    let brief = "house = \"house.toml\"\n[serve]\nmethod = \"shake\"\n[targets]\nvolume = { max = 100 }\n[aim]\n\
                 lowest = \"volume\"\n[[candidate]]\nhouse = \"rum\"\n";
    fs::write(&file, brief).expect("written");
    let said = washline(["spec", &file]).go().refused();
    assert!(said.contains("there is no such file") && said.contains("sour.toml:1:9"), "{said}");
    fs::write(&house, "[[candidate]]\nname = \"rum\"\nstrength = 140\n").expect("written");
    let said = washline(["spec", &file]).go().refused();
    assert!(said.contains("house.toml:3:12"), "{said}");
}

#[test]
fn nothing_to_begin_with_is_said() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = path(&folder, "sour.toml");
    let said = washline(["new"]).go().refused();
    assert!(said.contains("no terminal"), "{said}");
    let said = washline(["new", &file, "--method", "stir"]).go().refused();
    assert!(said.contains("--from"), "{said}");
    let said = washline(["new", &file, "--from", "50 ml moon water, 20 ml star dust"]).go().refused();
    assert!(
        said.contains("moon water") && said.contains("star dust") && said.contains("strength = "),
        "{said}"
    );
    assert!(!std::path::Path::new(&file).exists());
    washline(["spec", "-", "--keep", "x"]).input(*b"title = 1").go().refused();
}
