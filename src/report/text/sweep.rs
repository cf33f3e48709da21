//! A trade-off curve: a plot in plain characters, the switches, the specs along it.

use super::page::{Ink, Page, WIDTH, left, right, width, wrap};
use crate::quantity::UnitSystem;
use crate::report::gather::{Outcome, SweepAnswer};
use crate::report::words;

/// How many lines the plot has.
const HIGH: usize = 12;
/// Marks of the sets of ingredients, in the order in which they come up.
const MARKS: &str = "abcdefghijklmnopqrstuvwyzABCDEFGHIJKLMNOPQRSTUVWYZ";
/// The mark of a point that no spec meets.
const NONE: char = 'x';

/// Writes the curve.
pub fn write(page: &mut Page, answer: &SweepAnswer, units: UnitSystem) {
    page.heading(&answer.title);
    page.paragraph(0, Ink::Plain, &words::axis_words(answer));
    let marks = marks(answer);
    page.section(&words::curve_words(answer, units));
    plot(page, answer, &marks, units);
    if !answer.switches.is_empty() {
        page.section("Where the set of ingredients switches");
        for switch in &answer.switches {
            page.item(&words::switch_sentence(answer, switch));
        }
    }
    page.section("The specs along the way");
    specs(page, answer, &marks, units);
    page.gap();
    page.paragraph(2, Ink::Plain, &words::sweep_proof(answer));
}

/// A mark a point: one letter a set, in the order in which the sets come up.
fn marks(answer: &SweepAnswer) -> Vec<char> {
    let mut known: Vec<Vec<&str>> = Vec::new();
    let mut marks = Vec::new();
    for point in &answer.points {
        let names = point.names();
        if names.is_empty() {
            marks.push(if point.outcome == Outcome::Stopped { '?' } else { NONE });
            continue;
        }
        let place = known.iter().position(|set| *set == names).unwrap_or_else(|| {
            known.push(names);
            known.len() - 1
        });
        // Beyond so many sets a letter of its own helps nobody.
        marks.push(MARKS.chars().nth(place).unwrap_or('*'));
    }
    marks
}

/// The scores over the points; a point without a spec stands on the ground.
fn plot(page: &mut Page, answer: &SweepAnswer, marks: &[char], units: UnitSystem) {
    let scores: Vec<Option<f64>> = answer.points.iter().map(|p| p.score).collect();
    let known = || scores.iter().flatten().copied().filter(|s| s.is_finite());
    let (low, high) = (known().fold(f64::INFINITY, f64::min), known().fold(f64::NEG_INFINITY, f64::max));
    let label = |score: f64| words::point_score(answer, score.is_finite().then_some(score), units);
    let (top, bottom) = (label(high), label(low));
    let flat = low.partial_cmp(&high) != Some(std::cmp::Ordering::Less);
    let lines = if flat { 1 } else { HIGH };
    let gutter = width(&top).max(width(&bottom));
    let columns = WIDTH - 2 - gutter - 2;
    let mut rows = vec![vec![' '; columns]; lines];
    let mut ground = vec!['-'; columns];
    let last = answer.points.len().saturating_sub(1).max(1);
    for (at, (score, mark)) in scores.iter().zip(marks).enumerate() {
        let column = (at * (columns - 1)) / last;
        match score.filter(|s| s.is_finite()) {
            Some(score) => {
                let share = if flat { 0.0 } else { (score - low) / (high - low) };
                let up = (share * (lines - 1) as f64).round() as usize;
                rows[(lines - 1).saturating_sub(up)][column] = *mark;
            }
            None => ground[column] = *mark,
        }
    }
    for (row, cells) in rows.iter().enumerate() {
        let label = match row {
            0 => top.as_str(),
            _ if row + 1 == lines => bottom.as_str(),
            _ => "",
        };
        let line: String = cells.iter().collect();
        page.line(&[(Ink::Faint, &format!("  {} |", right(label, gutter))), (Ink::Strong, &line)]);
    }
    let ground: String = ground.into_iter().collect();
    page.line(&[(Ink::Faint, &format!("  {} +{ground}", " ".repeat(gutter)))]);
    let value = |point: Option<&crate::report::gather::PointLine>| {
        point.map_or_else(String::new, |p| words::axis_value(p.at))
    };
    let (from, to) = (value(answer.points.first()), value(answer.points.last()));
    let room = columns.saturating_sub(width(&from));
    page.line(&[(Ink::Faint, &format!("  {}  {from}{}", " ".repeat(gutter), right(&to, room)))]);
    if marks.contains(&NONE) {
        page.line(&[(Ink::Faint, &format!("  {}  {NONE}: no spec meets the brief", " ".repeat(gutter)))]);
    }
}

/// One entry a run of points with the same pours.
fn specs(page: &mut Page, answer: &SweepAnswer, marks: &[char], units: UnitSystem) {
    let runs = words::runs(answer);
    let ranges: Vec<String> = runs.iter().map(|run| words::run_range(answer, run)).collect();
    let scores: Vec<String> = runs.iter().map(|run| words::run_score(answer, run, units)).collect();
    let widest = |texts: &[String]| texts.iter().map(|t| width(t)).max().unwrap_or(0);
    let (range, score) = (widest(&ranges).max(4), widest(&scores));
    let head = 2 + 1 + 2 + range + 2 + score + 2;
    for (at, run) in runs.iter().enumerate() {
        let Some(point) = answer.points.get(run.start) else { continue };
        let mark = marks.get(run.start).copied().unwrap_or(' ');
        let pours = words::pours_words(point, units);
        for (line, text) in wrap(&pours, WIDTH.saturating_sub(head).max(20)).iter().enumerate() {
            let lead = if line == 0 {
                format!("  {mark}  {}  {}  ", left(&ranges[at], range), right(&scores[at], score))
            } else {
                " ".repeat(head)
            };
            page.line(&[(Ink::Faint, &lead), (Ink::Plain, text)]);
        }
    }
}
