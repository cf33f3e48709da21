//! The data file, taken off the shelf entry by entry.
//!
//! A brief needs a handful of entries, so each is read when it is first asked for, and only the lines
//! with the names are looked at before.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use super::folded::folded;
use super::{Entry, file};

/// The data file inside the program.
pub(super) const TEXT: &str = include_str!("larder.toml");
/// What each entry begins with.
const MARK: &str = "\n[[entry]]\n";

/// One entry, read or not yet.
pub(super) struct Place {
    /// Its name and other words.
    names: Vec<&'static str>,
    text: &'static str,
    /// Boxed, so that the places of a hundred unread entries take little room.
    entry: OnceLock<Box<Entry>>,
}

impl Place {
    fn of(text: &'static str) -> Self {
        let quoted = |line: &'static str| line.split('"').skip(1).step_by(2);
        let names = text.lines().take_while(|l| l.starts_with("name =") || l.starts_with("also ="));
        Self { names: names.flat_map(quoted).collect(), text, entry: OnceLock::new() }
    }

    /// The entry, read on first use.
    ///
    /// # Panics
    /// When the data file inside the program is broken, which a test rules out.
    pub(super) fn entry(&self) -> &Entry {
        self.entry.get_or_init(|| {
            let read = file::entry(self.text).unwrap_or_else(|fault| panic!("larder.toml: {fault}"));
            Box::new(read)
        })
    }
}

static PLACES: OnceLock<Vec<Place>> = OnceLock::new();

/// All places, in the order of the data file.
pub(super) fn places() -> &'static [Place] {
    PLACES.get_or_init(|| TEXT.split(MARK).skip(1).map(Place::of).collect())
}

static NAMES: OnceLock<BTreeMap<String, usize>> = OnceLock::new();

/// The place that a name, already folded, is one of; of two the first.
pub(super) fn at(name: &str) -> Option<&'static Place> {
    let names = NAMES.get_or_init(|| {
        let mut names = BTreeMap::new();
        for (at, place) in places().iter().enumerate() {
            for name in &place.names {
                names.entry(folded(name)).or_insert(at);
            }
        }
        names
    });
    names.get(name).and_then(|at| places().get(*at))
}

/// How many entries this process has read so far; `None` before anybody has asked for one, when not even
/// their names have been looked at. What a brief does not name costs it nothing.
pub fn opened() -> Option<usize> {
    PLACES.get().map(|places| places.iter().filter(|place| place.entry.get().is_some()).count())
}

/// All entries, in the order of the data file: by group, then from the common to the rare.
pub fn all() -> &'static [Entry] {
    static ENTRIES: OnceLock<Vec<Entry>> = OnceLock::new();
    ENTRIES.get_or_init(|| places().iter().map(|place| place.entry().clone()).collect())
}

/// The works that the entries name as sources, by short name, each in full.
///
/// # Panics
/// When the data file inside the program is broken, which a test rules out.
pub fn references() -> &'static BTreeMap<String, String> {
    static REFERENCES: OnceLock<BTreeMap<String, String>> = OnceLock::new();
    REFERENCES.get_or_init(|| {
        let head = TEXT.split(MARK).next().unwrap_or_default();
        file::references(head).unwrap_or_else(|fault| panic!("larder.toml: {fault}"))
    })
}
