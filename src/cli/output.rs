//! Standard output and standard error.

use std::io::{self, ErrorKind, Write};

use anstream::{AutoStream, ColorChoice};

use crate::report::Colour;

/// Writes an answer to standard output. A reader that has seen enough (`| head`) is no fault.
pub fn answer(text: &str) -> io::Result<()> {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Ok(()),
        other => other,
    }
}

/// Writes anything that is not the answer to standard error.
pub fn say(text: &str) {
    // With standard error gone there is nobody left to tell.
    let _ = io::stderr().lock().write_all(text.as_bytes());
}

/// Whether answers are coloured: on a terminal, unless `NO_COLOR` or its like says otherwise.
pub fn colour_of_answers() -> Colour {
    colour(AutoStream::choice(&io::stdout()))
}

/// Whether findings are coloured.
pub fn colour_of_errors() -> Colour {
    colour(AutoStream::choice(&io::stderr()))
}

fn colour(choice: ColorChoice) -> Colour {
    if choice == ColorChoice::Never { Colour::Plain } else { Colour::Styled }
}
