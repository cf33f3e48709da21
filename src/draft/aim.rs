//! The aim of a new brief, from the words of the command line: `lowest cost`, `cost`, `nearest middle`, `highest notes`.

use crate::brief::Measure;
use crate::finding::Finding;
use crate::read::{closest, quoted, shown};

/// The aim as a line of a brief. `names` are the ingredients that may be aimed at, `notes` those that are asked for.
///
/// # Errors
/// Where the words name nothing that can be aimed at.
pub fn line(words: &str, names: &[&str], notes: &[String]) -> Result<String, Finding> {
    let words = words.trim();
    let directions = ["lowest", "highest", "nearest"];
    let (direction, of) = match words.split_once(char::is_whitespace) {
        Some((first, of)) if directions.contains(&first.to_lowercase().as_str()) => {
            (first.to_lowercase(), of.trim())
        }
        _ if ["middle", "reference"].contains(&words) => ("nearest".to_owned(), words),
        _ => ("lowest".to_owned(), words),
    };
    if of == "notes" && direction != "nearest" {
        return covered(notes);
    }
    let near = ["reference", "middle"];
    let measures: Vec<&str> = Measure::BUILT_IN.iter().map(|measure| measure.keyword()).collect();
    let known: Vec<&str> = if direction == "nearest" {
        near.to_vec()
    } else {
        measures.into_iter().chain(names.iter().copied()).collect()
    };
    if known.contains(&of) {
        return Ok(format!("{direction} = {}", quoted(of)));
    }
    let help = match closest(of, known.iter().copied()) {
        Some(meant) => format!("did you mean \"{direction} {meant}\"?"),
        None => format!("{direction} one of {}", known.join(", ")),
    };
    let what = format!("--aim \"{}\": `{}` is nothing to aim at", shown(words), shown(of));
    Err(Finding::placeless("unknown-name", what, help))
}

/// As many of the notes that are asked for as can be.
fn covered(notes: &[String]) -> Result<String, Finding> {
    if notes.is_empty() {
        let help = "name them: --note \"stone fruit\" --note honey";
        return Err(Finding::placeless("unknown-note", "--aim \"highest notes\" needs notes", help));
    }
    let notes: Vec<String> = notes.iter().map(|note| quoted(note)).collect();
    Ok(format!("highest = {{ notes = [{}] }}", notes.join(", ")))
}
