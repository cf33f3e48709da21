//! Paths that are no plain files.

use std::ffi::{OsStr, OsString};
use std::fs;
use std::os::unix::ffi::{OsStrExt, OsStringExt};
use std::os::unix::fs::symlink;
use std::path::Path;
use std::process::{Command, Stdio};

use super::briefs::SMALL;
use crate::run::washline;

const PROGRAM: &str = env!("CARGO_BIN_EXE_washline");

/// What is left in a folder, without the names that are meant to be there.
fn left(folder: &Path, meant: &[&OsStr]) -> Vec<OsString> {
    let names = fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").file_name());
    names.filter(|name| !meant.contains(&name.as_os_str())).collect()
}

/// A name in the Latin alphabet of old: é is one byte, and no UTF-8.
#[test]
fn names_that_are_no_utf8() {
    let folder = tempfile::tempdir().expect("a folder");
    let name = |text: &[u8]| OsString::from_vec(text.to_vec());
    let (brief, answer, page, fresh) =
        (name(b"caf\xe9.toml"), name(b"r\xe9ponse.txt"), name(b"p\xe2ge.html"), name(b"\xff\xfe"));
    fs::write(folder.path().join(&brief), SMALL).expect("a brief");
    let arguments: [&OsStr; 6] =
        ["spec".as_ref(), &brief, "--write".as_ref(), &answer, "--report".as_ref(), &page];
    let run = washline(arguments).folder(folder.path()).go();
    assert_eq!(run.status, 0, "{}", run.err);
    assert!(fs::read_to_string(folder.path().join(&answer)).expect("the answer").contains("spirit"));
    assert!(fs::read_to_string(folder.path().join(&page)).expect("the page").contains("</html>"));
    let made: [&OsStr; 2] = ["new".as_ref(), &fresh];
    assert_eq!(washline(made).folder(folder.path()).go().status, 0);
    assert!(left(folder.path(), &[&brief, &answer, &page, &fresh]).is_empty());
    // A text that has to be text is refused as such.
    let odd: [&OsStr; 4] = ["spec".as_ref(), &brief, "--set".as_ref(), OsStr::from_bytes(b"a\xff=1")];
    washline(odd).folder(folder.path()).go().refused();
}

#[test]
fn a_folder_a_loop_and_a_file_that_is_no_folder() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name).to_str().expect("a plain path").to_owned();
    symlink(path("a"), path("b")).expect("a link");
    symlink(path("b"), path("a")).expect("a link");
    fs::write(path("brief.toml"), SMALL).expect("a brief");
    let brief = path("brief.toml");
    for (read, word) in [
        (path("."), "it is a directory"),
        (path("a"), "cannot read"),
        (path("brief.toml/inside"), "what stands before the last / is no folder"),
        (path("nothing/inside"), "there is no such file"),
    ] {
        let said = washline(["spec", &read]).go().refused();
        assert!(said.contains(word) && said.contains("= help: "), "{said}");
    }
    for (write, word) in [
        (path("."), "it exists already"),
        (path("a"), "it exists already"),
        (path("brief.toml/inside"), "what stands before the last / is no folder"),
        (path("nothing/inside"), "there is no such folder"),
    ] {
        for option in ["--write", "--report"] {
            let said = washline(["spec", &brief, option, &write]).go().refused();
            assert!(said.contains(word) && said.contains("= help: "), "{said}");
        }
        washline(["new", &write]).go().refused();
    }
    let said = washline(["spec", &brief, "--write", &path("."), "--force"]).go().refused();
    assert!(said.contains("it is a folder"), "{said}");
    let names: [&OsStr; 3] = ["a".as_ref(), "b".as_ref(), "brief.toml".as_ref()];
    assert!(left(folder.path(), &names).is_empty());
    assert_eq!(fs::read_to_string(&brief).expect("the brief"), SMALL);
}

/// `--force` gives the name of a link to a new file; what the link led to is left alone.
#[test]
fn a_link_is_replaced_and_not_written_through() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name).to_str().expect("a plain path").to_owned();
    fs::write(path("kept"), "kept").expect("a file");
    symlink(path("kept"), path("link")).expect("a link");
    let run = washline(["spec", "-", "--write", &path("link"), "--force"]).input(SMALL).go();
    assert_eq!(run.status, 0, "{}", run.err);
    assert_eq!(fs::read_to_string(path("kept")).expect("a file"), "kept");
    assert!(fs::read_to_string(path("link")).expect("a file").contains("spirit"));
}

/// A pipe with a name, as shells make for `<(…)`: read to its end like any file.
#[test]
fn a_pipe_with_a_name() {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("brief.toml"), SMALL).expect("a brief");
    let line = "mkfifo pipe && (cat brief.toml > pipe &) && exec \"$0\" spec pipe";
    let mut command = Command::new("sh");
    command.args(["-c", line, PROGRAM]).current_dir(folder.path()).stdin(Stdio::null());
    let output = command.output().expect("a run");
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    let plain = washline(["spec", "-"]).input(SMALL).go().answered(0);
    assert_eq!(String::from_utf8_lossy(&output.stdout), plain);
}

/// What never ends is read as far as a brief can go.
#[test]
fn a_device_without_end() {
    let said = washline(["spec", "/dev/zero"]).go().refused();
    assert!(said.contains("[too-large]"), "{said}");
}
