//! The command line: arguments in, an exit status out.

use std::process::ExitCode;

fn main() -> ExitCode {
    washline::cli::run()
}
