//! What the README says is what happens.

use super::run::washline;

fn readme() -> String {
    std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md")).expect("the README")
}

/// The blocks of a language.
fn blocks(text: &str, language: &str) -> Vec<String> {
    let fence = format!("```{language}\n");
    let starts = text.match_indices(&fence).map(|(at, _)| at + fence.len());
    starts.map(|at| text[at..].split("```").next().unwrap_or_default().to_owned()).collect()
}

/// The words of a command, quotes respected.
fn words(command: &str) -> Vec<String> {
    let mut words = Vec::new();
    for (at, piece) in command.split('"').enumerate() {
        if at % 2 == 1 {
            words.push(piece.to_owned());
        } else {
            words.extend(piece.split_whitespace().map(str::to_owned));
        }
    }
    words
}

#[test]
fn every_command_of_the_readme_answers() {
    let mut tried = 0;
    for line in
        blocks(&readme(), "console").iter().flat_map(|b| b.lines()).filter_map(|l| l.strip_prefix("$ "))
    {
        let line = line.strip_prefix("cargo run --release -- ").or_else(|| line.strip_prefix("washline "));
        let Some(line) = line else { continue };
        let run = washline(words(line)).go();
        assert!(matches!(run.status, 0 | 1) && run.err.is_empty(), "{line}: {run:?}");
        tried += 1;
    }
    assert!(tried >= 7, "{tried} commands tried");
}

#[test]
fn the_output_in_the_readme_is_what_the_command_prints() {
    let shown = blocks(&readme(), "text").into_iter().next().expect("an output");
    assert_eq!(shown, washline(["spec", "problems-demo/low-strength.toml"]).go().answered(0));
}

#[test]
fn the_brief_in_the_readme_has_an_answer() {
    let brief = blocks(&readme(), "toml").into_iter().next().expect("a brief");
    let answer = washline(["spec", "-", "--format", "json"]).input(brief).go().json(0);
    assert_eq!(answer["outcome"], "found");
}

#[test]
fn the_commands_of_the_demo_readme_answer() {
    let text = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/problems-demo/README.md"))
        .expect("a file");
    let indented = text.lines().filter_map(|l| l.trim_start().strip_prefix("washline ").map(str::to_owned));
    let quoted = text
        .split('`')
        .filter_map(|piece| piece.strip_prefix("washline spec ").map(|rest| format!("spec {rest}")));
    let commands: Vec<String> = indented.chain(quoted).collect();
    assert!(commands.len() >= 5, "{commands:?}");
    for command in commands {
        let run = washline(words(&command)).go();
        assert!(matches!(run.status, 0 | 1) && run.err.is_empty(), "{command}: {run:?}");
    }
}
