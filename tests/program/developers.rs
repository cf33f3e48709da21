//! What the guides for contributors name is there: files, rooms, targets, tolerances.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use super::readme::text_of;

/// Every file and folder of the project, as a path from its top.
fn paths() -> Vec<String> {
    let top = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut waiting = vec![top.to_owned()];
    let mut all = vec![];
    while let Some(folder) = waiting.pop() {
        for entry in fs::read_dir(folder).expect("a folder") {
            let path = entry.expect("an entry").path();
            let name = path.strip_prefix(top).expect("a path in the project").to_string_lossy().into_owned();
            if ["target", ".git", "node_modules"].iter().any(|skipped| name.ends_with(skipped)) {
                continue;
            }
            if path.is_dir() {
                all.push(format!("/{name}/"));
                waiting.push(path);
            } else {
                all.push(format!("/{name}"));
            }
        }
    }
    all
}

/// The guide, and the two logs of what was measured and of what was tested.
const GUIDES: [&str; 3] = ["DEVELOPERS.md", "benches/README.md", "tests/README.md"];

fn guides() -> String {
    GUIDES.map(text_of).join("\n")
}

/// Quoted pieces of a text, and the words of the map.
fn pieces(text: &str) -> Vec<&str> {
    let map = text.split("```text").nth(1).and_then(|rest| rest.split("```").next()).expect("the map");
    let quoted = text.split('`').skip(1).step_by(2);
    quoted.chain(map.split(|c: char| c.is_whitespace() || matches!(c, ',' | ':' | '(' | ')'))).collect()
}

/// Whether a piece is the name of a file or of a folder.
fn is_path(piece: &str) -> bool {
    let plain = piece.chars().all(|c| c.is_ascii_alphanumeric() || "/._-".contains(c));
    let ending = Path::new(piece).extension().is_some_and(|e| e == "rs" || e == "toml" || e == "md");
    plain && (ending || (piece.ends_with('/') && piece.len() > 1) || piece.starts_with(".ci/"))
}

#[test]
fn every_file_that_is_named_is_there() {
    let (text, paths) = (guides(), paths());
    let named: Vec<&str> = pieces(&text).into_iter().filter(|piece| is_path(piece)).collect();
    // In a package the scripts of the house are left out.
    let packaged = !paths.contains(&"/.ci/".to_owned());
    let missing: Vec<&str> = named
        .iter()
        .filter(|name| !(packaged && (name.starts_with(".ci/") || **name == "deny.toml")))
        .filter(|name| !paths.iter().any(|path| path.ends_with(&format!("/{name}"))))
        .copied()
        .collect();
    assert!(named.len() >= 30, "{named:?}");
    assert!(missing.is_empty(), "{missing:?}");
}

#[test]
fn every_target_that_is_named_is_there() {
    let (text, paths) = (guides(), paths());
    let words: Vec<&str> = text.split(|c: char| c.is_whitespace() || c == '`').collect();
    let mut named = 0;
    for pair in words.windows(2) {
        let folder = match pair[0] {
            "--test" => "tests",
            "--bench" => "benches",
            _ => continue,
        };
        named += 1;
        let there = [format!("/{folder}/{}.rs", pair[1]), format!("/{folder}/{}/main.rs", pair[1])];
        assert!(there.iter().any(|path| paths.contains(path)), "{pair:?}");
    }
    assert!(named >= 8, "{named}");
}

/// The table of tolerances and the constants are the same, one by one.
#[test]
fn every_tolerance_is_in_the_table_with_its_value() {
    let source = text_of("src/tolerance.rs");
    let constant = |line: &str| {
        let (name, value) = line.strip_prefix("pub const ")?.split_once(": f64 = ")?;
        Some((name.to_owned(), value.trim_end_matches(';').to_owned()))
    };
    let set: BTreeMap<String, String> = source.lines().filter_map(constant).collect();
    let text = text_of("tests/README.md");
    let table = text.split("## Numbers that decide").nth(1).and_then(|rest| rest.split("\n## ").next());
    let mut told = BTreeMap::new();
    for row in table.expect("the table").lines().filter(|line| line.starts_with("| `")) {
        let cells: Vec<&str> = row.trim_matches('|').split(" | ").collect();
        for name in cells[0].split('`').skip(1).step_by(2) {
            told.insert(name.to_owned(), cells[cells.len() - 1].trim().to_owned());
        }
    }
    assert_eq!(told, set);
}

/// A guide that nobody reads to its end guides nobody.
#[test]
fn the_guide_has_two_screens() {
    let lines = text_of("DEVELOPERS.md").lines().count();
    assert!(lines <= 130, "{lines} lines");
}
