//! A batch for people: what goes in, what to buy, what it costs, what a label says.

use super::page::{Ink, Page, WIDTH, aligned, cut, left, right, width};
use crate::quantity::{Amount, UnitSystem, number};
use crate::report::gather::{BatchAnswer, BatchLine, BuyLine, Outcome, PreparationLine};
use crate::report::words::{self, batch as batch_words};

/// The longest name that is shown whole in a table.
const NAME: usize = 30;
/// The longest pack that is shown whole in a table.
const PACK: usize = 18;

/// What a column of names keeps at least, where the rest of a table is wide.
const NAME_LEAST: usize = 8;

/// On which side a column is flush, and how it is inked.
type Column = (Side, Ink);

/// On which side a column is flush.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Side {
    Left,
    Right,
    /// Left, and cut where the page is too narrow: names.
    Cut,
}

/// Writes the batch.
pub fn write(page: &mut Page, answer: &BatchAnswer, units: UnitSystem) {
    page.heading(&batch_words::heading(answer));
    if answer.outcome == Outcome::Stopped {
        page.gap();
        page.paragraph(0, Ink::Alarm, batch_words::UNPROVED);
    }
    page.section("Into the vessel");
    vessel(page, answer, units);
    if !answer.preparations.is_empty() {
        page.section("House preparations to have ready");
        answer.preparations.iter().for_each(|p| preparation(page, p, units));
    }
    page.section("Measured again after the rounding, one serve");
    moved(page, answer, units);
    page.section("To buy");
    buy(page, answer);
    page.section("Money");
    shares(page, answer);
    for sentence in batch_words::money(answer) {
        page.paragraph(2, Ink::Plain, &sentence);
    }
    page.section("For a label or a menu");
    page.paragraph(2, Ink::Strong, &batch_words::label(answer));
    answer.label.statements.iter().for_each(|s| page.item(s));
    page.section("Keeping");
    answer.keeping.iter().for_each(|s| page.item(s));
}

fn vessel(page: &mut Page, answer: &BatchAnswer, units: UnitSystem) {
    measured(page, &batch_words::into_vessel(answer), units);
    page.gap();
    for sentence in batch_words::vessel_sentences(answer, units) {
        page.paragraph(2, Ink::Plain, &sentence);
    }
    page.paragraph(2, Ink::Faint, batch_words::ROUNDING);
}

fn preparation(page: &mut Page, preparation: &PreparationLine, units: UnitSystem) {
    page.paragraph(2, Ink::Plain, &batch_words::preparation(preparation, units));
    let parts: Vec<_> =
        preparation.parts.iter().map(|p| (p.ingredient.as_str(), p.amount(), p.weight)).collect();
    measured(page, &parts, units);
}

/// Amounts, names, and what the amounts weigh.
fn measured(page: &mut Page, lines: &[(&str, Amount, f64)], units: UnitSystem) {
    let amounts: Vec<_> = lines.iter().map(|(_, amount, _)| words::amount_digits(*amount, units)).collect();
    let numbers = aligned(&amounts.iter().map(|(number, _)| number.clone()).collect::<Vec<_>>());
    let rows: Vec<[String; 3]> = lines
        .iter()
        .zip(amounts.iter().zip(&numbers))
        .map(|((name, amount, weight), ((_, unit), number))| {
            let weight = batch_words::weight_beside(*amount, *weight).unwrap_or_default();
            [format!("{number} {unit}"), cut(name, NAME), weight]
        })
        .collect();
    grid(page, None, &rows, [(Side::Left, Ink::Strong), (Side::Cut, Ink::Plain), (Side::Right, Ink::Faint)]);
}

fn moved(page: &mut Page, answer: &BatchAnswer, units: UnitSystem) {
    let rows = batch_words::moved(answer, units);
    let figures = |at: usize| aligned(&rows.iter().map(|r| r[at].clone()).collect::<Vec<_>>());
    let (spec, batch, by) = (figures(2), figures(3), figures(4));
    let rows: Vec<[String; 5]> = rows
        .iter()
        .enumerate()
        .map(|(at, [name, unit, ..])| {
            [cut(name, NAME), cut(unit, 8), spec[at].clone(), batch[at].clone(), by[at].clone()]
        })
        .collect();
    let figure = (Side::Right, Ink::Plain);
    let (name, unit) = ((Side::Cut, Ink::Plain), (Side::Left, Ink::Plain));
    grid(page, Some(["", "", "spec", "batch", "moved"]), &rows, [name, unit, figure, figure, figure]);
    if let Some(sentence) = batch_words::misses(answer, units) {
        page.paragraph(2, Ink::Alarm, &sentence);
    }
}

fn buy(page: &mut Page, answer: &BatchAnswer) {
    let row = |line: &BuyLine| {
        let money = line.spend.map_or_else(String::new, |m| answer.money.write(m.0));
        let left_over = match line.packs {
            Some(_) => format!("left over {}", batch_words::left_over(line)),
            None => "no price".to_owned(),
        };
        let pack = cut(&batch_words::packs(line), PACK);
        [pack, cut(&line.ingredient, NAME), money, left_over]
    };
    let rows: Vec<[String; 4]> = answer.buy.iter().map(row).collect();
    let columns = [
        (Side::Right, Ink::Strong),
        (Side::Cut, Ink::Plain),
        (Side::Right, Ink::Plain),
        (Side::Left, Ink::Faint),
    ];
    grid(page, None, &rows, columns);
}

fn shares(page: &mut Page, answer: &BatchAnswer) {
    let row = |line: &BatchLine| {
        let money = answer.money.write(line.cost?.0);
        let share = line.share.map_or_else(String::new, |s| format!("{} %", number::fixed(s, 1)));
        Some([cut(&line.ingredient, NAME), money, share])
    };
    let rows: Vec<[String; 3]> = answer.lines.iter().filter_map(row).collect();
    grid(page, None, &rows, [(Side::Cut, Ink::Plain), (Side::Right, Ink::Plain), (Side::Right, Ink::Faint)]);
    if !rows.is_empty() {
        page.gap();
    }
}

/// A table whose columns are as wide as what stands in them; empty ones take no room, and names give way.
fn grid<const N: usize>(
    page: &mut Page,
    head: Option<[&str; N]>,
    rows: &[[String; N]],
    columns: [Column; N],
) {
    let widest = |at: usize| {
        let cells = rows.iter().map(|row| width(&row[at]));
        cells.chain(head.map(|h| width(h[at]))).max().unwrap_or(0)
    };
    let mut widths: [usize; N] = std::array::from_fn(widest);
    let over = (widths.iter().map(|w| w + 2).sum::<usize>()).saturating_sub(WIDTH);
    for (_, columns) in columns.iter().zip(&mut widths).filter(|(column, _)| column.0 == Side::Cut) {
        *columns = columns.saturating_sub(over).max(NAME_LEAST.min(*columns));
    }
    let cell = |at: usize, text: &str| {
        let filled = match columns[at].0 {
            Side::Left => left(text, widths[at]),
            Side::Right => right(text, widths[at]),
            Side::Cut => left(&cut(text, widths[at]), widths[at]),
        };
        format!("  {filled}")
    };
    let shown: Vec<usize> = (0..N).filter(|at| widths[*at] > 0).collect();
    if let Some(head) = head {
        let cells: String = shown.iter().map(|at| cell(*at, head[*at])).collect();
        page.line(&[(Ink::Faint, &cells)]);
    }
    for row in rows {
        let cells: Vec<(Ink, String)> =
            shown.iter().map(|at| (columns[*at].1, cell(*at, &row[*at]))).collect();
        let pieces: Vec<(Ink, &str)> = cells.iter().map(|(ink, text)| (*ink, text.as_str())).collect();
        page.line(&pieces);
    }
}
