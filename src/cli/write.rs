//! Writing a file: whole or not at all, and over another one only when told to.

use std::fs::Permissions;
use std::io::{self, ErrorKind, Write};
use std::path::Path;

use super::exit::Failure;

/// What happens to a file that is there already.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Existing {
    /// It is left alone.
    Keep,
    /// It is replaced.
    Replace,
}

/// Says early that a file will not be written because it is there already.
pub fn refuse_existing(path: &Path, existing: Existing) -> Result<(), Failure> {
    match (existing, path.symlink_metadata()) {
        (Existing::Keep, Ok(_)) => Err(refused(path, &ErrorKind::AlreadyExists.into())),
        _ => Ok(()),
    }
}

/// Writes to a temporary file beside the target, then gives it its name.
pub fn whole(path: &Path, text: &str, existing: Existing) -> Result<(), Failure> {
    written(path, text, existing).map_err(|error| refused(path, &error))
}

fn written(path: &Path, text: &str, existing: Existing) -> io::Result<()> {
    let folder = path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut builder = tempfile::Builder::new();
    if let Some(permissions) = readable_by_all() {
        builder.permissions(permissions);
    }
    let mut file = builder.tempfile_in(folder)?;
    file.write_all(text.as_bytes())?;
    file.as_file().sync_all()?;
    match existing {
        Existing::Keep => file.persist_noclobber(path),
        Existing::Replace => file.persist(path),
    }
    .map(drop)
    .map_err(|e| e.error)
}

/// What any new file gets; the process's mask still takes from it.
#[cfg(unix)]
fn readable_by_all() -> Option<Permissions> {
    use std::os::unix::fs::PermissionsExt;
    Some(Permissions::from_mode(0o666))
}

#[cfg(not(unix))]
fn readable_by_all() -> Option<Permissions> {
    None
}

fn refused(path: &Path, error: &io::Error) -> Failure {
    let name = path.display();
    let (why, help) = match error.kind() {
        ErrorKind::AlreadyExists => ("it exists already", "choose another name, or remove it first"),
        ErrorKind::NotFound => ("there is no such folder", "make the folder first"),
        ErrorKind::PermissionDenied => ("writing there is not permitted", "choose another folder"),
        ErrorKind::IsADirectory => ("it is a folder", "name a file inside it"),
        _ => {
            let what = format!("cannot write {name}: {error}");
            return Failure::placeless("unwritable", what, "choose another place");
        }
    };
    Failure::placeless("unwritable", format!("cannot write {name}: {why}"), help)
}
