//! A trade-off curve: what moving one value of the brief does to the best spec, and where it switches.

use maud::html;

use super::page::{self, Heading, Tone};
use super::picture::{Said, sideways, table};
use super::section::Section;
use super::{curve, stretches};
use crate::quantity::UnitSystem;
use crate::report::gather::{Outcome, PointLine, SweepAnswer};
use crate::report::words;

/// More rows than this are for a spreadsheet.
const ROWS: usize = 200;

/// The curve as a page.
pub fn page(answer: &SweepAnswer, units: UnitSystem) -> String {
    let some = answer.points.iter().any(|p| p.score.is_some());
    let mut sections = Vec::new();
    if some {
        let mut section = Section::new(
            "curve",
            "What does moving it do to the best spec?",
            format!("{}.", words::curve_words(answer, units)),
            curve::figure(answer, units),
        );
        section.answer.extend(course(answer, units));
        sections.push(section);
        let said = switched(answer);
        sections.push(Section::new(
            "stretches",
            "Which ingredients are in it, and where?",
            said,
            stretches::figure(answer, units),
        ));
    }
    sections.push(specs(answer, units));
    let mut said = vec![format!("Moved: {}.", words::axis_words(answer))];
    if !some {
        said.insert(0, "No spec that can be poured meets this brief at any point.".to_owned());
    }
    said.push(words::sweep_proof(answer));
    let stopped = answer.points.iter().any(|p| p.outcome == Outcome::Stopped);
    let tone = if some && !stopped { Tone::Answered } else { Tone::Warned };
    let figures = ends(answer, units);
    page::page(
        &Heading { kind: "Trade-off".to_owned(), title: &answer.title, said, tone, figures },
        &sections,
    )
}

fn at(answer: &SweepAnswer, point: &PointLine) -> String {
    format!("{} {}", words::axis_value(point.at), &answer.unit).trim_end().to_owned()
}

/// The scores at both ends of what can be poured.
fn ends(answer: &SweepAnswer, units: UnitSystem) -> Vec<(String, String)> {
    let mut found = answer.points.iter().filter(|p| p.score.is_some());
    let ends = [found.next(), found.next_back()];
    let figure =
        |p: &PointLine| (format!("at {}", at(answer, p)), words::point_score(answer, p.score, units));
    ends.into_iter().flatten().map(figure).collect()
}

/// How the curve runs, in sentences.
fn course(answer: &SweepAnswer, units: UnitSystem) -> Vec<String> {
    let mut said = Vec::new();
    let mut found = answer.points.iter().filter(|p| p.score.is_some());
    let score = |p: &PointLine| words::point_score(answer, p.score, units);
    if let (Some(first), Some(last)) = (found.next(), found.next_back()) {
        let (from, to) = (score(first), score(last));
        said.push(if from == to {
            format!("{from} at {} and again at {}.", at(answer, first), at(answer, last))
        } else {
            format!("It goes from {from} at {} to {to} at {}.", at(answer, first), at(answer, last))
        });
    }
    let runs = words::runs(answer);
    if let Some(start) = runs.last().filter(|run| run.len() > 2 && runs.len() > 1).map(|run| run.start) {
        let point = answer.points.get(start).filter(|p| p.outcome == Outcome::Found);
        said.extend(point.map(|p| format!("From {} on the spec stays the same.", at(answer, p))));
    }
    let none = answer.points.iter().filter(|p| p.outcome == Outcome::Conflict).count();
    if none > 0 {
        let all = words::counted(answer.points.len(), "point");
        said.push(format!("No spec meets the brief at {none} of {all}: the hatched stretch."));
    }
    said
}

fn switched(answer: &SweepAnswer) -> String {
    match answer.switches.len() {
        0 => "The same ones at every point.".to_owned(),
        1 => "They switch once.".to_owned(),
        2 => "They switch twice.".to_owned(),
        count => format!("They switch {count} times."),
    }
}

/// Every spec along the way.
fn specs(answer: &SweepAnswer, units: UnitSystem) -> Section {
    let runs = words::runs(answer);
    let rows: Vec<Vec<String>> = runs
        .iter()
        .take(ROWS)
        .filter_map(|run| {
            let point = answer.points.get(run.start)?;
            let range = words::run_range(answer, run);
            Some(vec![range, words::run_score(answer, run, units), words::pours_words(point, units)])
        })
        .collect();
    let unit = &answer.unit;
    let head = if unit.is_empty() { "at".to_owned() } else { format!("at, {unit}") };
    let different = runs.iter().filter(|run| answer.points.get(run.start).is_some_and(|p| p.spec.is_some()));
    let said = format!("{} along the way.", words::upper_first(&words::counted(different.count(), "spec")));
    let body = html! {
        div.plain.along { (sideways(&table("The best spec at every point", &[&head, "score", "poured"], &rows))) }
        @if runs.len() > ROWS {
            p.note { (Said(&format!("The first {ROWS} of {}; `--format csv` gives them all.", runs.len()))) }
        }
    };
    Section::new("specs", "What is poured along the way?", said, body)
}
