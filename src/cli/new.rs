//! `washline new FILE`

use std::io::{self, ErrorKind, Write};
use std::path::Path;

use super::args::NewArgs;
use super::exit::{Exit, Failure};
use super::output;
use crate::read;

/// Writes the starter brief, whole or not at all, and never over a file.
pub fn run(args: &NewArgs) -> Result<Exit, Failure> {
    write_new(&args.file, read::starter()).map_err(|error| refused(&args.file, &error))?;
    let name = args.file.display();
    output::say(&format!("Wrote {name}. Change it, then: washline spec {name}\n"));
    Ok(Exit::Answered)
}

/// Writes to a temporary file beside the target, then gives it its name, if that is free.
fn write_new(path: &Path, text: &str) -> io::Result<()> {
    let folder = path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut builder = tempfile::Builder::new();
    #[cfg(unix)]
    builder.permissions(readable_by_all());
    let mut file = builder.tempfile_in(folder)?;
    file.write_all(text.as_bytes())?;
    file.as_file().sync_all()?;
    file.persist_noclobber(path).map(drop).map_err(|e| e.error)
}

/// What any new file gets; the process's mask still takes from it.
#[cfg(unix)]
fn readable_by_all() -> std::fs::Permissions {
    use std::os::unix::fs::PermissionsExt;
    std::fs::Permissions::from_mode(0o666)
}

fn refused(path: &Path, error: &io::Error) -> Failure {
    let name = path.display();
    let (why, help) = match error.kind() {
        ErrorKind::AlreadyExists => ("it exists already", "choose another name, or remove it first"),
        ErrorKind::NotFound => ("there is no such folder", "make the folder first"),
        ErrorKind::PermissionDenied => ("writing there is not permitted", "choose another folder"),
        _ => {
            return Failure::placeless(
                "unwritable",
                format!("cannot write {name}: {error}"),
                "choose another place",
            );
        }
    };
    Failure::placeless("unwritable", format!("cannot write {name}: {why}"), help)
}
