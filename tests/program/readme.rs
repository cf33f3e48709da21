//! What the README and the guide to the demos say is what happens.

use std::env;
use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};

use super::run::{Outcome, outcome, washline};
use crate::effort::{one_in, some};

/// Commands that are not run, and why.
const NOT_RUN: [(&str, &str); 3] = [
    ("cargo test", "this is a part of it"),
    ("washline live problems-demo/low-strength.toml", "it serves until it is ended: tests/live.rs"),
    ("washline live --house problems-demo/house.toml", "the same"),
];

pub fn text_of(file: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(file)).expect("a file")
}

/// The blocks of a language.
fn blocks(text: &str, language: &str) -> Vec<String> {
    let fence = format!("```{language}\n");
    let starts = text.match_indices(&fence).map(|(at, _)| at + fence.len());
    starts.map(|at| text[at..].split("```").next().unwrap_or_default().to_owned()).collect()
}

/// Every command of a text: behind a `$` in a block, indented, or quoted in a line.
fn commands(text: &str) -> Vec<String> {
    let blocks = blocks(text, "console");
    let typed = blocks.iter().flat_map(|b| b.lines()).filter_map(|l| l.strip_prefix("$ "));
    let indented = text.lines().filter_map(|l| l.strip_prefix("    ")).filter(|l| l.starts_with("washline "));
    let quoted = text.split('`').filter(|piece| piece.starts_with("washline ") && !piece.contains('\n'));
    typed.chain(indented).chain(quoted).map(str::to_owned).collect()
}

/// A folder as a reader has it: the demos in it, and the program on the path.
fn desk() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    for demos in ["problems-demo", "problems-demo/menu"] {
        let to = folder.path().join(demos);
        fs::create_dir(&to).expect("a folder");
        for entry in fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join(demos)).expect("demos") {
            let path = entry.expect("an entry").path();
            if path.is_file() {
                fs::copy(&path, to.join(path.file_name().expect("a name"))).expect("a copy");
            }
        }
    }
    folder
}

/// Runs a line as it stands, by the shell.
fn typed(line: &str, folder: &Path) -> Outcome {
    let program = Path::new(env!("CARGO_BIN_EXE_washline")).parent().expect("its folder");
    let others = env::var_os("PATH").unwrap_or_default();
    let path = env::join_paths([program.to_owned()].into_iter().chain(env::split_paths(&others)));
    let mut command = Command::new("sh");
    // A file that is written on the way may have a folder to go to.
    command.args(["-euc", line]).current_dir(folder).env("PATH", path.expect("a path")).env("HOME", folder);
    for variable in ["NO_COLOR", "CLICOLOR_FORCE", "CLICOLOR", "RUST_BACKTRACE"] {
        command.env_remove(variable);
    }
    outcome(&command.stdin(Stdio::null()).output().expect("a shell"))
}

fn every_command_answers(file: &str, at_least: usize) {
    let mut tried = 0;
    for line in some(commands(&text_of(file)), 10) {
        if NOT_RUN.iter().any(|(command, _)| line == *command) {
            continue;
        }
        let line = match line.strip_prefix("cargo run --release -- ") {
            Some(rest) => format!("washline {rest}"),
            None => line,
        };
        let run = typed(&line, desk().path());
        // Where a command writes a file it says so on standard error, and nothing else.
        let quiet = run.err.lines().all(|said| said.starts_with("Wrote "));
        assert!(matches!(run.status, 0 | 1) && quiet, "{file}: {line}: {run:?}");
        tried += 1;
    }
    assert!(tried * one_in(10) >= at_least, "{file}: {tried} commands tried");
}

#[test]
fn every_command_of_the_readme_answers() {
    every_command_answers("README.md", 14);
}

#[test]
fn every_command_of_the_demos_answers() {
    every_command_answers("problems-demo/README.md", 14);
}

#[test]
fn what_is_not_run_still_stands_there() {
    let commands = commands(&text_of("README.md"));
    for (command, why) in NOT_RUN {
        assert!(commands.iter().any(|c| c == command), "{command} ({why}) has gone");
    }
}

#[test]
fn the_output_in_the_readme_is_what_the_command_prints() {
    let shown = blocks(&text_of("README.md"), "text").into_iter().next().expect("an output");
    assert_eq!(shown, washline(["spec", "problems-demo/low-strength.toml"]).go().answered(0));
}

#[test]
fn the_brief_in_the_readme_has_an_answer() {
    let brief = blocks(&text_of("README.md"), "toml").into_iter().next().expect("a brief");
    let answer = washline(["spec", "-", "--format", "json"]).input(brief).go().json(0);
    assert_eq!(answer["outcome"], "found");
}
