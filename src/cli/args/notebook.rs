//! What the commands take that go round with the drink: flight, learn, calibrate.

use std::path::PathBuf;
use std::time::Duration;

use clap::Args;

use super::{BriefArgs, LookArgs, ShowArgs, seconds};

/// How an answer is shown that has no page of its own, and where.
#[derive(Debug, Args)]
#[command(mut_arg("only", |only| only.help(ONLY)))]
pub struct PlainArgs {
    #[command(flatten)]
    pub look: LookArgs,
    /// Writes the answer to a file instead, whole or not at all; one that exists is left alone
    #[arg(long, value_name = "FILE")]
    pub write: Option<PathBuf>,
    /// Lets --write replace a file that exists
    #[arg(long, requires = "write")]
    pub force: bool,
}

/// What `--only` is here.
const ONLY: &str = "Shows one part of the answer alone, for example key; which there are stands at its end";

impl PlainArgs {
    /// The same as of an answer that could have a page.
    pub fn show(&self) -> ShowArgs {
        ShowArgs { look: self.look.clone(), report: None, write: self.write.clone(), force: self.force }
    }
}

/// `washline flight`
#[derive(Debug, Args)]
pub struct FlightArgs {
    #[command(flatten)]
    pub brief: BriefArgs,
    /// What steps from glass to glass, for example sugar; given twice, two measures make a grid
    #[arg(long, value_name = "MEASURE", required = true)]
    pub along: Vec<String>,
    /// How many glasses, from 2 to 12; on a grid along each measure [default: 5, on a grid 3]
    #[arg(long, value_name = "COUNT", value_parser = glasses)]
    pub glasses: Vec<usize>,
    /// Where the glasses begin [default: the brief's lower limit, else a quarter under its best spec]
    #[arg(long, value_name = "FIGURE", allow_hyphen_values = true)]
    pub from: Vec<String>,
    /// Where they end [default: the brief's upper limit, else a quarter over its best spec]
    #[arg(long, value_name = "FIGURE", allow_hyphen_values = true)]
    pub to: Vec<String>,
    /// What the codes are drawn from [default: from what is poured, so that the same flight has the same codes]
    #[arg(long, value_name = "NUMBER")]
    pub seed: Option<u32>,
    /// Writes the glasses into the brief under their codes, for `[[tasted]]` to name
    #[arg(long)]
    pub keep: bool,
    #[command(flatten)]
    pub show: PlainArgs,
    /// Stops after so many seconds with the best found so far
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    pub time_limit: Option<Duration>,
}

/// `washline learn`
#[derive(Debug, Args)]
pub struct LearnArgs {
    #[command(flatten)]
    pub brief: BriefArgs,
    /// Writes the limits that follow into the brief; without it nothing is written
    #[arg(long)]
    pub keep: bool,
    #[command(flatten)]
    pub show: PlainArgs,
}

/// `washline calibrate`
#[derive(Debug, Args)]
pub struct CalibrateArgs {
    /// The brief, or the house, with what was weighed in it; `-` reads a brief from standard input
    #[command(flatten)]
    pub brief: BriefArgs,
    /// Writes the figures where those of each thing stand: into the house, or into the brief; without it nothing is
    /// written
    #[arg(long)]
    pub keep: bool,
    #[command(flatten)]
    pub show: PlainArgs,
}

fn glasses(text: &str) -> Result<usize, String> {
    match text.parse() {
        Ok(number) if (2..=12).contains(&number) => Ok(number),
        _ => Err("write a whole number from 2 to 12".to_owned()),
    }
}
