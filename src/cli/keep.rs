//! `--keep NAME`: the best spec is written into the brief.

use std::path::Path;

use super::args::{BriefArgs, PlainArgs, ShowArgs};
use super::exit::Failure;
use super::write::{self, Existing};
use super::{clock, input, output};
use crate::answer::Frame;
use crate::brief::Brief;
use crate::read::{Keep, kept_in, read_changed};
use crate::solve::Spec;

/// Refuses early what can never be kept.
pub fn refuse(args: &BriefArgs) -> Result<(), Failure> {
    if args.brief == Path::new("-") {
        let what = "--keep writes into the brief, and this one comes on standard input";
        return Err(Failure::placeless("nowhere-to-keep", what, "name the file of the brief"));
    }
    Ok(())
}

/// How an answer without a page is shown, once nothing stands in the way of writing it or of keeping it in a brief.
pub fn show(show: &PlainArgs, in_brief: Option<&BriefArgs>) -> Result<ShowArgs, Failure> {
    let show = show.show();
    output::refuse_existing(&show)?;
    in_brief.map_or(Ok(()), refuse)?;
    Ok(show)
}

/// Writes specs into the brief under their names, all or none of them; the rest of the file stays as it is.
pub fn keep_all(args: &BriefArgs, brief: &Brief, specs: &[(String, &Spec)]) -> Result<(), Failure> {
    let page = input::page_of(args)?;
    let mut text = String::from_utf8_lossy(&page.bytes).into_owned();
    for (name, spec) in specs {
        text =
            kept_in(&text, &note(args, brief, name, spec)).map_err(|finding| page.refused(vec![finding]))?;
    }
    rewrite(args, &page, &text)?;
    let names: Vec<String> = specs.iter().map(|(name, _)| format!("\"{name}\"")).collect();
    output::say(&format!("Kept {} in {}.\n", names.join(", "), args.brief.display()));
    Ok(())
}

/// Puts another text in the place of the brief's, whole or not at all: only one that can be read again.
pub fn rewrite(args: &BriefArgs, page: &input::Page, text: &str) -> Result<(), Failure> {
    read_changed(text.as_bytes(), &page.changes).map_err(|findings| page.refused(findings))?;
    write::whole(&args.brief, text, Existing::Replace)
}

fn note(args: &BriefArgs, brief: &Brief, name: &str, spec: &Spec) -> Keep {
    let pours = spec.pours.iter().map(|pour| {
        let candidate = &brief.candidates[pour.candidate];
        (candidate.name.clone(), pour.amount, candidate.unit().symbol())
    });
    let figures = Frame::of(brief).gauges.into_iter().map(|g| (g.key, spec.served.value(g.measure)));
    Keep {
        name: name.to_owned(),
        date: clock::today(),
        version: env!("CARGO_PKG_VERSION").to_owned(),
        set: args.changes().words(),
        pours: pours.collect(),
        served: figures.collect(),
    }
}
