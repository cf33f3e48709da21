//! One run of the program: arguments in, streams and status out.

use std::ffi::OsStr;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Output, Stdio};

/// A run to be.
pub struct Run {
    command: Command,
    input: Vec<u8>,
}

/// What a run gave.
#[derive(Debug)]
pub struct Outcome {
    /// Standard output.
    pub out: String,
    /// Standard error.
    pub err: String,
    /// Exit status.
    pub status: i32,
}

/// A run with these arguments, in the folder of the crate, with a plain environment.
pub fn washline<S: AsRef<OsStr>>(arguments: impl IntoIterator<Item = S>) -> Run {
    let mut command = Command::new(env!("CARGO_BIN_EXE_washline"));
    command.args(arguments).current_dir(env!("CARGO_MANIFEST_DIR"));
    for variable in ["NO_COLOR", "CLICOLOR_FORCE", "CLICOLOR", "TERM", "COLUMNS", "RUST_BACKTRACE"] {
        command.env_remove(variable);
    }
    Run { command, input: Vec::new() }
}

/// What a process gave.
pub fn outcome(output: &Output) -> Outcome {
    let text = |bytes: &[u8], of: &str| String::from_utf8(bytes.to_vec()).expect(of);
    Outcome {
        out: text(&output.stdout, "UTF-8 on standard output"),
        err: text(&output.stderr, "UTF-8 on standard error"),
        status: output.status.code().expect("no signal"),
    }
}

impl Run {
    /// What stands on standard input.
    pub fn input(mut self, bytes: impl Into<Vec<u8>>) -> Self {
        self.input = bytes.into();
        self
    }

    /// A variable of the environment.
    pub fn variable(mut self, name: &str, value: &str) -> Self {
        self.command.env(name, value);
        self
    }

    /// The folder in which it runs.
    pub fn folder(mut self, folder: &Path) -> Self {
        self.command.current_dir(folder);
        self
    }

    /// Runs it to its end.
    pub fn go(mut self) -> Outcome {
        let streams = self.command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = streams.spawn().expect("the program starts");
        let mut stdin = child.stdin.take().expect("a pipe");
        // A program that does not read its input closes the pipe: that is its right.
        let _ = stdin.write_all(&self.input);
        drop(stdin);
        outcome(&child.wait_with_output().expect("the program ends"))
    }

    /// Runs it with nobody reading its standard output.
    pub fn go_unread(mut self) -> Outcome {
        let streams = self.command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = streams.spawn().expect("the program starts");
        drop(child.stdout.take());
        outcome(&child.wait_with_output().expect("the program ends"))
    }
}

impl Outcome {
    /// The run answered: this status, and nothing on standard error.
    #[track_caller]
    pub fn answered(self, status: i32) -> String {
        assert_eq!((self.status, self.err.as_str()), (status, ""), "{}", self.out);
        self.out
    }

    /// The run refused: status 2 and nothing on standard output.
    #[track_caller]
    pub fn refused(self) -> String {
        assert_eq!((self.status, self.out.as_str()), (2, ""), "{}", self.err);
        self.err
    }

    /// The answer as JSON.
    #[track_caller]
    pub fn json(self, status: i32) -> serde_json::Value {
        serde_json::from_str(&self.answered(status)).expect("JSON")
    }
}
