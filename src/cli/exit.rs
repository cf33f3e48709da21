//! How a run ends: the exit statuses of the contract, and why there is no answer.

use std::process::ExitCode;

use crate::finding::Finding;
use crate::read::House;
use crate::solve::Ending;

/// The exit statuses of the contract.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Exit {
    /// Answered.
    Answered = 0,
    /// No spec meets the brief, or the given one does not.
    Unmet = 1,
    /// The brief or the command line is wrong.
    BadInput = 2,
    /// Stopped at a limit with the best found so far.
    Stopped = 3,
    /// A fault of the program.
    Fault = 70,
}

impl Exit {
    /// Of an answer with several parts: one that is found is enough, and one that was stopped leaves it open.
    pub fn of_all(outcomes: impl Iterator<Item = Ending>) -> Self {
        let all: Vec<Ending> = outcomes.collect();
        match (all.contains(&Ending::Stopped), all.contains(&Ending::Found)) {
            (true, _) => Self::Stopped,
            (false, true) => Self::Answered,
            (false, false) => Self::Unmet,
        }
    }
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(exit as u8)
    }
}

/// The texts in which findings have their places, and what they are called.
#[derive(Debug, Clone, Default)]
pub struct Sources {
    /// What the text that was given is called.
    pub name: String,
    /// That text.
    pub text: String,
    /// The name and text of the house, where there is one.
    pub house: Option<(String, String)>,
}

impl Sources {
    /// A text, and the house that it names.
    pub fn of(name: &str, text: &str, house: Option<&House>) -> Self {
        let house = house.map(|h| (h.name.clone(), String::from_utf8_lossy(&h.bytes).into_owned()));
        Self { name: name.to_owned(), text: text.to_owned(), house }
    }
}

/// Why a command has no answer.
#[derive(Debug, thiserror::Error)]
pub enum Failure {
    /// Something is wrong with what the user gave.
    #[error("the input is wrong")]
    Findings {
        /// What.
        findings: Vec<Finding>,
        /// The texts in which the findings have their places.
        sources: Sources,
    },
    /// The answer could not be written.
    #[error("the answer could not be written: {0}")]
    Output(#[from] std::io::Error),
}

impl Failure {
    /// One thing that is wrong, with no place in a text.
    pub fn placeless(code: &'static str, what: impl Into<String>, help: impl Into<String>) -> Self {
        Self::of_line("", None, vec![Finding::placeless(code, what, help)])
    }

    /// What is wrong with the line of a drink, or with the house that its ingredients are looked up in.
    pub fn of_line(line: &str, house: Option<&House>, findings: Vec<Finding>) -> Self {
        Self::Findings { findings, sources: Sources::of("the command line", line, house) }
    }
}
