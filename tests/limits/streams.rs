//! Standard input, output and error that are closed, full, or nobody's.

use std::io::Read as _;
use std::process::{Command, Output, Stdio};

use super::briefs::SMALL;
use crate::effort::some;

const PROGRAM: &str = env!("CARGO_BIN_EXE_washline");
const DEMO: &str = "problems-demo/highball.toml";

/// A line of a shell, with the program as `$0`.
fn shell(line: &str) -> Output {
    let mut command = Command::new("sh");
    command.args(["-c", line, PROGRAM]).current_dir(env!("CARGO_MANIFEST_DIR")).stdin(Stdio::null());
    command.output().expect("a run")
}

/// Every command that answers on standard output.
const LINES: [&str; 11] = [
    "spec problems-demo/low-strength.toml",
    "check problems-demo/low-strength.toml '40 ml aged rum'",
    "sweep problems-demo/low-strength.toml --over targets.strength.max=9..10 --steps 2",
    "batch problems-demo/low-strength.toml --serves 10",
    "model problems-demo/low-strength.toml --as lp",
    "menu problems-demo/menu --shelf fewest",
    "larder --sources",
    "schema",
    "--help",
    "--version",
    "spec --help",
];

/// An answer that does not arrive is told, and is no success.
#[cfg(target_os = "linux")]
#[test]
fn a_full_device_is_told() {
    for line in LINES {
        let output = shell(&format!("exec \"$0\" {line} > /dev/full"));
        let said = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(70), "{line}: {said}");
        assert!(
            said.starts_with("washline: the answer could not be written: No space left"),
            "{line}: {said}"
        );
        assert!(!said.contains("panicked") && !said.contains("a fault of the program"), "{line}: {said}");
    }
}

#[test]
fn closed_streams_break_nothing() {
    let closed = ["<&-", ">&-", "2>&-", "<&- >&- 2>&-"];
    for (line, closed) in some(LINES.into_iter().flat_map(|line| closed.map(|closed| (line, closed))), 6) {
        let output = shell(&format!("exec \"$0\" {line} {closed}"));
        let said = String::from_utf8_lossy(&output.stderr);
        assert!(matches!(output.status.code(), Some(0 | 1)), "{line} {closed}: {:?} {said}", output.status);
        assert!(said.is_empty(), "{line} {closed}: {said}");
    }
    let output = shell("exec \"$0\" spec - <&-");
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("the brief is empty"));
    assert_eq!(shell("exec \"$0\" spec nothing 2>&-").status.code(), Some(2));
    assert_eq!(shell("exec \"$0\" spec - < .").status.code(), Some(2));
}

/// `| head`: who has seen enough goes, in the middle of an answer.
#[test]
fn a_reader_that_goes_in_the_middle_is_no_fault() {
    for arguments in
        [&["larder", "--sources"][..], &["larder", "--format", "json"], &["schema"], &["spec", DEMO]]
    {
        let mut command = Command::new(PROGRAM);
        command.args(arguments).current_dir(env!("CARGO_MANIFEST_DIR"));
        command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = command.spawn().expect("a run");
        let mut out = child.stdout.take().expect("a pipe");
        out.read_exact(&mut [0]).expect("a byte");
        drop(out);
        let output = child.wait_with_output().expect("an end");
        let said = String::from_utf8_lossy(&output.stderr);
        assert_eq!((output.status.code(), &*said), (Some(0), ""), "{arguments:?}");
    }
}

/// A run of its own session has no terminal at all.
#[cfg(target_os = "linux")]
#[test]
fn without_a_terminal() {
    let environments = [
        "-i",
        "-u TERM",
        "TERM=dumb",
        "TERM=nonsense",
        "COLUMNS=0",
        "COLUMNS=1",
        "COLUMNS=nan",
        "LANG=C LC_ALL=C",
    ];
    for environment in some(environments, 3) {
        let output = shell(&format!("exec env {environment} setsid -w \"$0\" spec {DEMO}"));
        assert_eq!(output.status.code(), Some(0), "{environment}: {output:?}");
        assert!(output.stderr.is_empty() && !output.stdout.contains(&0x1b), "{environment}");
        let help = shell(&format!("exec env {environment} setsid -w \"$0\" --help"));
        assert_eq!(help.status.code(), Some(0), "{environment}: {help:?}");
    }
}

/// A brief from standard input is the same brief.
#[test]
fn standard_input_is_a_file_like_any_other() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("brief.toml");
    std::fs::write(&path, SMALL).expect("a brief");
    let path = path.to_str().expect("a plain path");
    let named = shell(&format!("exec \"$0\" spec {path}"));
    let piped = shell(&format!("cat {path} | \"$0\" spec -"));
    let redirected = shell(&format!("exec \"$0\" spec /dev/stdin < {path}"));
    assert_eq!(named.status.code(), Some(0));
    assert!(named.stdout == piped.stdout && named.stdout == redirected.stdout);
}
