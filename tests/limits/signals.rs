//! Ctrl-C and its like: the run ends at once, says nothing that is not proved, and leaves no file behind.

use std::fs;
use std::os::unix::process::ExitStatusExt as _;
use std::process::{Command, Stdio};
use std::thread::sleep;
use std::time::Duration;

use super::briefs::shelf;

/// A run that takes far longer than the test waits. A shell lets what it runs in the background ignore
/// Ctrl-C, so that is taken back first.
fn long_run(folder: &std::path::Path, arguments: &[&str]) -> Command {
    let mut command = Command::new("env");
    command.args(["--default-signal=INT", env!("CARGO_BIN_EXE_washline")]).args(arguments);
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
