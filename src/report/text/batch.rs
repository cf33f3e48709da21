//! A batch for people: what goes in, what to buy, what it costs, what a label says.

use super::page::{Ink, Page, WIDTH, aligned, cut, left, right, width};
use crate::quantity::{Amount, UnitSystem, number};
use crate::report::gather::{BatchAnswer, Outcome};
use crate::report::words;

/// The longest name that is shown whole in a table.
const NAME: usize = 34;

/// Writes the batch.
pub fn write(page: &mut Page, answer: &BatchAnswer, units: UnitSystem) {
    page.heading(&words::batch::heading(answer));
    if answer.outcome == Outcome::Stopped {
        page.gap();
        page.paragraph(
            0,
            Ink::Alarm,
            "Of the best spec found before the time limit, not proved to be the best.",
        );
    }
    page.section("Into the vessel");
    make(page, answer, units);
    page.gap();
    preparations(page, answer, units);
    moved(page, answer, units);
    buy(page, answer);
    page.section("Money");
    shares(page, answer);
    for sentence in words::batch::money(answer) {
        page.paragraph(2, Ink::Plain, &sentence);
    }
    page.section("For a label or a menu");
    page.paragraph(2, Ink::Strong, &words::batch::label(answer));
    answer.label.statements.iter().for_each(|s| page.item(s));
    page.section("Keeping");
    answer.keeping.iter().for_each(|s| page.item(s));
}

fn make(page: &mut Page, answer: &BatchAnswer, units: UnitSystem) {
    let mut rows: Vec<[String; 4]> = Vec::new();
    for line in answer.lines.iter().filter(|l| l.place == "vessel") {
        rows.push(measured(&line.ingredient, line.amount(), line.weight, units));
    }
    if answer.water_from == "added" && answer.water > 0.0 {
        let weight = answer.water * crate::liquid::ethanol::WATER;
        rows.push(measured("water, for the melt of the ice", Amount::ml(answer.water), weight, units));
    }
    table(page, &rows, "ll", &["", "", "", "or weigh"]);
    page.gap();
    page.paragraph(2, Ink::Plain, &words::batch::vessel(answer, units));
    for sentence in
        [words::batch::bottles(answer, units), words::batch::water(answer, units)].into_iter().flatten()
    {
        page.paragraph(2, Ink::Plain, &sentence);
    }
    page.paragraph(2, Ink::Plain, &words::batch::one_serve(answer, units));
    page.paragraph(2, Ink::Faint, words::batch::ROUNDING);
}

fn measured(name: &str, amount: Amount, weight: f64, units: UnitSystem) -> [String; 4] {
    let (figure, unit) = words::amount_digits(amount, units);
    let weight = if unit == "g" { String::new() } else { words::batch::weight(weight) };
    [figure, unit, name.to_owned(), weight]
}

/// Rows of number, unit, name, and a figure at the right.
fn table(page: &mut Page, rows: &[[String; 4]], _sides: &str, head: &[&str; 4]) {
    let column = |at: usize| rows.iter().map(|r| r[at].clone()).collect::<Vec<String>>();
    let numbers = aligned(&column(0));
    let names: Vec<String> = column(2).iter().map(|n| cut(n, NAME)).collect();
    let widest = |texts: &[String]| texts.iter().map(|t| width(t)).max().unwrap_or(0);
    let (wide, unit) = (widest(&numbers), widest(&column(1)));
    let (name, last) = (widest(&names), widest(&column(3)).max(width(head[3])));
    if !head[3].is_empty() {
        let before = 2 + wide + 1 + unit + 2 + name + 3;
        page.line(&[(Ink::Faint, &format!("{}{}", " ".repeat(before), right(head[3], last)))]);
    }
    for ((row, number), shown) in rows.iter().zip(&numbers).zip(&names) {
        page.line(&[
            (Ink::Strong, &format!("  {} {}  ", right(number, wide), left(&row[1], unit))),
            (Ink::Plain, &left(shown, name)),
            (Ink::Faint, &format!("   {}", right(&row[3], last))),
        ]);
    }
}

fn preparations(page: &mut Page, answer: &BatchAnswer, units: UnitSystem) {
    if answer.preparations.is_empty() {
        return;
    }
    page.section("House preparations to have ready");
    for preparation in &answer.preparations {
        page.paragraph(2, Ink::Plain, &words::batch::preparation(preparation, units));
        let rows: Vec<[String; 4]> =
            preparation.parts.iter().map(|p| measured(&p.ingredient, p.amount(), p.weight, units)).collect();
        table(page, &rows, "ll", &["", "", "", ""]);
    }
}

fn moved(page: &mut Page, answer: &BatchAnswer, units: UnitSystem) {
    page.section("Measured again after the rounding, one serve");
    let rows = words::batch::moved(answer, units);
    let column = |at: usize| rows.iter().map(|r| r[at].clone()).collect::<Vec<String>>();
    let names: Vec<String> = column(0).iter().map(|n| cut(n, NAME)).collect();
    let in_units: Vec<String> = column(1).iter().map(|n| cut(n, 8)).collect();
    let figures = [aligned(&column(2)), aligned(&column(3)), aligned(&column(4))];
    let widest = |texts: &[String]| texts.iter().map(|t| width(t)).max().unwrap_or(0);
    let (name, unit) = (widest(&names), widest(&in_units));
    let columns = [widest(&figures[0]).max(4), widest(&figures[1]).max(5), widest(&figures[2]).max(5)];
    let line = |cells: [&str; 3]| {
        cells.iter().zip(columns).map(|(c, columns)| format!("  {}", right(c, columns))).collect::<String>()
    };
    let head = format!("  {}{}", " ".repeat(name + 2 + unit), line(["spec", "batch", "moved"]));
    page.line(&[(Ink::Faint, &head)]);
    for at in 0..rows.len() {
        let cells = line([&figures[0][at], &figures[1][at], &figures[2][at]]);
        let text = format!("  {}  {}", left(&names[at], name), left(&in_units[at], unit));
        page.line(&[(Ink::Plain, &text), (Ink::Plain, &cells)]);
    }
    if let Some(sentence) = words::batch::misses(answer, units) {
        page.paragraph(2, Ink::Alarm, &sentence);
    }
}

fn buy(page: &mut Page, answer: &BatchAnswer) {
    page.section("To buy");
    let packs: Vec<String> = answer.buy.iter().map(|b| cut(&words::batch::packs(b), 16)).collect();
    let names: Vec<String> = answer.buy.iter().map(|b| cut(&b.ingredient, 30)).collect();
    let money: Vec<String> =
        answer.buy.iter().map(|b| b.spend.map_or_else(String::new, |m| answer.money.write(m.0))).collect();
    let left_over: Vec<String> = answer
        .buy
        .iter()
        .map(|b| match b.packs {
            Some(_) => format!("left over {}", words::batch::left_over(b)),
            None => "no price".to_owned(),
        })
        .collect();
    let widest = |texts: &[String]| texts.iter().map(|t| width(t)).max().unwrap_or(0);
    let room = WIDTH - 2 - widest(&packs) - 2 - widest(&names) - 2 - 2;
    for (at, pack) in packs.iter().enumerate() {
        let money = cut(&right(&money[at], widest(&money)), room);
        page.line(&[
            (Ink::Strong, &format!("  {}  ", right(pack, widest(&packs)))),
            (Ink::Plain, &left(&names[at], widest(&names))),
            (Ink::Plain, &format!("  {money}")),
            (Ink::Faint, &cut(&format!("  {}", left_over[at]), room.saturating_sub(width(&money)))),
        ]);
    }
}

fn shares(page: &mut Page, answer: &BatchAnswer) {
    let priced: Vec<_> = answer.lines.iter().filter_map(|l| Some((l, l.cost?))).collect();
    let names: Vec<String> = priced.iter().map(|(l, _)| cut(&l.ingredient, NAME)).collect();
    let money: Vec<String> = priced.iter().map(|(_, cost)| answer.money.write(cost.0)).collect();
    let widest = |texts: &[String]| texts.iter().map(|t| width(t)).max().unwrap_or(0);
    for (at, (line, _)) in priced.iter().enumerate() {
        let share = line.share.map_or_else(String::new, |s| format!("{} %", number::fixed(s, 1)));
        page.line(&[
            (Ink::Plain, &format!("  {}  ", left(&names[at], widest(&names)))),
            (Ink::Plain, &right(&money[at], widest(&money))),
            (Ink::Faint, &format!("  {}", right(&share, 7))),
        ]);
    }
    if !priced.is_empty() {
        page.gap();
    }
}
