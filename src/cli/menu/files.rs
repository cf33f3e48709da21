//! The briefs of a menu, each read on its own: one that cannot be read does not stop the others.

use std::fs;
use std::path::{Path, PathBuf};

use crate::brief::Brief;
use crate::cli::args::BriefArgs;
use crate::cli::exit::Failure;
use crate::cli::input::{self, Page};
use crate::finding::{Finding, Severity, Text, line_and_column};
use crate::read::{self, Reading};

/// One file of a menu.
pub struct Card {
    /// What the drink is called; where that cannot be read, its file.
    pub title: String,
    /// The file, as it was named.
    pub file: String,
    /// The brief as it came in; nothing where the file itself cannot be read.
    pub page: Option<Page>,
    /// The brief, where it can be read.
    pub reading: Option<Reading>,
    /// The first thing that is wrong with it.
    pub refused: Option<String>,
}

impl Card {
    /// The question, where it can be read.
    pub fn brief(&self) -> Option<&Brief> {
        self.reading.as_ref().map(|reading| &reading.brief)
    }

    /// The file without its folder and ending.
    pub fn stem(&self) -> String {
        Path::new(&self.file).file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default()
    }
}

/// Reads every brief; what is wrong with any is said at once, with its place.
pub fn cards(named: &[PathBuf]) -> Result<Vec<Card>, Failure> {
    let mut files: Vec<PathBuf> = vec![];
    for path in named {
        let more = if path.is_dir() { of_folder(path)? } else { vec![path.clone()] };
        for file in more {
            if !files.contains(&file) {
                files.push(file);
            }
        }
    }
    Ok(files.iter().map(|file| card(file)).collect())
}

/// The briefs of a folder, by name; houses are none.
fn of_folder(folder: &Path) -> Result<Vec<PathBuf>, Failure> {
    let name = folder.display();
    let entries = fs::read_dir(folder).map_err(|error| {
        Failure::placeless("unreadable", format!("cannot read {name}: {error}"), "check the path")
    })?;
    let mut files: Vec<PathBuf> = entries.filter_map(|entry| Some(entry.ok()?.path())).collect();
    files.retain(|file| {
        file.extension().is_some_and(|end| end.eq_ignore_ascii_case("toml")) && file.is_file()
    });
    files.retain(|file| !fs::read(file).is_ok_and(|bytes| read::is_house(&bytes)));
    files.sort();
    if files.is_empty() {
        let what = format!("there is no brief in {name}");
        return Err(Failure::placeless("no-briefs", what, "put briefs in it, each a TOML file"));
    }
    Ok(files)
}

fn card(path: &Path) -> Card {
    let args = BriefArgs { brief: path.to_owned(), settings: vec![], swaps: vec![] };
    let file = path.display().to_string();
    let stem = path.file_stem().map_or_else(|| file.clone(), |stem| stem.to_string_lossy().into_owned());
    // A brief that cannot be read has a title all the same.
    let titled = |bytes: &[u8]| {
        let title = read::word_at(bytes, "title").map_or(stem, |(title, _)| title);
        Card { title, file, page: None, reading: None, refused: None }
    };
    let page = match input::page_of(&args) {
        Ok(page) => page,
        Err(failure) => return refused(titled(&fs::read(path).unwrap_or_default()), failure),
    };
    let blank = titled(&page.bytes);
    match read::read_changed(&page.bytes, &page.changes) {
        Ok(mut reading) => {
            page.warn(&reading.warnings);
            reading.brief.title.clone_from(&blank.title);
            Card { page: Some(page), reading: Some(reading), ..blank }
        }
        Err(findings) => refused(blank, page.refused(findings)),
    }
}

fn refused(card: Card, failure: Failure) -> Card {
    failure.report();
    let why = match failure {
        Failure::Findings { findings, sources } => {
            let text = |finding: &Finding| match finding.text {
                Text::House => sources.house.as_ref().map_or_else(String::new, |(_, text)| text.clone()),
                Text::Given => sources.text.clone(),
            };
            let errors = || findings.iter().filter(|finding| finding.severity == Severity::Error);
            let first = errors().find(|finding| finding.place.is_some()).or_else(|| errors().next());
            first.map_or_else(String::new, |finding| match &finding.place {
                Some(place) => {
                    let (line, _) = line_and_column(&text(finding), place.start);
                    format!("line {line}: {}", finding.what)
                }
                None => finding.what.clone(),
            })
        }
        Failure::Output(error) => error.to_string(),
    };
    Card { refused: Some(why), ..card }
}
