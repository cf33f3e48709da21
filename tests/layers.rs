//! The order of the rooms, as a test: a lower room never looks into a higher one, and what touches
//! the world outside stays where it belongs.

use std::fs;
use std::path::Path;

mod sources;
use sources::{root, sources};

/// The rooms, lowest first. Rooms of one line do not know each other.
const ORDER: [&[&str]; 18] = [
    &["tolerance", "quantity", "finding"],
    &["liquid", "lp"],
    &["brief"],
    &["larder"],
    &["read"],
    &["proof", "simulate"],
    &["draft", "model"],
    &["free"],
    &["search"],
    &["solve"],
    &["prove"],
    &["explain", "batch", "calibrate", "learn"],
    &["scenario"],
    &["menu"],
    &["answer", "export"],
    &["render"],
    &["live"],
    &["cli"],
];

/// Where a crate, or a part of the standard library, may be named; `main` is the program.
const CONFINED: &[(&str, &[&str])] = &[
    ("nalgebra", &["calibrate", "learn"]),
    ("statrs", &["calibrate"]),
    // What a room finds out says itself how JSON spells it: the rooms above hold it as it is, and mirror nothing.
    (
        "serde",
        &[
            "quantity", "brief", "larder", "read", "explain", "batch", "learn", "scenario", "answer",
            "render", "live",
        ],
    ),
    ("good_lp", &["lp"]),
    ("toml", &["read", "larder"]),
    ("toml_edit", &["read"]),
    ("schemars", &["read"]),
    ("maud", &["render"]),
    ("csv", &["read", "render"]),
    ("textwrap", &["render"]),
    ("clap", &["cli"]),
    ("clap_complete", &["cli"]),
    ("clap_mangen", &["cli"]),
    ("indicatif", &["cli"]),
    ("dialoguer", &["cli"]),
    ("anstream", &["cli"]),
    ("terminal_size", &["cli"]),
    ("tempfile", &["cli"]),
    ("annotate_snippets", &["cli"]),
    ("nix", &["cli"]),
    ("axum", &["cli"]),
    ("tokio", &["cli"]),
    ("std::fs", &["cli"]),
    ("std::time", &["cli"]),
    ("std::env", &["cli", "main"]),
    ("std::io", &["cli", "main"]),
];

/// The longest that a file may be, in lines.
const LONGEST: usize = 400;

#[test]
fn every_room_keeps_to_the_order() {
    let mut faults = vec![];
    for (path, text) in sources("src") {
        faults.extend(
            faults_of(&room_of(&path), &text).into_iter().map(|f| format!("{}: {f}", path.display())),
        );
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn no_file_is_too_long() {
    let mut long = vec![];
    for folder in ["src", "tests", "benches"] {
        for (path, text) in sources(folder) {
            let lines = text.lines().count();
            if lines > LONGEST {
                long.push(format!("{}: {lines} lines", path.display()));
            }
        }
    }
    assert!(long.is_empty(), "split these:\n{}", long.join("\n"));
}

#[test]
fn nothing_is_unsafe() {
    let manifest = fs::read_to_string(root().join("Cargo.toml")).expect("the manifest");
    assert!(manifest.contains("unsafe_code = \"forbid\""));
    for (path, text) in sources("src") {
        assert!(!tokens(&text).iter().any(|t| t == "unsafe"), "{}", path.display());
    }
}

/// The test itself: each of these has to be caught.
#[test]
fn a_breach_is_caught() {
    for (room, text) in [
        ("liquid", "use crate::solve::Spec;"),
        ("liquid", "fn f() -> crate::brief::Brief { todo!() }"),
        ("quantity", "use crate::{finding::Finding, quantity};"),
        ("brief", "use crate::{\n    liquid::{Label, Portion},\n    larder,\n};"),
        ("batch", "use crate::explain::x;"),
        ("liquid", "use super::brief::Brief;"),
        ("solve", "use super::super::render::text;"),
        ("model", "use good_lp::Expression;"),
        ("solve", "let t = toml::from_str(text);"),
        ("solve", "use std::{collections::BTreeMap, time::Instant};"),
        ("render", "let text = ::std::fs::read_to_string(path);"),
        ("main", "use washline::solve::solve;"),
        ("attic", "fn f() {}"),
    ] {
        assert!(!faults_of(room, text).is_empty(), "{room}: {text}");
    }
}

/// And none of these may be.
#[test]
fn what_is_allowed_passes() {
    for (room, text) in [
        ("larder", "use crate::brief::Role; use toml::Table;"),
        ("solve", "use super::search; use crate::{brief::Brief, model, tolerance::MET};"),
        ("lp", "use good_lp::variables; // not crate::render"),
        ("model", "/* crate::cli */ let text = \"crate::cli\"; let raw = r#\"std::fs \"#;"),
        ("render", "let toml = brief.toml(); let quote = '\"'; let life: &'static str = \"std::time\";"),
        ("cli", "use std::{fs, io::Write, time::Duration}; use crate::render::text;"),
        ("main", "fn main() -> std::process::ExitCode { washline::cli::run(std::env::args_os()) }"),
        ("lib", "pub mod cli; pub use crate::solve::Spec;"),
    ] {
        assert_eq!(faults_of(room, text), Vec::<String>::new(), "{room}: {text}");
    }
}

/// The room that a file of `src` stands in: `src/liquid/melt.rs` in `liquid`, `src/main.rs` in `main`.
fn room_of(path: &Path) -> String {
    let first = path.components().nth(1).expect("a path under src").as_os_str().to_string_lossy();
    first.trim_end_matches(".rs").to_owned()
}

fn rank(room: &str) -> Option<usize> {
    ORDER.iter().position(|rooms| rooms.contains(&room))
}

/// What a file breaks.
fn faults_of(room: &str, text: &str) -> Vec<String> {
    let tokens = tokens(text);
    let mut faults = vec![];
    if !matches!(room, "lib" | "main") && rank(room).is_none() {
        faults.push(format!("no room is called {room}"));
    }
    for seen in rooms_seen(&tokens) {
        let allowed = match room {
            "lib" => true,
            "main" => seen == "cli",
            _ => seen == room || rank(&seen) < rank(room),
        };
        if !allowed {
            faults.push(format!("{room} looks into {seen}"));
        }
    }
    for (what, rooms) in CONFINED.iter().copied() {
        if !rooms.contains(&room) && names(&tokens, what) {
            faults.push(format!("{what} is named in {room}"));
        }
    }
    faults
}

/// Rooms that a path of the file leads to, by `crate::`, the crate's own name or a chain of `super::`.
fn rooms_seen(tokens: &[String]) -> Vec<String> {
    let mut all = heads(tokens, "crate");
    all.extend(heads(tokens, "washline"));
    all.extend(heads(tokens, "super"));
    all.retain(|name| rank(name).is_some());
    all
}

/// Whether a crate (`toml`) or a module of one (`std::fs`) is named as a path.
fn names(tokens: &[String], what: &str) -> bool {
    match what.split_once("::") {
        Some((first, second)) => heads(tokens, first).iter().any(|head| head == second),
        None => (0..tokens.len()).any(|at| {
            let before = at.checked_sub(1).map(|at| tokens[at].as_str());
            let after = tokens.get(at + 1).map(String::as_str);
            tokens[at] == what && before != Some(".") && (after == Some("::") || before == Some("use"))
        }),
    }
}

/// What follows `first::`, one by one where it is a group: `a` and `b` of `first::{a::x, b}`.
fn heads(tokens: &[String], first: &str) -> Vec<String> {
    let mut all = vec![];
    for at in 0..tokens.len() {
        if tokens[at] != first || tokens.get(at + 1).is_none_or(|t| t != "::") {
            continue;
        }
        match tokens.get(at + 2).map(String::as_str) {
            Some("{") => all.extend(group(&tokens[at + 3..])),
            Some(head) => all.push(head.to_owned()),
            None => {}
        }
    }
    all
}

/// The first name of every member of a `{…}` group, from behind its brace.
fn group(tokens: &[String]) -> Vec<String> {
    let mut depth = 0;
    let mut fresh = true;
    let mut all = vec![];
    for token in tokens {
        match token.as_str() {
            "{" => depth += 1,
            "}" if depth == 0 => break,
            "}" => depth -= 1,
            "," if depth == 0 => fresh = true,
            name if fresh => {
                all.push(name.to_owned());
                fresh = false;
            }
            _ => {}
        }
    }
    all
}

/// Words, `::` and other marks of a file, without comments and literals.
fn tokens(text: &str) -> Vec<String> {
    let chars: Vec<char> = text.chars().collect();
    let mut all = vec![];
    let mut at = 0;
    while at < chars.len() {
        if let Some(end) = skipped(&chars, at) {
            at = end;
        } else if chars[at].is_alphanumeric() || chars[at] == '_' {
            let end = (at..chars.len()).find(|&i| !(chars[i].is_alphanumeric() || chars[i] == '_'));
            let end = end.unwrap_or(chars.len());
            all.push(chars[at..end].iter().collect());
            at = end;
        } else if chars[at..].starts_with(&[':', ':']) {
            all.push("::".to_owned());
            at += 2;
        } else {
            if !chars[at].is_whitespace() {
                all.push(chars[at].to_string());
            }
            at += 1;
        }
    }
    all
}

/// Where a comment or a literal that begins here ends.
fn skipped(chars: &[char], at: usize) -> Option<usize> {
    let rest = &chars[at..];
    let word_before = at > 0 && (chars[at - 1].is_alphanumeric() || chars[at - 1] == '_');
    if rest.starts_with(&['/', '/']) {
        return Some(at + rest.iter().position(|&c| c == '\n').unwrap_or(rest.len()));
    }
    if rest.starts_with(&['/', '*']) {
        return Some(block_end(chars, at + 2));
    }
    if rest[0] == 'r' && !word_before {
        let hashes = rest[1..].iter().take_while(|&&c| c == '#').count();
        if rest.get(1 + hashes) == Some(&'"') {
            return Some(raw_end(chars, at + 2 + hashes, hashes));
        }
    }
    match rest[0] {
        '"' => Some(quote_end(chars, at + 1, '"')),
        // A lifetime has no second quote after one character.
        '\'' if rest.get(1) == Some(&'\\') || rest.get(2) == Some(&'\'') => {
            Some(quote_end(chars, at + 1, '\''))
        }
        _ => None,
    }
}

fn quote_end(chars: &[char], mut at: usize, quote: char) -> usize {
    while at < chars.len() && chars[at] != quote {
        at += if chars[at] == '\\' { 2 } else { 1 };
    }
    at + 1
}

fn raw_end(chars: &[char], mut at: usize, hashes: usize) -> usize {
    let closes = |at: usize| {
        chars[at] == '"' && chars[at + 1..].iter().take(hashes).filter(|&&c| c == '#').count() == hashes
    };
    while at < chars.len() && !closes(at) {
        at += 1;
    }
    at + 1 + hashes
}

fn block_end(chars: &[char], mut at: usize) -> usize {
    let mut depth = 1;
    while at < chars.len() && depth > 0 {
        if chars[at..].starts_with(&['/', '*']) {
            (depth, at) = (depth + 1, at + 2);
        } else if chars[at..].starts_with(&['*', '/']) {
            (depth, at) = (depth - 1, at + 2);
        } else {
            at += 1;
        }
    }
    at
}
