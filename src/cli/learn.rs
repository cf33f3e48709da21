//! `washline learn BRIEF`

use super::args::LearnArgs;
use super::exit::{Exit, Failure};
use super::{input, keep, output};
use crate::answer::{LessonsAnswer, lessons_answer};
use crate::learn::learn;
use crate::read::limits_in;

/// Turns what was said into limits, shows them, and keeps them where that is asked for.
pub fn run(args: &LearnArgs) -> Result<Exit, Failure> {
    let show = keep::show(&args.show, args.keep.then_some(&args.brief))?;
    let (reading, page) = input::read_page(&args.brief)?;
    let mut answer = lessons_answer(&reading.brief, learn(&reading.brief));
    answer.asked = Some(args.brief.asked());
    if args.keep {
        kept(args, &page, &answer)?;
    }
    output::show_text(&show, &answer)?;
    Ok(Exit::Answered)
}

/// Writes the limits into the brief, all or none of them; the rest of the file stays as it is.
fn kept(args: &LearnArgs, page: &input::Page, answer: &LessonsAnswer) -> Result<(), Failure> {
    if answer.limits.is_empty() {
        output::say("Nothing to keep: no limit follows that the brief does not have.\n");
        return Ok(());
    }
    let new: Vec<_> = answer.limits.iter().map(|limit| limit.new.clone()).collect();
    let text = String::from_utf8_lossy(&page.bytes);
    let text = limits_in(&text, &new).map_err(|finding| page.refused(vec![finding]))?;
    keep::rewrite(&args.brief, page, &text)?;
    let lines: Vec<&str> = answer.limits.iter().map(|limit| limit.line.as_str()).collect();
    output::say(&format!("Kept in {}: {}.\n", args.brief.brief.display(), lines.join("; ")));
    Ok(())
}
