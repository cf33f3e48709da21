//! Flavour notes: words of the user's own. They are counted, and nobody here tastes anything.

use super::{Brief, Pour, poured};

/// Which notes a brief asks for.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Notes {
    /// Those of which as many as possible are to be covered, each once; none where the aim is another.
    pub aimed: Vec<String>,
    /// All that any part of the brief asks for, each once: first those of the aim.
    pub asked: Vec<String>,
}

/// Whether two notes are the same word: letter case and blanks around it do not matter.
pub fn same_note(a: &str, b: &str) -> bool {
    a.trim().to_lowercase() == b.trim().to_lowercase()
}

impl Brief {
    /// Which of the poured ingredients carry a note, in the order of the pours.
    pub fn carriers<'p>(&'p self, note: &'p str, pours: &'p [Pour]) -> impl Iterator<Item = usize> + 'p {
        let carries = move |pour: &&Pour| pour.amount > 0.0 && self.candidates[pour.candidate].has_note(note);
        pours.iter().filter(carries).map(|pour| pour.candidate)
    }

    /// How many of the aimed notes are carried by what is poured.
    pub fn covered(&self, pours: &[Pour]) -> usize {
        let carried = |note: &&String| {
            let mut candidates = self.candidates.iter().enumerate();
            candidates.any(|(at, candidate)| candidate.has_note(note) && poured(pours, at) > 0.0)
        };
        self.notes.aimed.iter().filter(carried).count()
    }
}
