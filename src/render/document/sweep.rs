//! A trade-off curve: the curve, the switches, the specs along it.

use super::Kind::{Short, Words};
use super::{Block, Cell, Document, Part, Plot, Point, Row, Section, Table, Told, Tone, columns, whole};
use crate::answer::{PointLine, SweepAnswer};
use crate::quantity::UnitSystem;
use crate::render::words;
use crate::solve::Ending;

/// Marks of the sets of ingredients, in the order in which they come up.
const MARKS: &str = "abcdefghijklmnopqrstuvwyzABCDEFGHIJKLMNOPQRSTUVWYZ";
/// The mark of a point that no spec meets.
const NONE: char = 'x';

impl Told for SweepAnswer {
    fn full(&self, units: UnitSystem) -> Document {
        let marks = marks(self);
        let curve = Block::Plot(plot(self, &marks, units));
        let mut sections = vec![
            Section::bare(Part::Asked, vec![Block::plain(words::axis_words(self))]),
            Section::new(Part::Curve, words::curve_words(self, units), vec![curve]),
        ];
        let switches = self.switches.iter().map(|switch| words::switch_sentence(self, switch)).collect();
        sections.extend(Section::items(Part::Switches, "Where the set of ingredients switches", switches));
        let specs = vec![Block::Table(specs(self, &marks, units)), Block::plain(words::sweep_proof(self))];
        sections.push(Section::new(Part::Specs, "The specs along the way", specs));
        whole(&self.title, sections, &[], self.asked.as_ref())
    }
}

/// A mark a point: one letter a set, in the order in which the sets come up.
fn marks(answer: &SweepAnswer) -> Vec<char> {
    let mut known: Vec<Vec<&str>> = Vec::new();
    let mut marks = Vec::new();
    for point in &answer.points {
        let names = point.names();
        if names.is_empty() {
            marks.push(if point.outcome == Ending::Stopped { '?' } else { NONE });
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

fn plot(answer: &SweepAnswer, marks: &[char], units: UnitSystem) -> Plot {
    let label = |score: f64| words::point_score(answer, score.is_finite().then_some(score), units);
    let value = |point: Option<&PointLine>| point.map_or_else(String::new, |p| words::axis_value(p.at));
    let point = |(point, mark): (&PointLine, &char)| Point { height: point.score, mark: *mark };
    let points: Vec<Point> = answer.points.iter().zip(marks).map(point).collect();
    let (low, high) = Plot::reach(&points);
    Plot {
        points,
        heights: [label(low), label(high)],
        ends: [value(answer.points.first()), value(answer.points.last())],
        legend: marks.contains(&NONE).then(|| format!("{NONE}: no spec meets the brief")),
    }
}

/// One row a run of points with the same pours.
fn specs(answer: &SweepAnswer, marks: &[char], units: UnitSystem) -> Table {
    let rows = words::runs(answer).into_iter().filter_map(|run| {
        let point = answer.points.get(run.start)?;
        let mark = marks.get(run.start).copied().unwrap_or(' ');
        Some(Row::plain(vec![
            Cell::toned(mark.to_string(), Tone::Aside),
            Cell::toned(words::run_range(answer, &run), Tone::Aside),
            Cell::toned(words::run_score(answer, &run, units), Tone::Aside),
            Cell::words(words::pours_words(point, units)),
        ]))
    });
    let over = format!("{} {}", answer.over, answer.unit);
    let (score, _) = words::score_column(&answer.aim, &answer.frame, units);
    let heads = [(Short, ""), (Short, over.trim_end()), (Short, score.as_str()), (Words, "the best spec")];
    Table::spoken(columns(heads), rows)
}
