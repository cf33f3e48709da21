//! Manual pages and completions: whole, and readable by what they are for.

use std::io::Write as _;
use std::process::{Command, Stdio};

use super::run::washline;

const COMMANDS: [&str; 16] = [
    "spec",
    "check",
    "sweep",
    "batch",
    "larder",
    "model",
    "schema",
    "new",
    "manual",
    "completions",
    "flight",
    "learn",
    "calibrate",
    "measure",
    "compare",
    "live",
];

/// The long options that the help of a command names.
fn options(command: &str) -> Vec<String> {
    let help = washline([command, "--help"]).go().answered(0);
    let words = help.split(|c: char| c.is_whitespace() || matches!(c, ',' | '.' | ':' | ';' | ')' | '('));
    let mut options: Vec<String> = words.filter(|w| w.starts_with("--")).map(str::to_owned).collect();
    options.sort();
    options.dedup();
    assert!(options.contains(&"--help".to_owned()), "{command}: {options:?}");
    options
}

/// Runs a reader of such text, where the machine has it: what it complained of.
fn complaints(program: &str, arguments: &[&str], text: &str) -> Option<String> {
    let mut command = Command::new(program);
    command.args(arguments).stdin(Stdio::piped()).stdout(Stdio::null()).stderr(Stdio::piped());
    let mut child = command.spawn().ok()?;
    child.stdin.take().expect("a pipe").write_all(text.as_bytes()).expect("it reads");
    let output = child.wait_with_output().expect("it ends");
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    Some(if output.status.success() { said } else { format!("{}\n{said}", output.status) })
}

#[test]
fn the_page_of_the_program_names_every_command() {
    let page = washline(["manual"]).go().answered(0);
    for command in COMMANDS {
        assert!(page.contains(&format!("washline\\-{command}(1)")), "{command}: {page}");
    }
    assert!(page.contains("Exit status: 0 answered"), "{page}");
}

#[test]
fn the_page_of_a_command_has_all_its_options() {
    for command in COMMANDS {
        let page = washline(["manual", command]).go().answered(0);
        assert!(page.contains(&format!(".TH washline-{command} 1")), "{page}");
        for option in options(command) {
            // A hyphen that has to stay one is escaped in roff.
            assert!(page.contains(&option.replace('-', "\\-")), "{command} {option}: {page}");
        }
    }
}

#[test]
fn pages_are_set_without_a_warning() {
    for arguments in [&["manual"][..], &["manual", "spec"], &["manual", "batch"], &["manual", "completions"]]
    {
        let page = washline(arguments).go().answered(0);
        for (reader, its) in [("groff", &["-man", "-ww", "-Tutf8"][..]), ("mandoc", &["-Tutf8", "-Wwarning"])]
        {
            assert!(complaints(reader, its, &page).is_none_or(|said| said.is_empty()), "{arguments:?}");
        }
    }
}

#[test]
fn a_page_of_nothing_is_refused_with_the_names() {
    let said = washline(["manual", "spek"]).go().refused();
    assert!(said.contains("there is no command \"spek\"") && said.contains("spec, check, sweep"), "{said}");
}

#[test]
fn completions_know_every_command_and_option() {
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let script = washline(["completions", shell]).go().answered(0);
        for command in COMMANDS {
            assert!(script.contains(command), "{shell}: {command}");
            for option in options(command) {
                // fish names a long option without its dashes.
                let written = if shell == "fish" { format!("-l {}", &option[2..]) } else { option };
                assert!(script.contains(&written), "{shell}: {command} {written}");
            }
        }
    }
}

#[test]
fn shells_can_read_their_completions() {
    for (shell, check) in [("bash", &["-n"][..]), ("zsh", &["-n"]), ("fish", &["--no-execute"])] {
        let script = washline(["completions", shell]).go().answered(0);
        assert!(complaints(shell, check, &script).is_none_or(|said| said.is_empty()), "{shell}");
    }
    // Bash itself completes a command and an option.
    let script = washline(["completions", "bash"]).go().answered(0);
    for (typed, offered) in [("sw", "sweep"), ("check --for", "--format")] {
        let words: Vec<&str> = typed.split(' ').collect();
        let at = words.len();
        let asked = format!(
            "{script}\nCOMP_WORDS=(washline {typed}); COMP_CWORD={at}\n_washline washline '{}' '{}'\n\
             [[ \" ${{COMPREPLY[*]}} \" == *' {offered} '* ]]",
            words[at - 1],
            if at > 1 { words[at - 2] } else { "washline" },
        );
        assert_eq!(complaints("bash", &["--norc"], &asked).unwrap_or_default(), "", "{typed}");
    }
}
