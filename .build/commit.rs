//! Cargo runs this before it builds washline: of which commit the program is, for `washline --version`.
//!
//! Only a release build is told, since every target has to be built again when the commit changes. The
//! answer depends on nothing but the sources, so two builds of one commit are the same to the byte.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::{env, fs};

/// What the program is built from, beside its dependencies.
const SOURCES: [&str; 4] = [".build", "src", "Cargo.toml", "Cargo.lock"];

#[expect(clippy::print_stdout, reason = "that is how cargo listens")]
fn main() {
    println!("cargo::rerun-if-changed=.build/commit.rs");
    let root = PathBuf::from(env::var_os("CARGO_MANIFEST_DIR").unwrap_or_default());
    let mut commit = None;
    if env::var("PROFILE").is_ok_and(|profile| profile == "release") {
        for path in watched(&root) {
            println!("cargo::rerun-if-changed={}", path.display());
        }
        commit = of_package(&root).or_else(|| of_git(&root));
    }
    let bracket = commit.map_or_else(String::new, |commit| format!(" ({commit})"));
    println!("cargo::rustc-env=WASHLINE_COMMIT={bracket}");
}

/// What changes when the answer may change. A file that is not there would mean building every time.
fn watched(root: &Path) -> Vec<PathBuf> {
    let in_git = ["HEAD", "logs/HEAD"].map(|name| git(root, &["rev-parse", "--git-path", name]));
    let sources = SOURCES.map(|name| root.join(name));
    let paths = in_git.into_iter().flatten().map(|path| root.join(path)).chain(sources);
    paths.filter(|path| path.exists()).collect()
}

/// The commit that `cargo package` wrote down.
pub fn of_package(root: &Path) -> Option<String> {
    let text = fs::read_to_string(root.join(".cargo_vcs_info.json")).ok()?;
    let hash = text.split("\"sha1\"").nth(1)?.split('"').nth(1)?;
    Some(format!("{}{}", short(hash)?, changed(text.contains("\"dirty\": true"))))
}

/// The commit that is checked out, and its date.
pub fn of_git(root: &Path) -> Option<String> {
    let line = git(root, &["log", "-1", "--format=%H %cs"])?;
    let (hash, date) = line.split_once(' ')?;
    let since = git(root, &[&["status", "--porcelain", "--"], &SOURCES[..]].concat())?;
    Some(format!("{} {date}{}", short(hash)?, changed(!since.is_empty())))
}

fn short(hash: &str) -> Option<&str> {
    hash.get(..9).filter(|start| start.bytes().all(|byte| byte.is_ascii_hexdigit()))
}

fn changed(changed: bool) -> &'static str {
    if changed { ", with changes" } else { "" }
}

/// What git says of the repository in `root`, and of none around it. Without git, or with an error: nothing.
fn git(root: &Path, arguments: &[&str]) -> Option<String> {
    if !root.join(".git").exists() {
        return None;
    }
    let mut command = Command::new("git");
    command.arg("--no-optional-locks").args(arguments).current_dir(root);
    for variable in ["GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE"] {
        command.env_remove(variable);
    }
    let output = command.output().ok().filter(|output| output.status.success())?;
    String::from_utf8(output.stdout).ok().map(|text| text.trim_end().to_owned())
}
