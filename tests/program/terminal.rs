//! Pipes, colour, help and the other commands.

use unicode_width::UnicodeWidthStr;

use super::run::washline;

const DEMO: &str = "problems-demo/highball.toml";

#[test]
fn colour_is_for_terminals_unless_it_is_asked_for() {
    let plain = washline(["spec", DEMO]).go().answered(0);
    assert!(!plain.contains('\u{1b}'));
    let forced = washline(["spec", DEMO]).variable("CLICOLOR_FORCE", "1").go().answered(0);
    assert!(forced.contains('\u{1b}'));
    let refused =
        washline(["spec", DEMO]).variable("CLICOLOR_FORCE", "1").variable("NO_COLOR", "1").go().answered(0);
    assert_eq!(refused, plain);
}

#[test]
fn a_reader_that_has_seen_enough_is_no_fault() {
    for arguments in [&["larder", "--sources"][..], &["spec", DEMO], &["schema"], &["--help"]] {
        let run = washline(arguments).go_unread();
        assert_eq!((run.status, run.err.as_str()), (0, ""), "{arguments:?}");
    }
}

#[test]
fn help_is_an_answer() {
    let help = washline(["--help"]).go().answered(0);
    for command in
        ["spec", "check", "sweep", "batch", "larder", "model", "schema", "new", "manual", "completions"]
    {
        assert!(help.contains(command), "{command}");
    }
}

#[test]
fn the_schema_accepts_the_demos() {
    let schema = washline(["schema"]).go().json(0);
    let validator = jsonschema::validator_for(&schema).expect("a schema");
    for demo in ["low-strength", "stirred-budget", "too-much"] {
        let path = format!("{}/problems-demo/{demo}.toml", env!("CARGO_MANIFEST_DIR"));
        let text = std::fs::read_to_string(path).expect("a demo");
        let value: toml::Value = toml::from_str(&text).expect("TOML");
        let json = serde_json::to_value(value).expect("JSON");
        let faults: Vec<String> = validator.iter_errors(&json).map(|e| e.to_string()).collect();
        assert!(faults.is_empty(), "{demo}: {faults:?}");
    }
}

#[test]
fn the_larder_is_listed_in_every_format() {
    let names = |format: &str| washline(["larder", "rum", "--format", format]).go().answered(0);
    for format in ["text", "json", "markdown", "csv"] {
        assert!(names(format).contains("aged rum"), "{format}");
        assert!(!names(format).contains("lime juice"), "{format}");
    }
    let all = washline(["larder", "--format", "json"]).go().json(0);
    assert!(all["ingredients"].as_array().expect("a list").len() >= 120);
    // Sources and what their licences ask for.
    let sources = washline(["larder", "verjus", "--sources"]).go().answered(0);
    assert!(sources.contains("Source:") && sources.contains("Open Government Licence"), "{sources}");
}

#[test]
fn larder_text_fits_80_columns() {
    for arguments in [&["larder"][..], &["larder", "--sources"]] {
        let text = washline(arguments).go().answered(0);
        assert!(text.lines().all(|line| line.width() <= 80));
    }
}

#[test]
fn whatever_the_names_no_line_is_wider_than_80_columns() {
    let brief = "tests/browser/hostile.toml";
    let sweep = ["sweep", brief, "--over", "targets.strength.max=3..9", "--steps", "7"];
    for (arguments, status) in [
        (&["spec", brief][..], 0),
        (&["spec", brief, "--set", "targets.strength.min=30", "--set", "targets.strength.max=31"], 1),
        (
            &[
                "check",
                brief,
                "20 ml <script>alert(1)</script>, 10 ml מיץ לימון טרי عصير, 5 ml 🍋🧊👩‍🍳🍹 syrup",
            ],
            1,
        ),
        (&["batch", brief, "--serves", "12"], 0),
        (&sweep, 0),
    ] {
        let text = washline(arguments).go().answered(status);
        let wide: Vec<&str> = text.lines().filter(|line| line.width() > 80).collect();
        assert!(wide.is_empty(), "{arguments:?}: {wide:#?}");
    }
}

#[cfg(unix)]
#[test]
fn a_run_that_is_stopped_leaves_no_file() {
    use std::process::{Command, Stdio};
    let folder = tempfile::tempdir().expect("a folder");
    let file = |name: &str| folder.path().join(name);
    let over = ["--over", "targets.strength.max=8..16", "--steps", "10000"];
    let mut child = Command::new(env!("CARGO_BIN_EXE_washline"))
        .args(["sweep", "problems-demo/low-strength.toml"])
        .args(over)
        .arg("--report")
        .arg(file("page.html"))
        .arg("--write")
        .arg(file("answer.txt"))
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("the program starts");
    std::thread::sleep(std::time::Duration::from_millis(300));
    assert!(child.try_wait().expect("a state").is_none(), "it is at work");
    // Ctrl-C and this end it alike; but a shell lets what runs in the background ignore Ctrl-C.
    let sent = Command::new("kill").args(["-TERM", &child.id().to_string()]).status().expect("kill");
    assert!(sent.success());
    let ended = child.wait().expect("an end");
    assert!(!ended.success(), "{ended}");
    let left: Vec<_> = std::fs::read_dir(folder.path()).expect("the folder").collect();
    assert!(left.is_empty(), "{left:?}");
}
