//! How a run ends: the exit statuses of the contract, and why there is no answer.

use std::process::ExitCode;

use crate::finding::Finding;
use crate::read::House;

/// The exit statuses of the contract.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Exit {
    /// Answered.
    Answered,
    /// No spec meets the brief, or the given one does not.
    Unmet,
    /// The brief or the command line is wrong.
    BadInput,
    /// Stopped at a limit with the best found so far.
    Stopped,
    /// A fault of the program.
    Fault,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(match exit {
            Exit::Answered => 0,
            Exit::Unmet => 1,
            Exit::BadInput => 2,
            Exit::Stopped => 3,
            Exit::Fault => 70,
        })
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
    /// The line of a drink, and the house that its ingredients are looked up in.
    pub fn of_line(line: &str, house: Option<&House>) -> Self {
        let house = house.map(|h| (h.name.clone(), String::from_utf8_lossy(&h.bytes).into_owned()));
        Self { name: "the command line".to_owned(), text: line.to_owned(), house }
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
        let findings = vec![Finding::placeless(code, what, help)];
        let sources = Sources { name: "the command line".to_owned(), ..Sources::default() };
        Self::Findings { findings, sources }
    }
}
