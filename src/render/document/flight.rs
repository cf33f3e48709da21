//! A flight: what is poured under which code, who tastes in which order, and, apart from it, the key.

use super::{
    Block, Cell, Column, Document, Kind, Part, Row, Section, Table, Told, Tone, figures, mind, screen, whole,
};
use crate::answer::{AlongLine, FlightAnswer, Gauge, GlassLine};
use crate::quantity::{UnitSystem, number};
use crate::render::words;
use crate::scenario::flight::End;
use crate::solve::Ending;

/// So many orders of tasting stand on a screen.
const ORDERS: usize = 3;

impl Told for FlightAnswer {
    fn full(&self, units: UnitSystem) -> Document {
        let mut sections = vec![pours(self, units), order(self, usize::MAX)];
        sections.extend(mind(&self.cautions));
        sections.push(key(self, units));
        whole(&self.title, sections, &[], self.asked.as_ref())
    }

    /// The key stands apart.
    fn screen(&self, units: UnitSystem) -> Document {
        let mut sections = vec![pours(self, units), order(self, ORDERS)];
        sections.extend(screen::mind(&self.care));
        let more =
            format!("Which code is which stands apart: --only key. {}", screen::more(&self.full(units)));
        Document { title: self.title.clone(), sections, more: Some(more) }
    }
}

/// Glasses in the order of their codes, so that nobody reads a rank out of the card.
fn blind(answer: &FlightAnswer) -> Vec<&GlassLine> {
    let mut glasses: Vec<&GlassLine> = answer.glasses.iter().collect();
    glasses.sort_by(|a, b| a.code.cmp(&b.code));
    glasses
}

fn pours(answer: &FlightAnswer, units: UnitSystem) -> Section {
    let glasses = blind(answer);
    let names: Vec<&str> = match answer.glasses.first() {
        Some(glass) => glass.spec.pours.iter().map(|p| p.ingredient.as_str()).collect(),
        None => vec![],
    };
    let mut columns = vec![Column::of(Kind::Words, "glass")];
    columns.extend(glasses.iter().map(|glass| Column::figures(&glass.code, "")));
    let row = |name: &&str| {
        let mut cells = vec![Cell::words(*name)];
        cells.extend(glasses.iter().map(|glass| {
            let pour = glass.spec.pours.iter().find(|p| p.ingredient == **name);
            pour.map_or(Cell::Nothing, |pour| {
                let (number, unit) = words::amount_digits(pour.amount(), units);
                Cell::amount(number, unit, Tone::Plain)
            })
        }));
        Row::plain(cells)
    };
    let table = Table::headed(columns, names.iter().map(row));
    let glasses = format!("{} glasses", answer.glasses.len());
    let made = answer.glasses.first().map(|glass| words::made(&answer.frame, &glass.spec, units));
    let text = format!("{glasses}, each under a code. {}", made.unwrap_or_default());
    Section::bare(Part::Card, vec![Block::plain(text.trim_end()), Block::Table(table)])
}

fn order(answer: &FlightAnswer, most: usize) -> Section {
    let line = |(at, order): (usize, &Vec<String>)| format!("taster {}: {}", at + 1, order.join(", "));
    let mut items: Vec<String> = answer.orders.iter().enumerate().take(most).map(line).collect();
    let left = answer.orders.len().saturating_sub(most);
    if left > 0 {
        items.push(format!("and {left} more: --only order"));
    }
    let why = format!(
        "In which order: over {} every glass stands in every place, and after every other, equally often. Fewer take \
         the first lines.",
        words::counted(answer.orders.len(), "taster"),
    );
    let keep = "What they say goes into the brief: [[tasted]] with glass = \"CODE\" and sweet, sour, strong or long = \
                \"too little\", \"right\" or \"too much\". --keep writes the glasses there.";
    Section::bare(Part::Order, vec![Block::plain(why), Block::Items(items), Block::said(keep, Tone::Aside)])
}

/// What the codes are, and what holds them apart.
fn key(answer: &FlightAnswer, units: UnitSystem) -> Section {
    let along = answer.along.iter().map(|along| &along.target);
    let keys = along.chain(answer.kept.iter().map(|kept| &kept.target));
    let gauges: Vec<&Gauge> = keys.filter_map(|key| answer.frame.gauge(key)).collect();
    let mut columns = vec![Column::of(Kind::Short, "glass")];
    columns.extend(figures::heads(&gauges, units));
    columns.push(Column::of(Kind::Words, "mind"));
    let row = |glass: &GlassLine| {
        let mut cells = vec![Cell::words(glass.code.clone())];
        cells.extend(figures::cells(&gauges, &glass.spec, units));
        cells.push(Cell::toned(noted(answer, glass, units), Tone::Aside));
        Row::plain(cells)
    };
    let table = Table::headed(columns, answer.glasses.iter().map(row));
    let mut blocks = vec![Block::Table(table), Block::plain(proof(answer))];
    blocks.extend(answer.along.iter().filter_map(|along| ends(answer, along, units)).map(Block::plain));
    blocks.extend(alike(answer).iter().map(|codes| {
        let codes = words::listed(codes);
        let text = format!("{codes} pour the same: the steps of the bar are too coarse for so many glasses.");
        Block::said(text, Tone::Alarm)
    }));
    Section::new(Part::Key, "The key (keep it apart)", blocks)
}

/// Glasses that pour the same, together.
fn alike(answer: &FlightAnswer) -> Vec<Vec<&str>> {
    let mut groups: Vec<Vec<&str>> = vec![];
    for (one, other) in &answer.same {
        match groups.iter_mut().find(|group| group.contains(&one.as_str())) {
            Some(group) if group.contains(&other.as_str()) => {}
            Some(group) => group.push(other),
            None => groups.push(vec![one, other]),
        }
    }
    groups
}

/// Where a glass does not reach its place, and which limits of the brief it leaves.
fn noted(answer: &FlightAnswer, glass: &GlassLine, units: UnitSystem) -> String {
    let short = answer.along.iter().zip(&glass.places).filter_map(|(along, place)| {
        let gauge = answer.frame.gauge(&along.target)?;
        let far = (glass.spec.served.get(&along.target) - place).abs() > 0.5 * along.step;
        far.then(|| format!("meant for {}", words::with_unit(gauge, *place, units)))
    });
    let mut outside: Vec<String> = glass
        .misses
        .iter()
        .filter_map(|miss| Some(answer.frame.gauge(&miss.target)?.label.clone()))
        .collect();
    outside.dedup();
    let outside = (!outside.is_empty()).then(|| format!("outside the brief in {}", words::listed(&outside)));
    short.chain(outside).collect::<Vec<_>>().join("; ")
}

/// Which ends of the way nobody asked for, and no limit gives.
fn ends(answer: &FlightAnswer, along: &AlongLine, units: UnitSystem) -> Option<String> {
    let gauge = answer.frame.gauge(&along.target)?;
    let label = &gauge.label;
    let (from, to) = (words::with_unit(gauge, along.from, units), words::with_unit(gauge, along.to, units));
    match along.ends {
        [End::Around, End::Around] => Some(format!(
            "The brief sets no limit on {label}: the glasses go a quarter to either side of its best spec, from {from} \
             to {to}. --from and --to say otherwise."
        )),
        [End::Around, _] => Some(format!(
            "The brief sets no lower limit on {label}: the glasses start a quarter under its best spec, at {from}. \
             --from says otherwise."
        )),
        [_, End::Around] => Some(format!(
            "The brief sets no upper limit on {label}: the glasses end a quarter over its best spec, at {to}. --to says \
             otherwise."
        )),
        _ => None,
    }
}

fn proof(answer: &FlightAnswer) -> String {
    let along: Vec<&str> = answer.along.iter().map(|a| words::label(&answer.frame, &a.target)).collect();
    let widest = answer.glasses.iter().map(|glass| glass.off).fold(0.0, f64::max);
    let far = number::trimmed(widest, 1);
    let steps = format!("The glasses step along {} as evenly", words::listed(&along));
    let rest = format!(
        "No glass is farther from its place than {far} of what a taster just tells (5 ml, 0.5 % vol, 3 g/L of sugar, 0.3 g/L \
         of acid; along the way a quarter of a step: common practice, no source)."
    );
    match answer.outcome {
        Ending::Stopped => format!("{steps} as was found; it is not proved that no pours do better. {rest}"),
        _ => format!("{steps}, and stay as alike in the rest, as the steps of the bar allow: proved. {rest}"),
    }
}
