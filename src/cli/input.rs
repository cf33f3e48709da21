//! Reading a brief from a file or from standard input.

use std::fs;
use std::io::{self, ErrorKind, Read};
use std::path::Path;
use std::sync::Arc;

use super::args::{BriefArgs, VERSION};
use super::clock;
use super::complaints::say_findings;
use super::exit::{Failure, Sources};
use crate::finding::Finding;
use crate::read::{self, Changes, House, Reading};
use crate::render::html::Imprint;

/// Reads the brief that the arguments name, and gives it beside the brief as it came in. Warnings are said on the way.
pub fn read_page(args: &BriefArgs) -> Result<(Reading, Page), Failure> {
    if args.swaps.iter().any(|swap| swap.new == read::ANY) {
        let what = "which ingredient is to come in? Only `washline spec` tries them all";
        return Err(Failure::placeless("swap-any", what, "name one: --swap \"lime juice=verjus\""));
    }
    let page = page_of(args)?;
    match read::read_changed(&page.bytes, &page.changes) {
        Ok(reading) => {
            page.warn(&reading.warnings);
            Ok((reading, page))
        }
        Err(findings) => Err(page.refused(findings)),
    }
}

/// A brief as it came in.
pub struct Page {
    /// Its bytes.
    pub bytes: Vec<u8>,
    /// What changes in it for this run, and its house.
    pub changes: Changes,
    /// What it is called.
    name: String,
}

impl Page {
    fn text(&self) -> String {
        String::from_utf8_lossy(&self.bytes).into_owned()
    }

    /// Where a page about it comes from.
    pub fn imprint(&self) -> Imprint {
        // Of a path the last part is enough, and the folders before it are nobody else's business.
        let name = Path::new(&self.name).file_name().map(|name| name.to_string_lossy().into_owned());
        Imprint {
            brief: name.unwrap_or_else(|| self.name.clone()),
            text: self.text(),
            changes: self.changes.words(),
            version: VERSION.to_owned(),
            date: clock::today(),
        }
    }

    /// Says what is worth a second look.
    pub fn warn(&self, warnings: &[Finding]) {
        if !warnings.is_empty() {
            say_findings(warnings, &self.sources());
        }
    }

    /// What is wrong with it.
    pub fn refused(&self, findings: Vec<Finding>) -> Failure {
        Failure::Findings { findings, sources: self.sources() }
    }

    fn sources(&self) -> Sources {
        Sources::of(&self.name, &self.text(), self.changes.house.as_deref())
    }
}

/// The brief that the arguments name, unread.
pub fn page_of(args: &BriefArgs) -> Result<Page, Failure> {
    let (bytes, name) = bytes(&args.brief)?;
    let mut page = Page { bytes, name, changes: args.changes() };
    page.changes.house = house_of(&page, &args.brief)?;
    Ok(page)
}

/// The house that a brief names, beside the brief; beside the folder that one works in where the brief comes
/// on standard input or the command line names it.
fn house_of(page: &Page, brief: &Path) -> Result<Option<Arc<House>>, Failure> {
    let Some(named) = read::house_named(&page.bytes, &page.changes) else { return Ok(None) };
    let beside = brief.parent().filter(|_| named.place.is_some() && brief != Path::new("-"));
    let path = beside.map_or_else(|| named.path.clone().into(), |folder| folder.join(&named.path));
    house(&path).map(Some).map_err(|failure| match (failure, named.place) {
        (Failure::Findings { mut findings, .. }, Some(place)) => {
            findings.iter_mut().for_each(|finding| finding.place = Some(place.clone()));
            page.refused(findings)
        }
        (failure, _) => failure,
    })
}

/// A proof as it came in, and what to call it.
pub fn text(path: &Path) -> Result<(String, String), Failure> {
    let name = path.display().to_string();
    let help = "check the path; `washline spec BRIEF --proof FILE` writes a proof";
    let read = fs::File::open(path).and_then(|file| {
        let mut text = String::new();
        file.take(MOST_PROOF).read_to_string(&mut text).map(|_| text)
    });
    read.map(|text| (text, name.clone())).map_err(|error| unreadable_as(&name, &error, help))
}

/// No proof that is written is as large as this, bytes.
const MOST_PROOF: u64 = 1 << 26;

/// A house, unread.
pub fn house(path: &Path) -> Result<Arc<House>, Failure> {
    let name = path.display().to_string();
    let bytes = bytes_of(path)
        .map_err(|e| unreadable_as(&name, &e, "check the path; a house is a file of [[candidate]] tables"))?;
    Ok(Arc::new(House { name, bytes }))
}

/// The bytes of a file, one more than a brief may have at most.
pub fn bytes_of(path: &Path) -> io::Result<Vec<u8>> {
    fs::File::open(path).and_then(page)
}

/// The bytes of the brief, and what to call it.
fn bytes(path: &Path) -> Result<(Vec<u8>, String), Failure> {
    if path == Path::new("-") {
        let bytes = page(io::stdin().lock()).map_err(|e| unreadable("standard input", &e))?;
        return Ok((bytes, "standard input".to_owned()));
    }
    let name = path.display().to_string();
    let bytes = bytes_of(path).map_err(|e| unreadable(&name, &e))?;
    Ok((bytes, name))
}

/// All bytes, but no more than one beyond the most that a brief may have: a pipe need not end.
fn page(from: impl Read) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    from.take(read::MOST_BYTES as u64 + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}

fn unreadable(name: &str, error: &io::Error) -> Failure {
    unreadable_as(name, error, "check the path, or start one with `washline new FILE`")
}

fn unreadable_as(name: &str, error: &io::Error, lacking: &'static str) -> Failure {
    let (why, help) = match error.kind() {
        ErrorKind::NotFound => ("there is no such file", lacking),
        ErrorKind::IsADirectory => ("it is a directory", "name the brief inside it"),
        ErrorKind::NotADirectory => ("what stands before the last / is no folder", "check the path"),
        ErrorKind::PermissionDenied => ("reading it is not permitted", "check its permissions"),
        _ => {
            return Failure::placeless(
                "unreadable",
                format!("cannot read {name}: {error}"),
                "check the path",
            );
        }
    };
    Failure::placeless("unreadable", format!("cannot read {name}: {why}"), help)
}
