//! Writing a file: whole or not at all, and over another one only when told to.

use std::io::{self, ErrorKind, Write};
use std::path::Path;

use super::exit::Failure;
use super::signals;

/// What happens to a file that is there already.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Existing {
    /// It is always left alone.
    Keep,
    /// It is left alone, until `--force` is given.
    Guard,
    /// It is replaced.
    Replace,
}

/// Says early that a file will not be written because it is there already.
pub fn refuse_existing(path: &Path, existing: Existing) -> Result<(), Failure> {
    if existing == Existing::Replace || path.symlink_metadata().is_err() {
        return Ok(());
    }
    Err(refused(path, existing, &ErrorKind::AlreadyExists.into()))
}

/// Writes to a temporary file beside the target, then gives it its name. A signal in between waits, so
/// that the temporary file does not stay behind.
pub fn whole(path: &Path, text: &str, existing: Existing) -> Result<(), Failure> {
    signals::held(|| written(path, text, existing)).map_err(|error| refused(path, existing, &error))
}

fn written(path: &Path, text: &str, existing: Existing) -> io::Result<()> {
    if existing == Existing::Replace && path.is_dir() {
        return Err(ErrorKind::IsADirectory.into());
    }
    let folder = path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut builder = tempfile::Builder::new();
    #[cfg(unix)]
    builder.permissions(readable_by_all());
    let mut file = builder.tempfile_in(folder)?;
    file.write_all(text.as_bytes())?;
    file.as_file().sync_all()?;
    match existing {
        Existing::Keep | Existing::Guard => file.persist_noclobber(path),
        Existing::Replace => file.persist(path),
    }
    .map(drop)
    .map_err(|e| e.error)
}

/// What any new file gets; the process's mask still takes from it.
#[cfg(unix)]
fn readable_by_all() -> std::fs::Permissions {
    use std::os::unix::fs::PermissionsExt;
    std::fs::Permissions::from_mode(0o666)
}

fn refused(path: &Path, existing: Existing, error: &io::Error) -> Failure {
    let name = path.display();
    let (why, help) = match error.kind() {
        ErrorKind::AlreadyExists if existing == Existing::Guard => {
            ("it exists already", "choose another name, or let --force replace it")
        }
        ErrorKind::AlreadyExists => ("it exists already", "choose another name, or remove it first"),
        ErrorKind::NotFound => ("there is no such folder", "make the folder first"),
        ErrorKind::PermissionDenied => ("writing there is not permitted", "choose another folder"),
        ErrorKind::IsADirectory => ("it is a folder", "name a file inside it"),
        ErrorKind::NotADirectory => ("what stands before the last / is no folder", "check the path"),
        ErrorKind::ReadOnlyFilesystem => ("nothing can be written to that disk", "choose another folder"),
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => {
            ("the disk is full", "make room, or choose another folder")
        }
        _ => {
            let what = format!("cannot write {name}: {error}");
            return Failure::placeless("unwritable", what, "choose another place");
        }
    };
    Failure::placeless("unwritable", format!("cannot write {name}: {why}"), help)
}
