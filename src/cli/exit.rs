//! How a run ends: the exit statuses of the contract, and what is said on the way out.

use std::io::Write as _;
use std::panic::PanicHookInfo;
use std::process::ExitCode;

use super::{draw, output};
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

    /// Says what is wrong and how that ends the run.
    pub fn report(&self) -> Exit {
        match self {
            Self::Findings { findings, sources } => {
                say_findings(findings, sources);
                Exit::BadInput
            }
            Self::Output(_) => {
                output::say(&format!("washline: {self}\n"));
                Exit::Fault
            }
        }
    }
}

/// Draws findings on standard error.
pub fn say_findings(findings: &[Finding], sources: &Sources) {
    let given = draw::Source { name: &sources.name, text: &sources.text };
    let house = sources.house.as_ref().map(|(name, text)| draw::Source { name, text });
    output::say(&draw::draw_with(findings, given, house, output::colour_of_errors()));
}

/// What the argument parser has to say: help and the version are answers, the rest is bad input.
pub fn usage(error: &clap::Error) -> Exit {
    let printed = output::for_a_reader(error.print().and_then(|()| std::io::stdout().flush()));
    match (error.use_stderr(), printed) {
        // With standard error gone there is nobody left to tell.
        (true, _) => Exit::BadInput,
        (false, Ok(())) => Exit::Answered,
        (false, Err(error)) => Failure::Output(error).report(),
    }
}

/// Says that the program itself is at fault.
pub fn report_fault(fault: &PanicHookInfo) {
    let payload = fault.payload();
    let words = payload.downcast_ref::<String>().map(String::as_str);
    let what = words.or_else(|| payload.downcast_ref::<&str>().copied()).unwrap_or("no words for it");
    let place = fault.location().map_or_else(String::new, |l| format!(" ({}:{})", l.file(), l.line()));
    let _ = writeln!(
        std::io::stderr(),
        "washline: a fault of the program, not of the brief: {what}{place}\n\
         Trust no figure of this run. Please report it with the brief that led here."
    );
}
