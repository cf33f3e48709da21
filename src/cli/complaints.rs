//! What a run has to complain of: findings, a command line that cannot be read, a fault of its own.

use std::io::Write as _;
use std::panic::PanicHookInfo;

use super::exit::{Exit, Failure, Sources};
use super::{draw, output};
use crate::finding::Finding;

impl Failure {
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
