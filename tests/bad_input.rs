//! Bad input: one golden file per finding code, drawn as a user sees it, and what no file can hold.
//!
//! `tests/bad/NAME.toml` is the brief, `NAME.expected` what is said about it. Lines `# --set KEY=VALUE`
//! are settings. After a change of words: `REDRAW=1 cargo test --test bad_input`, then read the diff.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use washline::cli::draw::draw;
use washline::finding::Finding;
use washline::read::{Setting, codes, read};
use washline::report::Colour;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/bad")
}

fn bad_files() -> Vec<PathBuf> {
    let entries = fs::read_dir(folder()).expect("tests/bad");
    let mut files: Vec<_> = entries.map(|e| e.expect("an entry").path()).collect();
    files.retain(|path| path.extension().is_some_and(|e| e == "toml"));
    files.sort();
    files
}

fn settings(text: &str) -> Vec<Setting> {
    let given = text.lines().filter_map(|line| line.strip_prefix("# --set ")?.split_once('='));
    given.map(|(key, value)| Setting { key: key.to_owned(), value: value.to_owned() }).collect()
}

/// Errors, or the warnings of a brief that can be used.
fn findings(bytes: &[u8], settings: &[Setting]) -> Vec<Finding> {
    read(bytes, settings).map_or_else(|errors| errors, |reading| reading.warnings)
}

#[test]
fn every_bad_file_is_told_as_expected() {
    for path in bad_files() {
        let bytes = fs::read(&path).expect("a file");
        let text = String::from_utf8_lossy(&bytes);
        let name = path.file_name().expect("a name").to_string_lossy();
        let drawn = draw(&findings(&bytes, &settings(&text)), &name, &text, Colour::Plain);
        let expected = path.with_extension("expected");
        if std::env::var_os("REDRAW").is_some() {
            fs::write(&expected, &drawn).expect("written");
        }
        assert_eq!(drawn, fs::read_to_string(&expected).expect("an expected file"), "{name}");
        assert!(!drawn.is_empty(), "{name} has no finding");
    }
}

#[test]
fn every_code_has_a_bad_file() {
    let mut found = BTreeSet::new();
    for path in bad_files() {
        let bytes = fs::read(&path).expect("a file");
        let text = String::from_utf8_lossy(&bytes);
        found.extend(findings(&bytes, &settings(&text)).iter().map(|f| f.code));
    }
    // Files of megabytes are made below instead of kept; what is not built yet gets less with each release.
    let made = [codes::TOO_LARGE, codes::TOO_MANY, codes::NOT_BUILT_YET];
    let lacking: Vec<_> =
        codes::ALL.iter().filter(|code| !found.contains(*code) && !made.contains(code)).collect();
    assert!(lacking.is_empty(), "no file in tests/bad shows {lacking:?}");
    assert!(found.iter().all(|code| codes::ALL.contains(code)));
}
