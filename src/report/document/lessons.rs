//! What was said, and the limits that follow.

use super::{Block, Cell, Column, Document, Extent, Heads, Kind, Part, Row, Section, Table, Tone, asked, only};
use crate::quantity::{UnitSystem, number};
use crate::report::gather::{FacetLine, Gauge, LearnedLine, LessonsAnswer};
use crate::report::words;

/// What follows, as much of it as is asked for.
pub fn lessons(answer: &LessonsAnswer, extent: Extent, units: UnitSystem) -> Document {
    let mut first = Section::bare(Part::Learned, vec![Block::plain(said(answer))]);
    if !answer.facets.is_empty() {
        first.blocks.push(Block::Table(table(answer, units)));
    }
    first.blocks.extend(contradictions(answer).map(|text| Block::said(text, Tone::Alarm)));
    first.blocks.extend(balance(answer).map(Block::plain));
    first.blocks.extend(next(answer).map(Block::plain));
    first.blocks.push(Block::said("These are your tasters' words, not a taste of the program's.", Tone::Aside));
    let sections = std::iter::once(first).chain(asked(answer.asked.as_ref())).collect();
    let whole = Document { title: answer.title.clone(), sections, more: None };
    match extent {
        Extent::Only(part) => only(whole, part),
        Extent::Screen | Extent::Full => whole,
    }
}

fn said(answer: &LessonsAnswer) -> String {
    if answer.tasted == 0 {
        return "Nothing was tasted yet: add [[tasted]] with poured = \"…\" and sweet, sour, strong or long = \
                \"too little\", \"right\" or \"too much\"."
            .to_owned();
    }
    format!("From {}:", words::counted(answer.tasted, "tasted glass"))
}

fn gauge<'a>(answer: &'a LessonsAnswer, facet: &FacetLine) -> Option<&'a Gauge> {
    answer.frame.gauges.iter().find(|gauge| gauge.key == facet.target)
}

/// A row a limit that follows, and one for a facet from which none does.
fn table(answer: &LessonsAnswer, units: UnitSystem) -> Table {
    let columns = vec![
        Column::of(Kind::Words, "limit"),
        Column::figures("now", ""),
        Column::figures("learned", ""),
        Column::of(Kind::Short, "unsure"),
        Column::of(Kind::Words, "because"),
    ];
    let mut rows = vec![];
    for facet in &answer.facets {
        let Some(gauge) = gauge(answer, facet) else { continue };
        let figure = |value: f64| words::figure(gauge, value, units);
        let mut row = |side: &str, learned: &LearnedLine, word: &str| {
            let (low, high) = learned.unsure;
            let beside = learned.beside.map(|glass| format!(", glass {glass} right"));
            rows.push(Row::plain(vec![
                Cell::words(format!("{} {side}", gauge.label)),
                learned.before.map_or(Cell::Nothing, |before| Cell::figure(figure(before))),
                Cell::amount(figure(learned.at), words::unit(gauge, units), Tone::Strong),
                Cell::words(format!("{} to {}", figure(low), figure(high))),
                Cell::words(format!("glass {} was {word}{}", learned.because, beside.unwrap_or_default())),
            ]));
        };
        if let Some(min) = &facet.min {
            row("at least", min, "too little");
        }
        if let Some(max) = &facet.max {
            row("at most", max, "too much");
        }
        if facet.min.is_none() && facet.max.is_none() && facet.contradictions.is_empty() {
            let text = format!("all {} so far: no limit follows", facet.points.first().map_or("", |p| p.said));
            rows.push(Row::plain(vec![
                Cell::words(gauge.label.clone()),
                Cell::Nothing,
                Cell::Nothing,
                Cell::Nothing,
                Cell::words(text),
            ]));
        }
    }
    Table { columns, rows, heads: Heads::Shown }
}

fn contradictions(answer: &LessonsAnswer) -> impl Iterator<Item = String> + '_ {
    answer.facets.iter().filter(|facet| !facet.contradictions.is_empty()).map(|facet| {
        let pair = |(a, b): &(usize, usize)| format!("{a} and {b}");
        let pairs: Vec<String> = facet.contradictions.iter().map(pair).collect();
        let pairs: Vec<&str> = pairs.iter().map(String::as_str).collect();
        format!(
            "What was said of how {} they are contradicts itself along {} (glasses {}): no limit is drawn from it. \
             Taste these again, blind.",
            facet.facet,
            facet.target.replace('_', " "),
            words::listed(&pairs)
        )
    })
}

fn balance(answer: &LessonsAnswer) -> Option<String> {
    let found = answer.balance.as_ref()?;
    let figure = |value: f64| number::trimmed(value, 1);
    Some(format!(
        "Sweet and sour trade off: each g/L more of acid took {} g/L more of sugar to taste as sweet ({} to {}, \
         95 %, from {}). At {} g/L of acid, right lies between {} and {} g/L of sugar.",
        figure(found.sugar_per_acid),
        figure(found.between.0),
        figure(found.between.1),
        words::counted(found.words, "word"),
        figure(found.acid),
        figure(found.right.0),
        figure(found.right.1),
    ))
}

fn next(answer: &LessonsAnswer) -> Option<String> {
    let next = answer.next.as_ref()?;
    let figure = |value: f64| number::trimmed(value, 1);
    Some(format!(
        "The flight that would tell most: --along {} --from {} --to {}.",
        next.along,
        figure(next.from),
        figure(next.to)
    ))
}
