//! Writing a file: whole or not at all, and over another one only when told to.

use std::fmt;
use std::fs::File;
use std::io::{self, BufWriter, ErrorKind, Seek as _, Write};
use std::path::Path;

use super::exit::Failure;
use super::signals;
use crate::prove::Paper;

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
    let written = signals::held(|| written(path, &mut text.as_bytes(), existing));
    written.map_err(|error| refused(path, existing, &error))
}

fn written(path: &Path, text: &mut impl io::Read, existing: Existing) -> io::Result<()> {
    if existing == Existing::Replace && path.is_dir() {
        return Err(ErrorKind::IsADirectory.into());
    }
    let mut builder = tempfile::Builder::new();
    #[cfg(unix)]
    builder.permissions(readable_by_all());
    let mut file = builder.tempfile_in(folder_of(path))?;
    io::copy(text, file.as_file_mut())?;
    file.as_file().sync_all()?;
    match existing {
        Existing::Keep | Existing::Guard => file.persist_noclobber(path),
        Existing::Replace => file.persist(path),
    }
    .map(drop)
    .map_err(|e| e.error)
}

fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// What is written bit by bit, over minutes, to the disk of its target and never kept in memory as a whole.
///
/// Until it is whole it has no name: no signal has to wait meanwhile, and whatever ends the run, nothing stays.
pub struct Sheet<'p> {
    path: &'p Path,
    existing: Existing,
    file: BufWriter<File>,
    /// Why the file took no more.
    fault: Option<io::Error>,
}

impl<'p> Sheet<'p> {
    /// An empty one; says early where nothing can be written.
    pub fn beside(path: &'p Path, existing: Existing) -> Result<Self, Failure> {
        let file = signals::held(|| tempfile::tempfile_in(folder_of(path)));
        let file = BufWriter::new(file.map_err(|error| refused(path, existing, &error))?);
        Ok(Self { path, existing, file, fault: None })
    }

    /// It is whole: it becomes a file.
    pub fn named(mut self) -> Result<(), Failure> {
        let (path, existing) = (self.path, self.existing);
        let mut write = || {
            self.file.flush()?;
            let mut text = self.file.get_ref();
            text.rewind()?;
            signals::held(|| written(path, &mut text, existing))
        };
        write().map_err(|error| refused(path, existing, &error))
    }

    /// Why it could not be written, for whom it concerns.
    pub fn refused(self) -> Failure {
        let error = self.fault.unwrap_or_else(|| ErrorKind::Other.into());
        refused(self.path, self.existing, &error)
    }

    fn kept(&mut self, done: io::Result<()>) -> fmt::Result {
        done.map_err(|error| {
            self.fault = Some(error);
            fmt::Error
        })
    }
}

impl fmt::Write for Sheet<'_> {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        let done = self.file.write_all(text.as_bytes());
        self.kept(done)
    }
}

impl Paper for Sheet<'_> {
    fn blank(&mut self) -> fmt::Result {
        let done = self.file.rewind().and_then(|()| self.file.get_ref().set_len(0));
        self.kept(done)
    }
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

#[cfg(test)]
mod tests {
    use std::fmt::Write as _;
    use std::fs;

    use super::*;

    fn names(folder: &Path) -> Vec<std::ffi::OsString> {
        fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").file_name()).collect()
    }

    #[test]
    fn a_sheet_has_no_name_until_it_is_whole_and_starts_anew_when_it_is_blanked() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("sheet");
        for keep in [false, true] {
            let mut sheet = Sheet::beside(&path, Existing::Guard).expect("a sheet");
            // More than any buffer holds.
            (0..20_000).for_each(|line| writeln!(sheet, "line {line}").expect("room"));
            assert_eq!(names(folder.path()), [""; 0]);
            sheet.blank().expect("a blank sheet");
            writeln!(sheet, "another").expect("room");
            assert_eq!(names(folder.path()), [""; 0]);
            if keep {
                sheet.named().expect("a file");
            }
        }
        assert_eq!(names(folder.path()), ["sheet"]);
        assert_eq!(fs::read_to_string(&path).expect("a file"), "another\n");
        let mut other = Sheet::beside(&path, Existing::Guard).expect("a sheet");
        writeln!(other, "over it").expect("room");
        assert!(other.named().is_err());
        assert_eq!(fs::read_to_string(&path).expect("a file"), "another\n");
        assert_eq!(names(folder.path()), ["sheet"]);
    }

    /// `/dev/full` takes nothing: full(4).
    #[test]
    #[cfg(target_os = "linux")]
    fn a_sheet_says_why_it_takes_no_more() {
        let file = BufWriter::new(File::options().write(true).open("/dev/full").expect("the device"));
        let mut sheet = Sheet { path: Path::new("sheet"), existing: Existing::Guard, file, fault: None };
        let ended = (0..20_000).try_for_each(|line| writeln!(sheet, "line {line}"));
        assert_eq!(ended, Err(fmt::Error));
        let Failure::Findings { findings, .. } = sheet.refused() else { panic!("it is for the user") };
        assert!(findings[0].what.contains("cannot write sheet: the disk is full"), "{}", findings[0].what);
    }
}
