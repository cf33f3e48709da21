//! Reading a brief from a file or from standard input.

use std::fs;
use std::io::{self, ErrorKind, Read};
use std::path::Path;

use super::args::{BriefArgs, ShowArgs};
use super::exit::{Failure, say_findings};
use super::later;
use crate::brief::Brief;
use crate::read;

/// Reads the brief that the arguments name. Warnings are said on the way.
pub fn brief(args: &BriefArgs, show: &ShowArgs) -> Result<Brief, Failure> {
    if show.report.is_some() {
        return Err(later::option("--report"));
    }
    if !args.swaps.is_empty() {
        return Err(later::option("--swap"));
    }
    let (bytes, source_name) = bytes(&args.brief)?;
    let text = String::from_utf8_lossy(&bytes).into_owned();
    match read::read(&bytes, &args.settings) {
        Ok(reading) => {
            if !reading.warnings.is_empty() {
                say_findings(&reading.warnings, &source_name, &text);
            }
            Ok(reading.brief)
        }
        Err(findings) => Err(Failure::Findings { findings, source_name, text }),
    }
}

/// The bytes of the brief, and what to call it.
fn bytes(path: &Path) -> Result<(Vec<u8>, String), Failure> {
    if path == Path::new("-") {
        let bytes = page(io::stdin().lock()).map_err(|e| unreadable("standard input", &e))?;
        return Ok((bytes, "standard input".to_owned()));
    }
    let name = path.display().to_string();
    let bytes = fs::File::open(path).and_then(page).map_err(|e| unreadable(&name, &e))?;
    Ok((bytes, name))
}

/// All bytes, but no more than one beyond the most that a brief may have: a pipe need not end.
fn page(from: impl Read) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    from.take(read::MOST_BYTES as u64 + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}

fn unreadable(name: &str, error: &io::Error) -> Failure {
    let (why, help) = match error.kind() {
        ErrorKind::NotFound => {
            ("there is no such file", "check the path, or start one with `washline new FILE`")
        }
        ErrorKind::IsADirectory => ("it is a directory", "name the brief inside it"),
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
