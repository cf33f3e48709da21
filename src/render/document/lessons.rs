//! What was said, and the limits that follow.

use super::Kind::{Figure, Short, Words};
use super::{
    Block, Cell, Column, Document, Part, Row, Section, Table, Told, Tone, columns, figures, screen, whole,
};
use crate::answer::{Gauge, LessonsAnswer, TastedLine};
use crate::brief::Side;
use crate::learn::{Learned, Lesson, Why};
use crate::quantity::{UnitSystem, number};
use crate::render::words;

/// So many pairs that contradict one another are named.
const PAIRS: usize = 4;

impl Told for LessonsAnswer {
    fn full(&self, units: UnitSystem) -> Document {
        let sections = [Some(learned(self, units)), next(self), lines(self), said(self, units)];
        whole(&self.title, sections.into_iter().flatten().collect(), &[], self.asked.as_ref())
    }

    fn screen(&self, units: UnitSystem) -> Document {
        let full = self.full(units);
        let said = |section: &Section| section.part == Part::Said;
        if self.tasted == 0 {
            return full;
        }
        let sections = full.sections.iter().filter(|section| !said(section)).cloned().collect();
        screen::with_more(sections, &full)
    }
}

fn learned(answer: &LessonsAnswer, units: UnitSystem) -> Section {
    if answer.tasted == 0 {
        let text = "Nothing was tasted yet. Pour a flight, and write what is said of each glass into the brief: \
                    [[tasted]] with poured = \"50 ml …, 25 ml …\", or glass = \"CODE\" of a flight that was kept, and \
                    sweet, sour, strong or long = \"too little\", \"right\" or \"too much\".";
        return Section::bare(Part::Learned, vec![Block::plain(text)]);
    }
    let of = if answer.tasted == 1 { "tasting" } else { "tastings" };
    let mut blocks = vec![Block::plain(format!("From {} {of}:", answer.tasted))];
    let table = table(answer, units);
    if table.rows.is_empty() {
        blocks = vec![Block::plain(format!(
            "From {} {of} no limit follows: nobody said whether it was sweet, sour, strong or long enough.",
            answer.tasted
        ))];
    } else {
        blocks.push(Block::Table(table));
    }
    blocks.extend(gone(answer, units).map(|text| Block::said(text, Tone::Alarm)));
    blocks.extend(contradictions(answer).map(|text| Block::said(text, Tone::Alarm)));
    blocks.extend(balance(answer).map(Block::plain));
    blocks.push(Block::said("These are your tasters' words; the program tastes nothing.", Tone::Aside));
    Section::bare(Part::Learned, blocks)
}

/// What a tasting is called: by its code, else by its number.
fn called(glass: Option<&TastedLine>, number: usize) -> String {
    match glass.and_then(|tasted| tasted.glass.as_deref()) {
        Some(code) => code.to_owned(),
        None => format!("no. {number}"),
    }
}

fn name(answer: &LessonsAnswer, number: usize) -> String {
    called(answer.glasses.get(number.saturating_sub(1)), number)
}

fn gauge<'a>(answer: &'a LessonsAnswer, facet: &Lesson) -> Option<&'a Gauge> {
    answer.frame.gauge(&facet.target)
}

/// A row a limit that follows, and one for a facet from which none does.
fn table(answer: &LessonsAnswer, units: UnitSystem) -> Table {
    let heads =
        [(Short, "limit"), (Figure, "now"), (Figure, "learned"), (Short, "between"), (Words, "because")];
    let mut rows = vec![];
    for facet in &answer.facets {
        let Some(gauge) = gauge(answer, facet) else { continue };
        if let Some(min) = &facet.min {
            rows.push(limit(answer, (gauge, "at least"), min, "too little", units));
        }
        if let Some(max) = &facet.max {
            rows.push(limit(answer, (gauge, "at most"), max, "too much", units));
        }
        if facet.min.is_none() && facet.max.is_none() && facet.contradictions.is_empty() {
            let text = match facet.points.as_slice() {
                [only] => format!("{} was right: no limit follows", name(answer, only.glass)),
                _ => "all of them right so far: no limit follows".to_owned(),
            };
            let mut cells = vec![Cell::Nothing; heads.len() - 2];
            cells.insert(0, Cell::words(gauge.label.clone()));
            cells.push(Cell::words(text));
            rows.push(Row::plain(cells));
        }
    }
    Table::headed(columns(heads), rows)
}

fn limit(
    answer: &LessonsAnswer,
    (gauge, side): (&Gauge, &str),
    learned: &Learned,
    word: &str,
    units: UnitSystem,
) -> Row {
    let figure = |value: f64| words::figure(gauge, value, units);
    let (low, high) = learned.unsure;
    let between = match word {
        "too little" if learned.beyond => format!("over {}", figure(high)),
        _ if learned.beyond => format!("under {}", figure(low)),
        _ if figure(low) == figure(high) => format!("at {}", figure(low)),
        _ => format!("{} to {}", figure(low), figure(high)),
    };
    let beside = learned.beside.map(|glass| format!(", {} right", name(answer, glass)));
    let stays = if learned.stays { "; yours agrees" } else { "" };
    Row::plain(vec![
        Cell::words(format!("{} {side}", gauge.label)),
        learned.before.map_or(Cell::Nothing, |before| Cell::figure(words::limit(gauge, before, units))),
        Cell::amount(figure(learned.at), words::unit(gauge, units), Tone::Strong),
        Cell::words(between),
        Cell::words(format!(
            "{} was {word}{}{stays}",
            name(answer, learned.because),
            beside.unwrap_or_default()
        )),
    ])
}

/// Limits of the brief that what was said has passed.
fn gone(answer: &LessonsAnswer, units: UnitSystem) -> impl Iterator<Item = String> + '_ {
    answer.facets.iter().filter_map(move |facet| {
        let (gone, gauge) = (facet.gone.as_ref()?, gauge(answer, facet)?);
        let (side, passed) = match gone.side {
            Side::Min => ("at least", "even less than that was too much"),
            Side::Max => ("at most", "even more than that was too little"),
        };
        let at = words::limit(gauge, gone.at, units);
        let unit = words::unit(gauge, units);
        Some(format!("Your {} of {side} {at} {unit} goes: {passed}.", gauge.label))
    })
}

fn contradictions(answer: &LessonsAnswer) -> impl Iterator<Item = String> + '_ {
    answer.facets.iter().filter(|facet| !facet.contradictions.is_empty()).map(|facet| {
        let said = |number: usize| {
            let said = facet.points.iter().find(|point| point.glass == number).map_or("", |point| point.said.keyword());
            format!("{} {said}", name(answer, number))
        };
        let pair = |(low, high): &(usize, usize)| format!("{}, but {} with more of it", said(*low), said(*high));
        let pairs: Vec<String> = facet.contradictions.iter().take(PAIRS).map(pair).collect();
        let left = facet.contradictions.len() - pairs.len();
        let more = if left > 0 { format!(" (and {left} more)") } else { String::new() };
        format!(
            "What was said of {} contradicts itself along {}: {}{more}. No limit is drawn from it: taste these again, \
             blind.",
            facet.facet.keyword(),
            words::label(&answer.frame, &facet.target),
            pairs.join("; ")
        )
    })
}

fn balance(answer: &LessonsAnswer) -> Option<String> {
    let found = answer.balance.as_ref()?;
    let figure = |value: f64| number::trimmed(value, 1);
    let unsure = found.between.0 <= 0.0;
    let rate = if unsure {
        let words = words::counted(found.words, "word");
        format!(
            "Sweet and sour trade off, but {words} are too few to tell how much sugar a gram of acid takes."
        )
    } else {
        format!(
            "Sweet and sour trade off: each g/L more of acid took {} g/L more of sugar to taste as sweet ({} to {}, 95 %, \
             from {}).",
            figure(found.sugar_per_acid),
            figure(found.between.0),
            figure(found.between.1),
            words::counted(found.words, "word"),
        )
    };
    Some(format!(
        "{rate} At {} g/L of acid, most would call {} to {} g/L of sugar right.",
        figure(found.acid),
        figure(found.right.0),
        figure(found.right.1),
    ))
}

fn next(answer: &LessonsAnswer) -> Option<Section> {
    let Some(next) = answer.next.as_ref() else {
        let text = "What was tasted is known to what a taster just tells: no further flight would tell much.";
        let enough = answer.facets.iter().any(|facet| facet.min.is_some() || facet.max.is_some());
        return enough.then(|| Section::bare(Part::Next, vec![Block::plain(text)]));
    };
    let gauge = answer.frame.gauge(&next.along)?;
    let label = &gauge.label;
    let figure = |value: f64| number::trimmed(value, gauge.digits);
    let why = match next.why {
        Why::Unsure(Side::Min) => format!("where {label} begins to be enough is the least sure"),
        Why::Unsure(Side::Max) => format!("where {label} begins to be too much is the least sure"),
        Why::Open(Side::Min) => format!("nobody has had too little {label} yet"),
        Why::Open(Side::Max) => format!("nobody has had too much {label} yet"),
        Why::Contradiction => format!("the words on {label} contradict one another there"),
        Why::Untasted => format!("nothing was said of {label} yet"),
    };
    let brief = answer.asked.as_ref().map_or("BRIEF", |asked| asked.brief.as_str());
    let brief = if brief.contains(' ') { format!("\"{brief}\"") } else { brief.to_owned() };
    let command = format!(
        "washline flight {brief} --along {} --from {} --to {} --keep",
        next.along,
        figure(next.from),
        figure(next.to)
    );
    let text = format!("The flight that would tell most ({why}):");
    Some(Section::bare(Part::Next, vec![Block::plain(text), Block::Items(vec![command])]))
}

/// What `--keep` writes.
fn lines(answer: &LessonsAnswer) -> Option<Section> {
    let lines: Vec<String> = answer.limits.iter().map(|limit| limit.line.clone()).collect();
    (!lines.is_empty()).then(|| {
        let text = "--keep writes under [targets]:";
        Section::bare(Part::Lines, vec![Block::plain(text), Block::Items(lines)])
    })
}

/// Every tasting, as it was said.
fn said(answer: &LessonsAnswer, units: UnitSystem) -> Option<Section> {
    let gauges: Vec<&Gauge> = match answer.glasses.first() {
        Some(glass) => glass.served.iter().filter_map(|(key, _)| answer.frame.gauge(key)).collect(),
        None => return None,
    };
    let mut columns = vec![Column::of(Short, "glass")];
    columns.extend(figures::heads(&gauges, units));
    columns.push(Column::of(Words, "said"));
    let row = |glass: &TastedLine| {
        let mut cells = vec![Cell::words(called(Some(glass), glass.number))];
        cells.extend(gauges.iter().zip(&glass.served).map(|(gauge, (_, value))| {
            let text = if value.is_finite() { words::figure(gauge, *value, units) } else { String::new() };
            Cell::figure(text)
        }));
        cells.push(Cell::words(words::tasted(&glass.tasted)));
        Row::plain(cells)
    };
    let table = Table::headed(columns, answer.glasses.iter().map(row));
    Some(Section::new(Part::Said, "What was said", vec![Block::Table(table)]))
}
