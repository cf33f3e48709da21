//! `washline new`: whole or not at all, and never over a file.

use std::fs;

use super::run::washline;

#[test]
fn a_new_brief_is_written_and_solves() {
    let folder = tempfile::tempdir().expect("a folder");
    let run = washline(["new", "mine.toml"]).folder(folder.path()).go();
    assert_eq!((run.status, run.out.as_str()), (0, ""));
    assert_eq!(run.err, "Wrote mine.toml. Change it, then: washline spec mine.toml\n");
    let names: Vec<_> =
        fs::read_dir(folder.path()).expect("a folder").map(|e| e.expect("an entry").file_name()).collect();
    assert_eq!(names, ["mine.toml"]);
    let answer = washline(["spec", "mine.toml", "--format", "json"]).folder(folder.path()).go().json(0);
    assert_eq!(answer["outcome"], "found");
}

#[test]
fn a_file_that_is_there_is_left_alone() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("mine.toml");
    fs::write(&path, "mine").expect("a file");
    let said = washline(["new", "mine.toml"]).folder(folder.path()).go().refused();
    assert!(said.contains("cannot write mine.toml: it exists already"), "{said}");
    assert_eq!(fs::read_to_string(&path).expect("a file"), "mine");
    assert_eq!(fs::read_dir(folder.path()).expect("a folder").count(), 1);
}

#[test]
fn a_folder_that_is_not_there() {
    let folder = tempfile::tempdir().expect("a folder");
    let said = washline(["new", "no/such/mine.toml"]).folder(folder.path()).go().refused();
    assert!(said.contains("there is no such folder"), "{said}");
}

#[test]
fn substitutes_have_a_page() {
    let folder = tempfile::tempdir().expect("a folder");
    let page = folder.path().join("page.html");
    let path = page.to_str().expect("a plain path");
    let demo = "problems-demo/sweetener-swap.toml";
    let run = washline(["spec", demo, "--swap", "sugar syrup 1:1=?", "--report", path]).go();
    assert_eq!(run.status, 0, "{}", run.err);
    let page = fs::read_to_string(&page).expect("the page");
    assert!(page.len() < 200_000, "{}", page.len());
    for word in ["Choose a row", "fructose syrup", "In place of sugar syrup 1:1"] {
        assert!(page.contains(word), "{word}");
    }
    // What the text ranks first is what the page ranks first.
    let ranked = washline(["spec", demo, "--swap", "sugar syrup 1:1=?", "--format", "json"]).go().json(0);
    let first = ranked["ranked"][0]["in"].as_str().expect("a name");
    let row = page.split_once("id=\"pick-0\"").expect("a first row").1;
    let row = row.split_once("</label>").expect("an end").0;
    assert!(row.contains(&format!("<bdi>{first}</bdi>")), "{first}: {row}");
}
