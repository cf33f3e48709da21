//! `washline spec BRIEF --proof FILE` and `washline proof FILE BRIEF`.

use std::path::Path;

use super::args::{ProofArgs, ShowArgs};
use super::exit::{Exit, Failure, Sources};
use super::input::{self, Page};
use super::output;
use super::progress::Waiting;
use super::write::Sheet;
use crate::answer::claim_lines;
use crate::brief::Brief;
use crate::explain::Explanation;
use crate::finding::Finding;
use crate::proof::{self, Refusal};
use crate::prove::{NoProof, prove};
use crate::solve::{Solved, Stop};

/// Proves an answer and writes the proof as it is found, whole or not at all; says so where there is none.
pub fn keep(
    path: &Path,
    (page, brief): (&Page, &Brief),
    (solved, explanation): (&Solved, &Explanation),
    (show, stop): (&ShowArgs, &Stop),
) -> Result<(), Failure> {
    let mut sheet = Sheet::beside(path, output::existing(show))?;
    let waiting = Waiting::on("Looking for a proof that can be checked");
    let cores = explanation.conflict.as_ref().map_or(&[][..], |conflict| &conflict.cores);
    let proof = prove(brief, solved, cores, digest(page), stop, &mut sheet);
    drop(waiting);
    let why = match proof {
        Ok(()) => {
            sheet.named()?;
            output::say(&format!("Wrote {}.\n", path.display()));
            return Ok(());
        }
        Err(NoProof::Unwritten) => return Err(sheet.refused()),
        Err(NoProof::Beyond(what)) => format!("of {what}"),
        Err(NoProof::Stopped) => "where the search was stopped".to_owned(),
        Err(NoProof::NotFound(why)) => format!("here: none was found within reason ({why})"),
    };
    output::say(&format!("No proof is written {why}. The answer stands as it is.\n"));
    Ok(())
}

/// By what a brief is known again: its bytes, its house and what was changed for the run.
fn digest(page: &Page) -> u64 {
    let changes = &page.changes;
    let settings = changes.settings.iter().map(|one| format!("{}={}", one.key, one.value));
    let swaps = changes.swaps.iter().map(|one| format!("{}={}", one.old, one.new));
    let words: Vec<String> = settings.chain(swaps).collect();
    let house = changes.house.as_ref().map(|house| house.bytes.as_slice());
    proof::digest([page.bytes.as_slice()].into_iter().chain(house).chain(words.iter().map(String::as_bytes)))
}

/// Checks a proof.
pub fn run(args: &ProofArgs) -> Result<Exit, Failure> {
    let (text, name) = input::text(&args.proof)?;
    let (reading, page) = input::read_page(&args.brief)?;
    let waiting = Waiting::on("Checking every leaf");
    let checked = proof::check(&reading.brief, digest(&page), &text);
    drop(waiting);
    match checked {
        Ok(proved) => {
            output::answer(&claim_lines(&reading.brief, &proved))?;
            Ok(Exit::Answered)
        }
        Err(refusal) => Err(refused(&refusal, name, text)),
    }
}

/// Points at the line where a proof fails.
fn refused(refusal: &Refusal, name: String, text: String) -> Failure {
    let before: usize = text.split_inclusive('\n').take(refusal.line - 1).map(str::len).sum();
    let line = text[before..].lines().next().map_or(0, str::len);
    let help = "nothing is proved by this file; `washline spec BRIEF --proof FILE` writes one for a brief";
    let finding = Finding::error("proof-refused", before..before + line, refusal.what.clone(), help);
    Failure::Findings { findings: vec![finding], sources: Sources { name, text, house: None } }
}
