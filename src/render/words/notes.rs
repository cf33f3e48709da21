//! Flavour notes in words: which of those that are asked for come from where. They are words of the user's own; the
//! program counts them and tastes nothing.

use super::listed;
use crate::answer::{NoteLine, SpecLine};

/// What is said once of all notes.
pub const COUNTED: &str = "Notes are words, and are counted here; nothing here tastes.";

fn carried(note: &NoteLine) -> bool {
    !note.from.is_empty()
}

/// `stone fruit from apricot liqueur, honey from honey syrup`
pub fn notes_carried(spec: &SpecLine) -> String {
    let from = |note: &NoteLine| format!("{} from {}", note.note, listed(&note.from));
    spec.notes.iter().filter(|note| carried(note)).map(from).collect::<Vec<_>>().join(", ")
}

/// `stone fruit from apricot liqueur, honey from honey syrup; no citrus`; nothing where none is asked for.
pub fn notes_words(spec: &SpecLine) -> Option<String> {
    let missing: Vec<&str> =
        spec.notes.iter().filter(|note| !carried(note)).map(|note| note.note.as_str()).collect();
    let missing = if missing.is_empty() { String::new() } else { format!("no {}", missing.join(", no ")) };
    let parts: Vec<String> =
        [notes_carried(spec), missing].into_iter().filter(|part| !part.is_empty()).collect();
    (!parts.is_empty()).then(|| parts.join("; "))
}

/// What a card says of its notes: `Notes: honey from honey syrup. …`
pub fn notes_sentence(spec: &SpecLine) -> Option<String> {
    notes_words(spec).map(|words| format!("Notes: {words}. {COUNTED}"))
}

/// What another spec carries more or less than the best: `and citrus, no honey`; nothing where it carries the same.
pub fn notes_turn(best: &SpecLine, other: &SpecLine) -> Option<String> {
    let named = |spec: &SpecLine, than: &SpecLine| -> Vec<String> {
        let lacks = |note: &str| than.notes.iter().any(|own| own.note == note && !carried(own));
        let more = spec.notes.iter().filter(|note| carried(note) && lacks(&note.note));
        more.map(|note| note.note.clone()).collect()
    };
    let (more, less) = (named(other, best), named(best, other));
    let with = |word: &str, notes: &[String]| {
        notes.iter().map(|note| format!("{word} {note}")).collect::<Vec<_>>().join(", ")
    };
    let parts: Vec<String> =
        [with("and", &more), with("no", &less)].into_iter().filter(|part| !part.is_empty()).collect();
    (!parts.is_empty()).then(|| parts.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn noted(notes: &[(&str, &[&str])]) -> Vec<NoteLine> {
        let one = |(note, from): &(&str, &[&str])| NoteLine {
            note: (*note).to_owned(),
            from: from.iter().map(|name| (*name).to_owned()).collect(),
        };
        notes.iter().map(one).collect()
    }

    #[test]
    fn notes_are_told_with_where_they_come_from() {
        let brief = crate::render::fixture::brief();
        let solved = crate::render::fixture::solved(&brief);
        let line = |notes| SpecLine { notes, ..crate::answer::spec_line(&brief, &solved.specs[0], None) };
        let best = line(noted(&[("honey", &["honey syrup"]), ("citrus", &["lime", "verjus"]), ("oak", &[])]));
        let other = line(noted(&[("honey", &[]), ("citrus", &["lime"]), ("oak", &["rum"])]));
        let words = "honey from honey syrup, citrus from lime and verjus; no oak";
        assert_eq!(notes_words(&best).as_deref(), Some(words));
        assert_eq!(notes_turn(&best, &other).as_deref(), Some("and oak, no honey"));
        assert_eq!(notes_carried(&best), "honey from honey syrup, citrus from lime and verjus");
        assert_eq!((notes_words(&line(vec![])), notes_turn(&best, &best)), (None, None));
    }
}
