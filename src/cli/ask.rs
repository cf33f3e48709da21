//! `washline new` without arguments: asks question by question. Only in a terminal: a pipe cannot answer.
//!
//! An answer is tried at once, by writing the brief that it makes with those before it: what is wrong with it is told
//! under the question, which is asked again.

use std::io::{self, IsTerminal};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use dialoguer::theme::SimpleTheme;
use dialoguer::{Input, Select};

use super::exit::Failure;
use super::write::{self, Existing};
use super::{input, output};
use crate::brief::{Measure, Role, serve};
use crate::draft::{At, Measured, Wish, brief, making, measured};
use crate::finding::Finding;
use crate::liquid::{Method, Stage};
use crate::quantity::number::fixed;
use crate::read::{House, shelf_of};
use crate::render::measure::METHODS;

/// What is wished for, and where it goes.
pub struct Asked {
    /// The file to write.
    pub file: PathBuf,
    /// The file of the house that the wish is for; how the brief will name it is not known yet.
    pub house: Option<PathBuf>,
    /// The drink.
    pub wish: Wish,
}

/// Asks for everything that a brief needs.
///
/// # Errors
/// Where nobody can answer.
pub fn ask() -> Result<Asked, Failure> {
    if !(io::stdin().is_terminal() && io::stderr().is_terminal()) {
        let help = "name a file: washline new my-drink.toml --from \"50 ml aged rum, 25 ml lime juice\"";
        return Err(Failure::placeless(
            "nobody-to-ask",
            "without arguments it asks, and here is no terminal",
            help,
        ));
    }
    questions().map_err(|dialoguer::Error::IO(error)| Failure::Output(error))
}

type Answer<T> = Result<T, dialoguer::Error>;

fn questions() -> Answer<Asked> {
    output::say("A brief from a drink that you know. Enter alone takes what is in brackets.\n\n");
    let house = asked("A file with your bottles and prices", "none", |text| opened(text).map(drop))?;
    let shelf = house.as_deref().and_then(|path| opened(path).ok());
    let at = shelf.clone().map(|house| At { house, path: String::new() });
    let mut wish = Wish { at, ..Wish::default() };
    let line = line(shelf.as_ref())?;
    wish.method = Some(method(&line, shelf.as_ref())?);
    wish.line = Some(line);
    tell(&wish);
    let lighter = number("At most how strong, % vol", "as it is", &wish, |wish, most| wish.lighter = most)?;
    wish.lighter = lighter;
    // Without prices nothing can be said of a cost.
    if shelf.is_some() {
        wish.under =
            number("At most what it costs a serve", "anything", &wish, |wish, most| wish.under = most)?;
    }
    wish.without = words("Not to be used, commas between", &wish, |wish, names| wish.without = names)?;
    wish.notes = words("Notes that something in it has to carry, commas between", &wish, |wish, notes| {
        wish.notes = notes;
    })?;
    Ok(Asked { file: file()?, house: house.map(PathBuf::from), wish })
}

/// The house in a file; nothing where none is named.
fn opened(path: &str) -> Result<Arc<House>, String> {
    let said = |failure: Failure| match failure {
        Failure::Findings { findings, .. } => told(&findings),
        Failure::Output(error) => error.to_string(),
    };
    let house = input::house(Path::new(path)).map_err(said)?;
    shelf_of(&house).map_err(|findings| told(&findings))?;
    Ok(house)
}

fn line(shelf: Option<&Arc<House>>) -> Answer<String> {
    output::say("For example: 50 ml aged rum, ¾ oz lime juice, 2 dashes aromatic bitters, top soda water\n");
    Input::with_theme(&SimpleTheme)
        .with_prompt("The drink as it stands on its card")
        .validate_with(|line: &String| match measured(line, None, shelf) {
            Ok(_) => Ok(()),
            Err(findings) => Err(told(&findings)),
        })
        .interact_text()
}

fn method(line: &str, shelf: Option<&Arc<House>>) -> Answer<Method> {
    let usual = || measured(line, None, shelf).map_or(Method::Shake, |drink| usual(&drink));
    let usual = making(line).method.unwrap_or_else(usual);
    let first = METHODS.iter().position(|(method, _)| *method == usual).unwrap_or(0);
    let made = Select::with_theme(&SimpleTheme)
        .with_prompt("How it is made (arrows, then Enter)")
        .items(METHODS.map(|(_, name)| name))
        .default(first)
        .interact()?;
    Ok(METHODS.get(made).map_or(usual, |(method, _)| *method))
}

/// How most bars make such a drink: what is topped up is built, what holds juice, egg or cream is shaken, the rest is
/// stirred. Common practice, no source.
fn usual(drink: &Measured) -> Method {
    let has = |role: Role| drink.brief.candidates.iter().any(|candidate| candidate.role == role);
    if drink.brief.candidates.iter().any(|candidate| candidate.stage == Stage::Topped) {
        Method::Build
    } else if has(Role::Sour) || has(Role::Texture) {
        Method::Shake
    } else {
        Method::Stir
    }
}

/// Says what the drink measures as it is.
fn tell(wish: &Wish) {
    let line = wish.line.as_deref().unwrap_or_default();
    let house = wish.at.as_ref().map(|at| &at.house);
    let Ok(drink) = measured(line, wish.method, house) else { return };
    let served = serve(&drink.brief, &drink.pours);
    let figures = [Measure::Volume, Measure::Strength, Measure::Sugar, Measure::Acid];
    let figure = |measure: &Measure| {
        let value = fixed(served.value(*measure), measure.digits());
        format!("{} {value} {}", measure.keyword(), measure.unit())
    };
    let figures: Vec<String> = figures.iter().map(figure).collect();
    output::say(&format!("In the glass, after the ice: {}.\n", figures.join(", ")));
}

/// A number over 0, tried with the answers before it; nothing where it is left alone.
fn number(
    question: &str,
    default: &str,
    wish: &Wish,
    put: impl Fn(&mut Wish, Option<f64>),
) -> Answer<Option<f64>> {
    let read = |text: &str| -> Result<f64, String> {
        match text.trim_end_matches('%').trim().parse::<f64>() {
            Ok(most) if most > 0.0 && most <= 1e6 => Ok(most),
            _ => Err(format!("`{text}` is no number over 0: write it like 12.5")),
        }
    };
    let said = asked(question, default, |text| {
        let most = read(text)?;
        tried(wish, |wish| put(wish, Some(most)))
    })?;
    Ok(said.and_then(|text| read(&text).ok()))
}

/// Names or words, tried with the answers before them.
fn words(question: &str, wish: &Wish, put: impl Fn(&mut Wish, Vec<String>)) -> Answer<Vec<String>> {
    let said = asked(question, "none", |text| tried(wish, |wish| put(wish, listed(text))))?;
    Ok(said.map_or_else(Vec::new, |text| listed(&text)))
}

fn listed(text: &str) -> Vec<String> {
    text.split(',').map(str::trim).filter(|word| !word.is_empty()).map(str::to_owned).collect()
}

/// Whether a wish with one more answer can be written.
fn tried(wish: &Wish, put: impl Fn(&mut Wish)) -> Result<(), String> {
    let mut more = wish.clone();
    put(&mut more);
    brief(&more).map(drop).map_err(|findings| told(&findings))
}

/// The file to write: one that is not there yet, in a folder that is.
fn file() -> Answer<PathBuf> {
    let free = |text: &str| {
        let path = Path::new(text.trim());
        let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
        if folder.is_some_and(|folder| !folder.is_dir()) {
            return Err("there is no such folder".to_owned());
        }
        write::refuse_existing(path, Existing::Keep)
            .map_err(|_| "it exists already: take another name".to_owned())
    };
    let text: String = Input::with_theme(&SimpleTheme)
        .with_prompt("The file to write")
        .default("drink.toml".to_owned())
        .validate_with(|text: &String| free(text))
        .interact_text()?;
    Ok(PathBuf::from(text.trim()))
}

/// One line of text that has to pass; nothing where it is left alone.
fn asked(
    question: &str,
    default: &str,
    passes: impl Fn(&str) -> Result<(), String>,
) -> Answer<Option<String>> {
    let text: String = Input::with_theme(&SimpleTheme)
        .with_prompt(format!("{question} [{default}]"))
        .allow_empty(true)
        .validate_with(|text: &String| if text.trim().is_empty() { Ok(()) } else { passes(text.trim()) })
        .interact_text()?;
    let text = text.trim();
    Ok((!text.is_empty()).then(|| text.to_owned()))
}

/// What is wrong, and what to do, a finding a line.
fn told(findings: &[Finding]) -> String {
    let one = |finding: &Finding| {
        let help = if finding.help.is_empty() { String::new() } else { format!("; {}", finding.help) };
        format!("{}{help}", finding.what)
    };
    findings.iter().map(one).collect::<Vec<_>>().join("\n")
}
