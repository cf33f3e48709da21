//! The inputs that the fuzzer found worth keeping (`tests/fuzz`), tried without it.

use std::path::{Path, PathBuf};
use std::time::Duration;

use washline::read::starter;

use super::{checks, shown, values};

/// A search that needs longer is given up.
const PATIENCE: Duration = Duration::from_secs(5);

/// Tries the inputs of a target, and says what is wrong with any.
fn try_all(target: &str, check: impl Fn(&[u8]) -> Result<(), String>) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/mutator/corpus").join(target);
    let mut paths: Vec<PathBuf> =
        std::fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path()).collect();
    paths.sort();
    assert!(!paths.is_empty(), "no inputs for {target}");
    let faults: Vec<String> = paths
        .iter()
        .filter_map(|path| {
            let bytes = std::fs::read(path).expect("an input");
            check(&bytes).err().map(|fault| format!("{}: {fault}", path.display()))
        })
        .collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// A target that takes text is given none else.
fn text(bytes: &[u8]) -> &str {
    std::str::from_utf8(bytes).unwrap_or_default()
}

#[test]
fn no_kept_file_breaks_the_reader() {
    try_all("file", checks::file);
}

#[test]
fn no_kept_word_breaks_an_amount_a_price_or_a_line() {
    let brief = checks::plain();
    try_all("words", |bytes| checks::word(text(bytes)).and_then(|()| checks::line(&brief, text(bytes))));
}

#[test]
fn no_kept_change_breaks_the_reader() {
    try_all("changes", |bytes| {
        let text = text(bytes);
        checks::changed(starter().as_bytes(), &checks::changes(text))
            .and_then(|()| checks::key(text.lines().next().unwrap_or_default()))
    });
}

#[test]
fn no_kept_brief_breaks_an_answer() {
    try_all("answer", |bytes| shown::answer(&values::spelt(bytes), PATIENCE).map(drop));
}
