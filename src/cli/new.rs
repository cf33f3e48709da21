//! `washline new FILE`

use super::args::NewArgs;
use super::exit::{Exit, Failure};
use super::output;
use super::write::{self, Existing};
use crate::read;

/// Writes the starter brief, whole or not at all, and never over a file.
pub fn run(args: &NewArgs) -> Result<Exit, Failure> {
    write::whole(&args.file, read::starter(), Existing::Keep)?;
    let name = args.file.display();
    output::say(&format!("Wrote {name}. Change it, then: washline spec {name}\n"));
    Ok(Exit::Answered)
}
