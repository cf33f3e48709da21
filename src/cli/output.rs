//! Standard output and standard error.

use std::io::{self, ErrorKind, Write};

use anstream::{AutoStream, ColorChoice};

use super::args::ShowArgs;
use super::exit::Failure;
use super::write::{self, Existing};
use crate::quantity::UnitSystem;
use crate::render::html::{self, Imprint, Paged};
use crate::render::{self, Answer, COLUMNS, Colour, Extent, Look, NARROWEST, WIDEST};

/// Writes an answer to standard output. A reader that has seen enough (`| head`) is no fault.
pub fn answer(text: &str) -> io::Result<()> {
    let mut out = io::stdout().lock();
    for_a_reader(out.write_all(text.as_bytes()).and_then(|()| out.flush()))
}

/// A reader that has gone has seen enough.
pub fn for_a_reader(written: io::Result<()>) -> io::Result<()> {
    match written {
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Ok(()),
        other => other,
    }
}

/// Refuses early, before anything is worked out, to write over a file.
pub fn refuse_existing(show: &ShowArgs) -> Result<(), Failure> {
    let mut files = show.write.iter().chain(&show.report);
    files.try_for_each(|path| write::refuse_existing(path, existing(show)))
}

/// Shows an answer: as a page with pictures, where one is wanted, and as text.
pub fn show(show: &ShowArgs, answer: &(impl Answer + Paged), imprint: &Imprint) -> Result<(), Failure> {
    report(show, |units| html::write(answer, units, imprint))?;
    show_text(show, answer)
}

/// Shows an answer that has no page.
pub fn show_text(show: &ShowArgs, answer: &impl Answer) -> Result<(), Failure> {
    deliver(&render::write(answer, show.look.format, look(show)), show)
}

/// Writes an answer where it is wanted: to standard output, or whole to a file.
pub fn deliver(text: &str, show: &ShowArgs) -> Result<(), Failure> {
    let Some(path) = &show.write else { return Ok(answer(text)?) };
    write::whole(path, text, existing(show))?;
    say(&format!("Wrote {}.\n", path.display()));
    Ok(())
}

/// Writes the page with pictures, where one is wanted: before the answer, so that a page that cannot be written
/// ends the run with nothing said twice.
fn report(show: &ShowArgs, page: impl FnOnce(UnitSystem) -> String) -> Result<(), Failure> {
    let Some(path) = &show.report else { return Ok(()) };
    write::whole(path, &page(show.look.units), existing(show))?;
    say(&format!("Wrote {}.\n", path.display()));
    Ok(())
}

/// How an answer looks of which nothing but its width and colour is asked.
pub fn plain_look() -> Look {
    Look { colour: colour_of_answers(), width: columns(), ..Look::default() }
}

/// How an answer looks where it goes: a file has no colour.
fn look(show: &ShowArgs) -> Look {
    let colour = if show.write.is_some() { Colour::Plain } else { colour_of_answers() };
    let extent = match show.look.only {
        _ if show.look.full => Extent::Full,
        Some(part) => Extent::Only(part),
        None => Extent::Screen,
    };
    // A file is read elsewhere.
    let terminal = if show.write.is_some() { COLUMNS } else { columns() };
    Look { units: show.look.units, colour, width: show.look.width.unwrap_or(terminal), extent }
}

/// The columns of the terminal that answers go to; elsewhere always the same, so that bytes are.
fn columns() -> usize {
    let terminal = terminal_size::terminal_size_of(io::stdout());
    terminal.map_or(COLUMNS, |(width, _)| usize::from(width.0).clamp(NARROWEST, WIDEST))
}

/// Whether a file that exists is replaced.
pub fn existing(show: &ShowArgs) -> Existing {
    if show.force { Existing::Replace } else { Existing::Guard }
}

/// Writes anything that is not the answer to standard error.
pub fn say(text: &str) {
    // With standard error gone there is nobody left to tell.
    let _ = io::stderr().lock().write_all(text.as_bytes());
}

/// Whether answers are coloured: on a terminal, unless `NO_COLOR` or its like says otherwise.
fn colour_of_answers() -> Colour {
    colour(AutoStream::choice(&io::stdout()))
}

/// Whether findings are coloured.
pub fn colour_of_errors() -> Colour {
    colour(AutoStream::choice(&io::stderr()))
}

fn colour(choice: ColorChoice) -> Colour {
    if choice == ColorChoice::Never { Colour::Plain } else { Colour::Styled }
}
