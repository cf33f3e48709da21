//! Ctrl-C and its like: the run ends at once, says nothing that is not proved, and leaves no file behind.

use std::fs;
use std::os::unix::process::ExitStatusExt as _;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::thread::sleep;
use std::time::Duration;

use rustix::process::{Pid, Signal, kill_process};

use super::briefs::{SMALL, shelf};
use crate::effort::some;

/// A run that takes far longer than the test waits. A shell lets what it runs in the background ignore
/// Ctrl-C, and `nohup` that the terminal has gone, so that is taken back first.
fn long_run(folder: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new("env");
    command.args(["--default-signal=INT,TERM,HUP", env!("CARGO_BIN_EXE_washline")]).args(arguments);
    command.current_dir(folder).stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
    command
}

#[test]
fn a_signal_ends_it_with_nothing_said_and_nothing_left() {
    let sweep = ["sweep", "brief.toml", "--over", "targets.strength.max=10..14", "--steps", "10000"];
    for (signal, number) in [("-INT", 2), ("-TERM", 15), ("-HUP", 1)] {
        let folder = tempfile::tempdir().expect("a folder");
        // The lowest strength presses against its own limit: every step of the sweep takes all its effort.
        let brief = shelf(60).replace("lowest = \"cost\"", "lowest = \"strength\"");
        fs::write(folder.path().join("brief.toml"), brief).expect("a brief");
        let mut arguments = sweep.to_vec();
        arguments.extend(["--write", "answer.txt", "--report", "page.html"]);
        let mut child = long_run(folder.path(), &arguments).spawn().expect("a run");
        sleep(Duration::from_millis(400));
        assert!(child.try_wait().expect("a state").is_none(), "it is at work");
        let sent = Command::new("kill").args([signal, &child.id().to_string()]).status().expect("kill");
        assert!(sent.success());
        let output = child.wait_with_output().expect("an end");
        // A shell tells this as 128 and the number: 130 for Ctrl-C.
        assert_eq!(output.status.signal(), Some(number), "{output:?}");
        assert!(output.stdout.is_empty() && output.stderr.is_empty(), "{output:?}");
        let left: Vec<_> = fs::read_dir(folder.path()).expect("the folder").collect();
        assert_eq!(left.len(), 1, "{left:?}");
    }
}

/// A signal while a file has only half its text: the folder holds the whole file, or nothing.
#[test]
fn a_signal_in_mid_write_leaves_no_litter() {
    let mut seen = 0;
    for round in some(0..60, 8) {
        let folder = tempfile::tempdir().expect("a folder");
        let brief = tempfile::NamedTempFile::new().expect("a brief");
        fs::write(brief.path(), SMALL).expect("a brief");
        let name = brief.path().to_str().expect("a name");
        // With a time limit another thread lives on that could take the signal.
        let limited: &[&str] = if round % 2 == 0 { &["--time-limit", "1000"] } else { &[] };
        let arguments = [&["spec", name, "--format", "json", "--write", "answer"], limited].concat();
        let mut child = long_run(folder.path(), &arguments).spawn().expect("a run");
        let begun = wait_for_a_file(&mut child, folder.path());
        let signal = [Signal::INT, Signal::TERM, Signal::HUP][round % 3];
        if kill_process(Pid::from_child(&child), signal).is_ok() && begun {
            seen += 1;
        }
        let output = child.wait_with_output().expect("an end");
        let left: Vec<_> = fs::read_dir(folder.path()).expect("the folder").flatten().collect();
        let names: Vec<_> = left.iter().map(fs::DirEntry::file_name).collect();
        assert!(names.is_empty() || names == ["answer"], "round {round}: {names:?}, {output:?}");
        if let Some(answer) = left.first() {
            let text = fs::read_to_string(answer.path()).expect("the answer");
            assert!(text.starts_with('{') && text.ends_with("}\n"), "half an answer: {text:?}");
        }
    }
    assert!(seen > 0, "no signal came while a file was written");
}

/// Looks until the run has begun a file that has not its name yet. Whether it has.
fn wait_for_a_file(child: &mut Child, folder: &Path) -> bool {
    while child.try_wait().expect("a state").is_none() {
        let there = fs::read_dir(folder).expect("the folder").flatten().next();
        if let Some(file) = there {
            return file.file_name() != "answer";
        }
    }
    false
}
