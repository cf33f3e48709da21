//! What is built, and of what: the package, and the oldest Rust that it promises.

use std::path::Path;
use std::process::Command;

use serde_json::Value;

/// Runs cargo on this project, with what is already on the machine.
fn cargo(arguments: &[&str]) -> String {
    let mut command = Command::new(env!("CARGO"));
    command.current_dir(env!("CARGO_MANIFEST_DIR")).args(arguments).arg("--offline");
    let output = command.output().expect("cargo");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).expect("text")
}

fn version(text: &str) -> [u32; 3] {
    let mut numbers = text.split('.').map(|part| part.parse().expect("a number"));
    [0; 3].map(|zero| numbers.next().unwrap_or(zero))
}

/// No crate asks for a newer Rust than the manifest promises. Whether the code itself does, `.ci/oldest` finds
/// out; the promised Rust is not on every machine.
#[test]
fn no_crate_needs_a_newer_rust_than_is_promised() {
    let host = format!("--filter-platform={}-unknown-linux-gnu", std::env::consts::ARCH);
    let platform: &[&str] = if cfg!(target_os = "linux") { &[&host] } else { &[] };
    let text = cargo(&[&["metadata", "--format-version=1", "--locked"], platform].concat());
    let metadata: Value = serde_json::from_str(&text).expect("JSON");
    let promised = version(env!("CARGO_PKG_RUST_VERSION"));
    let packages = metadata["packages"].as_array().expect("packages");
    assert!(packages.len() > 50, "{}", packages.len());
    for package in packages {
        let Some(asked) = package["rust_version"].as_str() else { continue };
        assert!(version(asked) <= promised, "{} asks for Rust {asked}", package["name"]);
    }
    let [major, minor, _] = promised;
    let readme = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md"));
    assert!(readme.expect("the README").contains(&format!("It needs Rust {major}.{minor} or newer")));
}

/// The package holds the sources, the guides and the tests, and nothing of the house.
#[test]
fn the_package_holds_what_belongs() {
    let list = cargo(&["package", "--list", "--allow-dirty"]);
    let folders = [".build/", "src/", "tests/", "benches/", "problems-demo/", ".pictures/"];
    let files = [
        ".cargo_vcs_info.json",
        "CHANGELOG.md",
        "Cargo.lock",
        "Cargo.toml",
        "Cargo.toml.orig",
        "DEVELOPERS.md",
        "LICENSE",
        "README.md",
    ];
    for line in list.lines() {
        assert!(folders.iter().any(|folder| line.starts_with(folder)) || files.contains(&line), "{line}");
        assert!(!line.starts_with("tests/browser/"), "{line}");
    }
    for needed in ["src/lib.rs", ".build/commit.rs", "src/larder/larder.toml", "problems-demo/README.md"] {
        assert!(list.lines().any(|line| line == needed), "{needed}");
    }
    for needed in &files[1..] {
        assert!(list.lines().any(|line| line == *needed), "{needed}");
    }
}
