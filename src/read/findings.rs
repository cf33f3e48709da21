//! The list of findings while a brief is read, and the places that are spoiled already.

use std::collections::BTreeSet;
use std::ops::Range;

use crate::finding::{Finding, Severity, line_and_column};

/// After so many findings no more "did you mean" is looked for: the work stays linear in the text.
const SUGGESTED: usize = 100;

/// So many findings are kept: nobody reads more, and a hostile file could bring millions.
const KEPT: usize = 1000;

/// No sentence of ours has more characters than this; what is beyond came from a hostile file.
const LONGEST: usize = 400;

/// Everything found so far.
#[derive(Debug, Default)]
pub struct Findings {
    list: Vec<Finding>,
    /// Whether any of them stops the brief from being used.
    stops: bool,
    /// Dotted keys whose value could not be used: what lacks because of them is not reported again.
    spoiled: BTreeSet<String>,
    /// Findings about repetitions, each with the byte where the first one stands.
    firsts: Vec<(usize, usize)>,
}

impl Findings {
    /// Adds an error at a place.
    pub fn error(
        &mut self,
        code: &'static str,
        place: Range<usize>,
        what: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.keep(Finding::error(code, place, what, help));
    }

    /// Adds an error that has no place in the text.
    pub fn placeless(&mut self, code: &'static str, what: impl Into<String>, help: impl Into<String>) {
        self.keep(Finding::placeless(code, what, help));
    }

    /// Adds a warning at a place.
    pub fn warning(
        &mut self,
        code: &'static str,
        place: Range<usize>,
        what: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.keep(Finding::warning(code, place, what, help));
    }

    fn keep(&mut self, mut finding: Finding) {
        self.stops |= finding.severity == Severity::Error;
        if self.list.len() < KEPT {
            finding.what = one_line(&finding.what, LONGEST);
            finding.help = one_line(&finding.help, LONGEST);
            self.list.push(finding);
        }
    }

    /// Adds an error about something that stands a second time; the first stands at byte `first`.
    pub fn repeated(
        &mut self,
        code: &'static str,
        place: Range<usize>,
        what: impl Into<String>,
        first: usize,
    ) {
        self.firsts.push((self.list.len(), first));
        self.error(code, place, what, "take one of the two away");
    }

    /// Remembers that the value at a dotted key could not be used.
    pub fn spoil(&mut self, key: impl Into<String>) {
        self.spoiled.insert(key.into());
    }

    /// Whether the value at a dotted key, or anything in it, could not be used.
    pub fn is_spoiled(&self, key: &str) -> bool {
        let inside = |found: &str| {
            found.strip_prefix(key).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
        };
        self.spoiled.range(key.to_owned()..).take_while(|found| found.starts_with(key)).any(|f| inside(f))
    }

    /// Whether something of a kind was said of a place.
    pub fn tells(&self, code: &str, place: &Range<usize>) -> bool {
        self.list.iter().any(|finding| finding.code == code && finding.place.as_ref() == Some(place))
    }

    /// Whether any of them stops the brief from being used.
    pub fn stops(&self) -> bool {
        self.stops
    }

    /// The word that was probably meant.
    pub fn closest<'a>(&self, word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
        if self.suggests() { closest(word, known) } else { None }
    }

    /// Whether what was meant is still looked for.
    pub fn suggests(&self) -> bool {
        self.list.len() <= SUGGESTED
    }

    /// All of them in the order of the text, those without a place first.
    pub fn into_list(self, text: &str) -> Vec<Finding> {
        let mut list = self.list;
        for (at, first) in self.firsts {
            if let (Some(finding), true) = (list.get_mut(at), first <= text.len()) {
                let (line, _) = line_and_column(text, first);
                finding.help = format!("the first stands in line {line}: {}", finding.help);
            }
        }
        list.sort_by_key(|f| f.place.as_ref().map(|place| place.start));
        list
    }
}

/// At most so many characters of a text, on one line and in the order in which they stand: control
/// characters and those that turn the direction of writing are spaces.
pub fn one_line(text: &str, most: usize) -> String {
    let plain = |c: char| {
        let turns = matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
        if c.is_control() || turns { ' ' } else { c }
    };
    let mut line: String = text.chars().map(plain).take(most + 1).collect();
    if line.chars().count() > most {
        line = line.chars().take(most - 1).chain(['…']).collect();
    }
    line
}

/// The word that was probably meant: few slips of the pen away, or one that has it as a part.
pub fn closest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let word = word.to_lowercase();
    // Nobody mistypes at this length, and the distance is quadratic in it.
    if word.is_empty() || word.len() > 60 {
        return None;
    }
    let slips_allowed = (word.chars().count() / 3).max(1);
    let mut best: Option<(usize, &str)> = None;
    for candidate in known {
        if candidate.len() > 120 {
            continue;
        }
        let folded = candidate.to_lowercase();
        let slips = strsim::osa_distance(&word, &folded);
        let part = word.chars().count() > 2 && folded.split([' ', '_', ',']).any(|piece| piece == word);
        let slips = if part { slips.min(slips_allowed) } else { slips };
        if slips <= slips_allowed && best.is_none_or(|(least, _)| slips < least) {
            best = Some((slips, candidate));
        }
    }
    best.map(|(_, candidate)| candidate)
}

/// What to do about a name that nothing has: the one that was probably meant, else what can be said anyway.
pub fn guess(meant: Option<&str>, otherwise: impl FnOnce() -> String) -> String {
    meant.map_or_else(otherwise, |meant| format!("did you mean \"{meant}\"?"))
}

/// The same about a key.
pub fn guess_key(meant: Option<&str>, otherwise: impl FnOnce() -> String) -> String {
    meant.map_or_else(otherwise, |meant| format!("did you mean `{meant}`?"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_nearest_word_is_meant_and_a_far_one_is_not() {
        let known = ["strength", "sugar", "sugar_acid", "aged rum"];
        assert_eq!(closest("strenght", known), Some("strength"));
        assert_eq!(closest("Sugr", known), Some("sugar"));
        assert_eq!(closest("rum", known), Some("aged rum"));
        assert_eq!(closest("proof", known), None);
        assert_eq!(closest("", known), None);
    }

    #[test]
    fn a_text_is_shown_on_one_line_cut_and_harmless() {
        assert_eq!(one_line("a\nb\u{1b}[1m\u{202e}c", 60), "a b [1m c");
        assert_eq!(one_line("abcd", 4), "abcd");
        assert_eq!(one_line("äöüßé", 4), "äöü…");
    }

    #[test]
    fn what_is_spoiled_covers_what_holds_it_and_not_its_neighbours() {
        let mut findings = Findings::default();
        findings.spoil("candidate.1.price");
        assert!(findings.is_spoiled("candidate.1.price") && findings.is_spoiled("candidate.1"));
        assert!(!findings.is_spoiled("candidate.10") && !findings.is_spoiled("candidate.1.pric"));
    }
}
