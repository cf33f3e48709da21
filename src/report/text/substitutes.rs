//! What could come in, ranked.

use super::page::{Ink, Page, WIDTH, aligned, cut, left, right, width};
use crate::quantity::UnitSystem;
use crate::report::gather::{Outcome, Substitute, SubstitutesAnswer};
use crate::report::words;

/// A column: its name, its unit, its cells.
type Heading = (String, String, Vec<String>);

/// The least room for names.
const NAME: usize = 18;

/// Writes the list and what it rests on.
pub fn write(page: &mut Page, answer: &SubstitutesAnswer, units: UnitSystem) {
    page.heading(&answer.title);
    page.section(&words::substitutes_heading(answer));
    for sentence in words::question_sentences(answer, units) {
        page.paragraph(2, Ink::Plain, &sentence);
    }
    let found: Vec<&Substitute> = answer.ranked.iter().filter(|s| s.spec.is_some()).collect();
    if !found.is_empty() {
        page.gap();
        table(page, answer, &found, units);
    }
    page.gap();
    for sentence in words::near_sentences(answer, units).into_iter().chain(words::rest_sentences(answer)) {
        page.paragraph(2, Ink::Plain, &sentence);
    }
}

/// Numbers with their points under each other, each with its unit after it.
fn in_line(cells: &[String]) -> Vec<String> {
    let parts: Vec<(&str, &str)> = cells.iter().map(|c| c.split_once(' ').unwrap_or((c, ""))).collect();
    let numbers = aligned(&parts.iter().map(|(number, _)| (*number).to_owned()).collect::<Vec<_>>());
    let units = parts.iter().map(|(_, unit)| width(unit)).max().unwrap_or(0);
    let join = |(number, (_, unit)): (&String, &(&str, &str))| match units {
        0 => number.clone(),
        _ => format!("{number} {}", left(unit, units)),
    };
    numbers.iter().zip(&parts).map(join).collect()
}

fn table(page: &mut Page, answer: &SubstitutesAnswer, found: &[&Substitute], units: UnitSystem) {
    let gauges = words::substitute_gauges(answer);
    let cells =
        |cell: &dyn Fn(&Substitute) -> String| in_line(&found.iter().map(|s| cell(s)).collect::<Vec<_>>());
    let pours = cells(&|s| words::newcomer_pour(s, units));
    let scores =
        cells(&|s| words::score_text(&answer.aim, &answer.frame, s.score.unwrap_or(f64::NAN), units));
    let mut columns = vec![("pour".to_owned(), String::new(), pours)];
    let (head, unit) = words::score_column(&answer.aim, &answer.frame, units);
    columns.push((head, unit, scores));
    for gauge in gauges {
        let figures = cells(&|s| {
            s.spec
                .as_ref()
                .map_or_else(String::new, |spec| words::figure(gauge, spec.served.get(&gauge.key), units))
        });
        columns.push((gauge.label.clone(), words::unit(gauge, units).to_owned(), figures));
    }
    let wide = |column: &Heading| {
        let figures = column.2.iter().map(|c| width(c)).max().unwrap_or(0);
        figures.max(width(&column.0)).max(width(&column.1))
    };
    while columns.len() > 2 && 5 + NAME + columns.iter().map(|c| wide(c) + 2).sum::<usize>() > WIDTH {
        columns.pop();
    }
    let room = WIDTH.saturating_sub(5 + columns.iter().map(|c| wide(c) + 2).sum::<usize>());
    let longest = found.iter().map(|s| width(&s.coming)).max().unwrap_or(0).min(room);
    let line = |number: &str, name: &str, cell: &dyn Fn(&Heading) -> String| {
        let cells: String = columns.iter().map(|c| format!("  {}", right(&cell(c), wide(c)))).collect();
        format!("{}  {}{cells}", right(number, 3), left(&cut(name, longest), longest))
    };
    page.line(&[(Ink::Faint, &line("", "", &|c| c.0.clone()))]);
    page.line(&[(Ink::Faint, &line("", "", &|c| c.1.clone()))]);
    for (at, substitute) in found.iter().enumerate() {
        let number = (at + 1).to_string();
        let ink = if substitute.outcome == Outcome::Found { Ink::Plain } else { Ink::Alarm };
        let cell = |c: &(String, String, Vec<String>)| c.2.get(at).cloned().unwrap_or_default();
        page.line(&[(ink, &line(&number, &substitute.coming, &cell))]);
        if let Some(note) = words::substitute_note(answer, substitute, units) {
            page.paragraph(7, Ink::Faint, &note);
        }
    }
}
