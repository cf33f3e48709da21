//! `washline new` without arguments: asks question by question. Only in a terminal: a pipe cannot answer.

use std::io::{self, IsTerminal};
use std::path::PathBuf;

use dialoguer::theme::SimpleTheme;
use dialoguer::{Input, Select};

use super::args::NewArgs;
use super::exit::Failure;
use super::input;
use crate::finding::Finding;
use crate::liquid::Method;
use crate::read::from::measured;

/// How a drink can be made, as it is offered.
const METHODS: [(&str, Method); 4] = [
    ("shaken with ice", Method::Shake),
    ("stirred on ice", Method::Stir),
    ("built on ice", Method::Build),
    ("without ice", Method::None),
];

/// Asks for everything that a brief needs.
///
/// # Errors
/// Where nobody can answer.
pub fn ask() -> Result<NewArgs, Failure> {
    if !(io::stdin().is_terminal() && io::stderr().is_terminal()) {
        let help = "name a file: washline new my-drink.toml --from \"50 ml aged rum, 25 ml lime juice\"";
        return Err(Failure::placeless(
            "nobody-to-ask",
            "without arguments it asks, and here is no terminal",
            help,
        ));
    }
    questions().map_err(|dialoguer::Error::IO(error)| Failure::Output(error))?
}

type Answer<T> = Result<T, dialoguer::Error>;

fn questions() -> Answer<Result<NewArgs, Failure>> {
    let house = said("A file with your bottles and prices (empty: none)", "")?;
    let house = (!house.is_empty()).then(|| PathBuf::from(house));
    let shelf = match house.as_deref().map(input::house).transpose() {
        Ok(shelf) => shelf,
        Err(failure) => return Ok(Err(failure)),
    };
    let line: String = Input::with_theme(&SimpleTheme)
        .with_prompt("The drink as it stands on its card, commas between")
        .validate_with(|line: &String| match measured(line, Method::Shake, shelf.as_ref()) {
            Ok(_) => Ok(()),
            Err(findings) => Err(told(&findings)),
        })
        .interact_text()?;
    let names = METHODS.map(|(name, _)| name);
    let made = Select::with_theme(&SimpleTheme).with_prompt("It is").items(names).default(0).interact()?;
    let lighter = said("At most how strong, % vol (empty: as it is)", "")?;
    let without = said("Not to be used, commas between (empty: nothing)", "")?;
    let note = said("A note that something in it has to carry (empty: none)", "")?;
    let file = said("The file to write", "drink.toml")?;
    let listed = |text: &str| -> Vec<String> {
        text.split(',').map(str::trim).filter(|word| !word.is_empty()).map(str::to_owned).collect()
    };
    Ok(Ok(NewArgs {
        file: Some(PathBuf::from(file)),
        from: Some(line),
        method: METHODS.get(made).map(|(_, method)| *method),
        house,
        lighter: lighter.trim_end_matches('%').trim().parse().ok().filter(|most: &f64| *most > 0.0),
        without: listed(&without),
        notes: listed(&note),
        ..NewArgs::default()
    }))
}

/// One line of text; empty where nothing is said.
fn said(question: &str, default: &str) -> Answer<String> {
    let input = Input::with_theme(&SimpleTheme).with_prompt(question).allow_empty(true);
    let input = if default.is_empty() { input } else { input.default(default.to_owned()) };
    input.interact_text().map(|text: String| text.trim().to_owned())
}

fn told(findings: &[Finding]) -> String {
    findings
        .iter()
        .map(|finding| format!("{}; {}", finding.what, finding.help))
        .collect::<Vec<_>>()
        .join("\n")
}
