//! Rules over several ingredients: how many of a group, and ratios of two.

use crate::brief::{Candidate, Choose, Proportion, Role};
use crate::read::codes;
use crate::read::file::{self, At, File, listed};
use crate::read::findings::{Findings, guess};
use crate::read::names::Names;
use crate::read::shape::shown;

/// Reads `[[choose]]`.
pub fn choose(file: &File, names: &Names, candidates: &[Candidate], findings: &mut Findings) -> Vec<Choose> {
    let written = listed(file.choose.as_ref());
    let mut rules = Vec::new();
    for (at, rule) in written.iter().enumerate() {
        let Some((label, members)) = group(at, rule, names, candidates, findings) else { continue };
        let (min, max) = (rule.min.as_ref().map(|m| m.value), rule.max.as_ref().map(|m| m.value));
        if let Some((low, high)) = min.zip(max).filter(|(low, high)| low > high) {
            let what = format!("at least {low} and at most {high} cannot both be");
            findings.error(codes::MIN_OVER_MAX, rule.place(), what, "put min at or below max");
        }
        if min.is_none() && max.is_none() && !findings.is_spoiled(&format!("choose.{at}")) {
            findings.error(
                codes::NO_SIDE,
                rule.place(),
                "this choice bounds nothing",
                "give min, max or both",
            );
        }
        rules.push(Choose { label, members, min, max });
    }
    rules
}

/// The members of a choice and what they are called together.
fn group(
    at: usize,
    rule: &At<file::Choose>,
    names: &Names,
    candidates: &[Candidate],
    findings: &mut Findings,
) -> Option<(String, Vec<usize>)> {
    match (&rule.role, &rule.note, &rule.among) {
        (Some(role), None, None) => Some(of_role(role.0, candidates)),
        (None, Some(note), None) => Some(of_note(note, candidates, findings)),
        (None, None, Some(among)) => Some(named(&among.value, names, findings)),
        _ => {
            if !findings.is_spoiled(&format!("choose.{at}")) {
                let help = "give role = \"sweetener\", note = \"honey\" or among = [\"…\", \"…\"]";
                let what = "a choice is over a role, a note or named ingredients: exactly one of the three";
                findings.error(codes::ONE_GROUP, rule.place(), what, help);
            }
            None
        }
    }
}

fn of_role(role: Role, candidates: &[Candidate]) -> (String, Vec<usize>) {
    let members = candidates.iter().enumerate().filter(|(_, c)| c.role == role).map(|(at, _)| at);
    (role.keyword().to_owned(), members.collect())
}

/// All that carry a note; where nobody does, that is probably a slip of the pen.
fn of_note(note: &At<String>, candidates: &[Candidate], findings: &mut Findings) -> (String, Vec<usize>) {
    let members: Vec<usize> =
        candidates.iter().enumerate().filter(|(_, c)| c.has_note(note)).map(|(at, _)| at).collect();
    if members.is_empty() && !findings.is_spoiled("candidate") {
        let (what, help) = without_carrier(note, candidates, findings);
        findings.error(codes::UNKNOWN_NOTE, note.place(), what, help);
    }
    (format!("{} note", note.trim()), members)
}

/// That no ingredient carries a note, and what may be meant.
pub fn without_carrier(note: &str, candidates: &[Candidate], findings: &mut Findings) -> (String, String) {
    let known = candidates.iter().flat_map(|c| &c.notes).map(String::as_str);
    let otherwise = || "give an ingredient notes = [\"…\"] with it".to_owned();
    let help = guess(findings.closest(note, known), otherwise);
    (format!("no ingredient carries the note \"{}\"", shown(note)), help)
}

fn named(among: &[At<String>], names: &Names, findings: &mut Findings) -> (String, Vec<usize>) {
    let mut members: Vec<usize> = Vec::new();
    for name in among {
        let Some(candidate) = names.candidate(name, findings) else { continue };
        if members.contains(&candidate) {
            let what = format!("\"{}\" stands twice in this group", name.value);
            findings.error(codes::DUPLICATE_NAME, name.place(), what, "name it once");
        } else {
            members.push(candidate);
        }
    }
    let label = members.iter().map(|m| names.of(*m)).collect::<Vec<_>>().join(" / ");
    (label, members)
}

/// Reads `[[proportion]]`.
pub fn proportions(file: &File, names: &Names, findings: &mut Findings) -> Vec<Proportion> {
    let written = listed(file.proportion.as_ref());
    let mut rules = Vec::new();
    for (at, rule) in written.iter().enumerate() {
        let (min, max) = (rule.min.as_ref().map(|m| m.value), rule.max.as_ref().map(|m| m.value));
        if let Some((low, high)) = min.zip(max).filter(|(low, high)| low > high) {
            let what = format!("a ratio of at least {low} and at most {high} cannot be");
            findings.error(codes::MIN_OVER_MAX, rule.place(), what, "put min at or below max");
        }
        if min.is_none() && max.is_none() && !findings.is_spoiled(&format!("proportion.{at}")) {
            let what = "this proportion bounds nothing";
            findings.error(codes::NO_SIDE, rule.place(), what, "give min, max or both");
        }
        let of = rule.of.as_ref().and_then(|name| names.candidate(name, findings));
        let to = rule.to.as_ref().and_then(|name| names.candidate(name, findings));
        if let (Some(of), Some(to)) = (of, to) {
            rules.push(Proportion { of, to, min, max });
        }
    }
    rules
}
