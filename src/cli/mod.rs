//! The command line: arguments, files, the terminal and the clock. Nothing below knows of them.

mod args;
mod ask;
mod batch;
mod calibrate;
mod check;
mod clock;
mod compare;
mod complaints;
pub mod draw;
mod exit;
mod flight;
mod input;
mod keep;
mod larder;
mod learn;
mod live;
mod manual;
mod measure;
mod menu;
mod model;
mod new;
mod output;
mod progress;
mod proof;
mod signals;
mod spec;
mod swap;
mod sweep;
mod write;

use std::panic;
use std::process::ExitCode;

use clap::Parser;

use args::{Cli, Command};
use exit::{Exit, Failure};

/// Runs the command that the arguments name and says how it ended.
///
/// A panic is a fault of ours: it is reported in plain words, with exit status 70.
pub fn run() -> ExitCode {
    panic::set_hook(Box::new(complaints::report_fault));
    let exit = panic::catch_unwind(|| match Cli::try_parse() {
        Ok(cli) => dispatch(&cli.command).unwrap_or_else(|failure| failure.report()),
        Err(error) => complaints::usage(&error),
    });
    exit.unwrap_or(Exit::Fault).into()
}

fn dispatch(command: &Command) -> Result<Exit, Failure> {
    match command {
        Command::Spec(args) => spec::run(args),
        Command::Check(args) => check::run(args),
        Command::Measure(args) => measure::run(args),
        Command::Compare(args) => compare::run(args),
        Command::Flight(args) => flight::run(args),
        Command::Live(args) => live::run(args),
        Command::Learn(args) => learn::run(args),
        Command::Calibrate(args) => calibrate::run(args),
        Command::Larder(args) => larder::run(args),
        Command::Schema => manual::schema(),
        Command::New(args) => new::run(args),
        Command::Sweep(args) => sweep::run(args),
        Command::Batch(args) => batch::run(args),
        Command::Menu(args) => menu::run(args),
        Command::Model(args) => model::run(args),
        Command::Proof(args) => proof::run(args),
        Command::Manual(args) => manual::page(args),
        Command::Completions(args) => manual::completions(args),
    }
}
