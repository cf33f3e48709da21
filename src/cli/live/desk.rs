//! The files on the desk: the brief that was opened and its house, and no other.

use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::sync::Mutex;

use crate::cli::args::VERSION;
use crate::cli::exit::{Failure, Sources};
use crate::cli::write::{self, Existing};
use crate::cli::{clock, input, new};
use crate::finding::Finding;
use crate::live::{Beside, OnDisk, Save, Told, told};
use crate::read::{self, Changes};
use crate::render::html::Imprint;

/// Of a name for a new file no more letters than this.
const LONGEST: usize = 80;

/// What may be read and written.
pub struct Desk {
    brief: Mutex<Option<PathBuf>>,
    /// The house as the brief names it, and where it is.
    house: Mutex<Option<(String, PathBuf)>>,
}

impl Desk {
    /// Opens a brief, which need not be there yet; a house is for a brief that is new.
    pub fn open(brief: Option<&Path>, house: Option<&Path>) -> Result<Self, Failure> {
        let beside = brief.unwrap_or(Path::new("new.toml"));
        let named = house.map(|path| (new::relative(path, beside), path.to_owned()));
        let desk = Self { brief: Mutex::new(brief.map(Path::to_owned)), house: Mutex::new(named) };
        if let Some(path) = house {
            input::house(path)?;
        }
        desk.seen().map_err(|findings| Failure::Findings { findings, sources: Sources::default() })?;
        Ok(desk)
    }

    /// What the brief's file is called.
    pub fn name(&self) -> Option<String> {
        let path = self.path()?;
        Some(
            path.file_name()
                .map_or_else(|| path.display().to_string(), |name| name.to_string_lossy().into_owned()),
        )
    }

    fn path(&self) -> Option<PathBuf> {
        self.brief.lock().ok().and_then(|path| path.clone())
    }

    /// The text of the file; empty where there is none yet. The house that it names is the one that may be read.
    fn seen(&self) -> Result<String, Vec<Finding>> {
        let Some(path) = self.path() else { return Ok(String::new()) };
        let bytes = match input::bytes_of(&path) {
            Ok(bytes) => bytes,
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(String::new()),
            Err(error) => return Err(vec![unreadable(&path, &error)]),
        };
        let text = read::text_of(&bytes).map_err(|finding| {
            vec![Finding { what: format!("{}: {}", path.display(), finding.what), ..finding }]
        })?;
        if let Some(named) = read::house_named(&bytes, &Changes::default())
            && let Ok(mut house) = self.house.lock()
        {
            let folder = path.parent().unwrap_or(Path::new(""));
            *house = Some((named.path.clone(), folder.join(&named.path)));
        }
        Ok(text.to_owned())
    }

    /// The file as it is now.
    pub fn on_disk(&self) -> OnDisk {
        match self.seen() {
            Ok(text) => OnDisk { file: self.name(), text, ..OnDisk::default() },
            Err(findings) => OnDisk { file: self.name(), findings: told("", &findings), ..OnDisk::default() },
        }
    }

    /// The house that a text names: only that of the file.
    ///
    /// # Errors
    /// When it is another, or cannot be read.
    pub fn beside(&self, text: &str) -> Result<Beside, Vec<Told>> {
        let Some(named) = read::house_named(text.as_bytes(), &Changes::default()) else { return Ok(None) };
        let known = self.house.lock().ok().and_then(|house| house.clone());
        let Some((_, path)) = known.filter(|(name, _)| *name == named.path) else {
            let what = "this page reads no other house than the one that it was opened with";
            let help = "save this house in the brief by an editor, or start `washline live` with --house";
            let finding = Finding::error("other-house", named.place.unwrap_or_default(), what, help);
            return Err(told(text, &[finding]));
        };
        match input::house(&path) {
            Ok(house) => Ok(Some(house)),
            Err(Failure::Findings { findings, .. }) => Err(told("", &findings)),
            Err(Failure::Output(error)) => Err(told("", &[unreadable(&path, &error)])),
        }
    }

    /// The house that a new brief takes from, and its path as the brief will name it.
    pub fn house(&self) -> (Beside, Option<String>) {
        let known = self.house.lock().ok().and_then(|house| house.clone());
        known.map_or((None, None), |(name, path)| (input::house(&path).ok(), Some(name)))
    }

    /// Writes a text that can be read, whole or not at all, unless the file holds another one than was last seen.
    pub fn save(&self, save: &Save) -> OnDisk {
        let refused = |findings: Vec<Told>| OnDisk { file: self.name(), findings, ..self.on_disk() };
        let readable = self.beside(&save.text).and_then(|house| {
            let changes = Changes { house, ..Changes::default() };
            read::read_changed(save.text.as_bytes(), &changes).map_err(|findings| told(&save.text, &findings))
        });
        if let Err(findings) = readable {
            return refused(findings);
        }
        let (path, existing) = match self.path().filter(|_| save.name.is_empty()) {
            Some(path) => (path, Existing::Replace),
            None => match plain(&save.name) {
                Ok(path) => (path, Existing::Keep),
                Err(finding) => return refused(at_name(&finding)),
            },
        };
        let seen = self.on_disk();
        if existing == Existing::Replace && seen.text != save.base {
            return seen;
        }
        match write::whole(&path, &save.text, existing) {
            Ok(()) => {
                if let Ok(mut brief) = self.brief.lock() {
                    *brief = Some(path);
                }
                OnDisk { written: true, ..self.on_disk() }
            }
            Err(Failure::Findings { findings, .. }) => refused(findings.iter().flat_map(at_name).collect()),
            Err(Failure::Output(error)) => refused(at_name(&unreadable(&path, &error))),
        }
    }

    /// What a report says of where it comes from.
    pub fn imprint(&self, text: &str) -> Imprint {
        Imprint {
            brief: self.name().unwrap_or_else(|| "not saved yet".to_owned()),
            text: text.to_owned(),
            changes: Vec::new(),
            version: VERSION.to_owned(),
            date: clock::today(),
        }
    }
}

fn unreadable(path: &Path, error: &std::io::Error) -> Finding {
    Finding::placeless("unreadable", format!("cannot read {}: {error}", path.display()), "check the path")
}

/// A finding about the name of the file.
fn at_name(finding: &Finding) -> Vec<Told> {
    let mut all = told("", std::slice::from_ref(finding));
    all.iter_mut().for_each(|one| one.fields = vec!["as".to_owned()]);
    all
}

/// The path of a new file, in the folder that the program was started in: a plain name and nothing else.
fn plain(name: &str) -> Result<PathBuf, Finding> {
    let name = name.trim();
    let letter = |c: char| c.is_alphanumeric() || matches!(c, ' ' | '-' | '_' | '.' | '(' | ')');
    let stem = name.strip_suffix(".toml").filter(|stem| !stem.is_empty() && !stem.starts_with('.'));
    let fine = stem.is_some_and(|stem| stem.chars().all(letter));
    if fine && name.chars().count() <= LONGEST {
        return Ok(PathBuf::from(name));
    }
    let what = if name.is_empty() { "the brief has no file yet" } else { "this is no plain name of a file" };
    Err(Finding::placeless(
        "bad-name",
        what,
        "write a name such as my-drink.toml; it goes to the folder you started in",
    ))
}

#[cfg(test)]
mod tests {
    use super::plain;

    #[test]
    fn a_new_file_has_a_plain_name() {
        assert!(plain("my sour (2).toml").is_ok() && plain("crème.toml").is_ok());
        for bad in [
            "",
            ".toml",
            "a.txt",
            "../a.toml",
            "a/b.toml",
            "c:\\a.toml",
            ".a.toml",
            "a\u{0}.toml",
            "a:b.toml",
        ] {
            assert!(plain(bad).is_err(), "{bad}");
        }
    }
}
