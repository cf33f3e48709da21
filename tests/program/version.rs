//! `washline --version`: of which commit a release build is, whatever it is built from.

use std::fs;
use std::path::Path;
use std::process::Command;

use super::run::washline;

#[path = "../../.build/commit.rs"]
#[expect(dead_code, reason = "cargo runs the rest")]
mod commit;

use commit::{of_git, of_package};

/// Runs git as somebody on a day of ours, whatever the machine is set to.
fn git(folder: &Path, arguments: &[&str]) -> String {
    let mut command = Command::new("git");
    command.current_dir(folder).args(["-c", "user.name=Nobody", "-c", "user.email=nobody@example.org"]);
    command.args(arguments).env("GIT_CONFIG_GLOBAL", "/dev/null").env("GIT_CONFIG_SYSTEM", "/dev/null");
    command.env("GIT_AUTHOR_DATE", "2026-05-04T12:00:00Z").env("GIT_COMMITTER_DATE", "2026-05-06T23:30:00Z");
    let output = command.output().expect("git");
    assert!(output.status.success(), "{output:?}");
    String::from_utf8(output.stdout).expect("text").trim_end().to_owned()
}

/// A folder with one commit of what a program is built from.
fn repository() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    git(folder.path(), &["init", "--quiet"]);
    fs::create_dir(folder.path().join("src")).expect("a folder");
    fs::write(folder.path().join("src/lib.rs"), "// a").expect("a file");
    git(folder.path(), &["add", "src"]);
    git(folder.path(), &["commit", "--quiet", "--message", "a"]);
    folder
}

#[test]
fn the_version_is_that_of_the_manifest() {
    let run = washline(["--version"]).go();
    let said = run.answered(0);
    let plain = concat!("washline ", env!("CARGO_PKG_VERSION"));
    let rest = said.strip_prefix(plain).and_then(|rest| rest.strip_suffix('\n')).expect("the version");
    let built = Path::new(env!("CARGO_BIN_EXE_washline"));
    if built.iter().all(|folder| folder != "release") {
        assert_eq!(rest, "", "a build for tests is not built again for each commit");
    } else {
        let commit = rest.strip_prefix(" (").and_then(|rest| rest.strip_suffix(')'));
        assert!(rest.is_empty() || commit.is_some_and(|c| c.len() >= 9), "{rest}");
    }
}

#[test]
fn a_checkout_names_its_commit_and_its_day() {
    let folder = repository();
    let hash = git(folder.path(), &["rev-parse", "HEAD"]);
    assert_eq!(of_git(folder.path()), Some(format!("{} 2026-05-06", &hash[..9])));
    // What is no part of the program changes nothing.
    fs::write(folder.path().join("notes"), "b").expect("a file");
    assert_eq!(of_git(folder.path()), Some(format!("{} 2026-05-06", &hash[..9])));
}

#[test]
fn changes_are_not_hidden() {
    for file in ["src/lib.rs", "src/new.rs", "Cargo.toml"] {
        let folder = repository();
        fs::write(folder.path().join(file), "// b").expect("a file");
        let said = of_git(folder.path()).expect("a commit");
        assert!(said.ends_with(" 2026-05-06, with changes"), "{file}: {said}");
    }
}

#[test]
fn an_unpacked_archive_does_not_borrow_the_commit_around_it() {
    let folder = repository();
    let inside = folder.path().join("washline-0.1.0");
    fs::create_dir_all(inside.join("src")).expect("a folder");
    assert_eq!((of_package(&inside), of_git(&inside)), (None, None));
    // Without a commit there is none to name.
    git(&inside, &["init", "--quiet"]);
    assert_eq!(of_git(&inside), None);
}

#[test]
fn a_package_names_the_commit_that_it_was_made_of() {
    let folder = tempfile::tempdir().expect("a folder");
    let written = |text: &str| {
        fs::write(folder.path().join(".cargo_vcs_info.json"), text).expect("a file");
        of_package(folder.path())
    };
    // As cargo 1.95 writes it.
    let clean = "{\n  \"git\": {\n    \"sha1\": \"ce455f5e0a51bd0b6d6c7b2f7a8d9e0f11223344\"\n  },\n  \"path_in_vcs\": \"\"\n}";
    assert_eq!(written(clean).as_deref(), Some("ce455f5e0"));
    let dirty = "{\n  \"git\": {\n    \"sha1\": \"ce455f5e0a51bd0b6d6c7b2f7a8d9e0f11223344\",\n    \"dirty\": true\n  },\n  \"path_in_vcs\": \"\"\n}";
    assert_eq!(written(dirty).as_deref(), Some("ce455f5e0, with changes"));
    for nothing in ["", "{}", "{\"git\":{\"sha1\":\"\"}}", "{\"git\":{\"sha1\":\"no hash at all\"}}"] {
        assert_eq!(written(nothing), None, "{nothing}");
    }
}
