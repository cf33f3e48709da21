//! The sources of the project, for the tests of how it is laid out.

use std::fs;
use std::path::{Path, PathBuf};

/// The top of the project.
pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every Rust file under a folder, in order, with its text.
pub fn sources(folder: &str) -> Vec<(PathBuf, String)> {
    let mut waiting = vec![root().join(folder)];
    let mut all = vec![];
    while let Some(folder) = waiting.pop() {
        let Ok(entries) = fs::read_dir(&folder) else { continue };
        for entry in entries {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                waiting.push(path);
            } else if path.extension().is_some_and(|e| e == "rs") {
                let text = fs::read_to_string(&path).expect("a source file");
                all.push((path.strip_prefix(root()).expect("a path in the crate").to_owned(), text));
            }
        }
    }
    assert!(folder == "benches" || !all.is_empty(), "no source in {folder}");
    all.sort();
    all
}
