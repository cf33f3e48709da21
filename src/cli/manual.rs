//! `washline manual`, `completions` and `schema`: what the command line and a brief take, for `man`, shells and editors.

use clap::{Command, CommandFactory as _};
use clap_mangen::Man;

use super::args::{Cli, CompletionsArgs, ManualArgs};
use super::exit::{Exit, Failure};
use super::output;
use crate::read;

/// Writes the manual page of the program or of one command, in roff.
pub fn page(args: &ManualArgs) -> Result<Exit, Failure> {
    let mut program = Cli::command().disable_help_subcommand(true);
    program = program.subcommand_help_heading("COMMANDS").subcommand_value_name("command");
    // Only then do the commands know their whole names.
    program.build();
    let command = match &args.command {
        None => &program,
        Some(name) => program.find_subcommand(name).ok_or_else(|| unknown(name, &program))?,
    };
    let source = concat!("washline ", env!("CARGO_PKG_VERSION"));
    let mut page = Vec::new();
    Man::new(command.clone()).source(source).manual("washline").render(&mut page)?;
    output::answer(&String::from_utf8_lossy(&page))?;
    Ok(Exit::Answered)
}

fn unknown(name: &str, program: &Command) -> Failure {
    let names: Vec<&str> = program.get_subcommands().map(Command::get_name).collect();
    let help = format!("name one of {}, or none for the page of the program", names.join(", "));
    Failure::placeless("unknown-command", format!("there is no command \"{name}\""), help)
}

/// Writes the completions for one shell.
pub fn completions(args: &CompletionsArgs) -> Result<Exit, Failure> {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut Cli::command(), "washline", &mut script);
    output::answer(&String::from_utf8_lossy(&script))?;
    Ok(Exit::Answered)
}

/// Writes the JSON Schema of the brief.
pub fn schema() -> Result<Exit, Failure> {
    output::answer(&format!("{:#}\n", read::schema()))?;
    Ok(Exit::Answered)
}
