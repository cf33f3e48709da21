//! What is wrong on the command line is told on standard error, with status 2.

use super::run::washline;

const DEMO: &str = "problems-demo/low-strength.toml";

#[test]
fn a_file_that_is_not_there() {
    let said = washline(["spec", "no-such-brief.toml"]).go().refused();
    assert!(said.contains("cannot read no-such-brief.toml: there is no such file"), "{said}");
    assert!(said.contains("washline new FILE"), "{said}");
}

#[test]
fn a_directory() {
    let said = washline(["spec", "problems-demo"]).go().refused();
    assert!(said.contains("cannot read problems-demo: it is a directory"), "{said}");
}

#[test]
fn bytes_that_are_no_text() {
    washline(["spec", "-"]).input(*b"title = \"\xff\xfe\"").go().refused();
}

#[test]
fn nothing_at_all() {
    washline(["spec", "-"]).go().refused();
}

#[test]
fn arguments_that_mean_nothing() {
    let runs: [&[&str]; 8] = [
        &[],
        &["pour"],
        &["spec"],
        &["spec", DEMO, "--format", "pdf"],
        &["spec", DEMO, "--set", "strength"],
        &["spec", DEMO, "--time-limit", "-1"],
        &["spec", DEMO, "--time-limit", "nan"],
        &["check", DEMO],
    ];
    for arguments in runs {
        let said = washline(arguments).go().refused();
        assert!(said.to_lowercase().contains("usage") || said.contains("error"), "{arguments:?}: {said}");
    }
}

#[test]
fn a_spec_line_is_told_all_its_faults_at_once() {
    let line = "20 ml aged rom; lime juice, 5 g verjus, 5 ml verjus, 0 ml bay syrup, -1 ml honey";
    let said = washline(["check", DEMO, line]).go().refused();
    for part in [
        "the brief has no ingredient `aged rom`",
        "did you mean `aged rum`?",
        "`lime juice` has no amount before it",
        "verjus is measured in ml, not in g",
        "`0 ml bay syrup` pours nothing",
        "`-1` is negative",
    ] {
        assert!(said.contains(part), "{part} is not in\n{said}");
    }
}

#[test]
fn a_word_that_the_larder_does_not_know() {
    let said = washline(["larder", "lyme", "juice"]).go().refused();
    assert!(said.contains("nothing in the larder goes by `lyme juice`"), "{said}");
    assert!(said.contains("did you mean `lime juice`?"), "{said}");
}
