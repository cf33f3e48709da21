//! A proof read line by line, and how it is refused.

use std::iter::Peekable;
use std::str::Lines as TextLines;

/// Where a proof fails, and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal {
    /// The line of the proof, from 1 on.
    pub line: usize,
    /// Why.
    pub what: String,
}

/// A proof that is read line by line.
pub(super) struct Reader<'t> {
    lines: Peekable<TextLines<'t>>,
    at: usize,
}

impl<'t> Reader<'t> {
    /// Before the first line of a proof.
    pub fn of(proof: &'t str) -> Self {
        Self { lines: proof.lines().peekable(), at: 0 }
    }

    /// The next line.
    pub fn next(&mut self) -> Result<&'t str, Refusal> {
        self.at += 1;
        self.lines.next().ok_or_else(|| self.refuse("the proof ends too early"))
    }

    /// The next line, if it begins with a word: what follows it.
    pub fn after(&mut self, word: &str) -> Option<&'t str> {
        let rest = self.lines.peek()?.strip_prefix(word)?;
        let rest = if rest.is_empty() { rest } else { rest.strip_prefix(' ')? };
        self.at += 1;
        self.lines.next();
        Some(rest)
    }

    /// The next line has to be this.
    pub fn expect(&mut self, line: &str, why: &str) -> Result<(), Refusal> {
        if self.next()? == line { Ok(()) } else { Err(self.refuse(why)) }
    }

    /// No more lines may follow.
    pub fn over(&mut self, why: &str) -> Result<(), Refusal> {
        if self.lines.peek().is_none() {
            return Ok(());
        }
        self.at += 1;
        Err(self.refuse(why))
    }

    /// Why it fails at the last line.
    pub fn refuse(&self, what: impl Into<String>) -> Refusal {
        Refusal { line: self.at, what: what.into() }
    }
}
