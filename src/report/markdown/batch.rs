//! A batch as a prep card: one page for the wall of the prep room.

use std::fmt::Write as _;

use super::{escaped, table};
use crate::quantity::{UnitSystem, number};
use crate::report::gather::{BatchAnswer, Outcome, PreparationLine};
use crate::report::words::{self, batch as batch_words};

/// The card, without its cautions.
pub fn card(answer: &BatchAnswer, units: UnitSystem) -> String {
    let mut out = format!("# {}\n\n", escaped(&batch_words::heading(answer)));
    if answer.outcome == Outcome::Stopped {
        // Writing to a string cannot fail, here and below.
        let _ = write!(out, "**{}**\n\n", batch_words::UNPROVED);
    }
    out += "Made by ................ on ................ checked by ................\n\n";
    out += &vessel(answer, units);
    out += &preparations(answer, units);
    out += &moved(answer, units);
    out += &buy(answer);
    let _ = write!(out, "\n{}\n", joined(&batch_words::money(answer)));
    let facts = escaped(&batch_words::label(answer));
    let _ = write!(out, "\n## For a label or a menu\n\n**{facts}**\n\n{}", items(&answer.label.statements));
    let _ = write!(out, "\n## Keeping\n\n{}", items(&answer.keeping));
    out
}

fn vessel(answer: &BatchAnswer, units: UnitSystem) -> String {
    let rows = batch_words::into_vessel(answer).into_iter().map(|(name, amount, weight)| {
        let (figure, unit) = words::amount_digits(amount, units);
        let weight = batch_words::weight_beside(amount, weight).unwrap_or_default();
        vec![format!("{figure} {unit}"), escaped(name), weight, String::new()]
    });
    let said = joined(&batch_words::vessel_sentences(answer, units));
    format!("{}\n{said}\n", table(&["amount", "into the vessel", "by weight", "done"], "rlrl", rows))
}

fn preparations(answer: &BatchAnswer, units: UnitSystem) -> String {
    if answer.preparations.is_empty() {
        return String::new();
    }
    let one = |preparation: &PreparationLine| {
        let parts = preparation.parts.iter();
        let parts: Vec<String> =
            parts.map(|p| format!("{} {}", number::pour(p.amount(), units), p.ingredient)).collect();
        format!("{}: {}.", batch_words::preparation(preparation, units), parts.join(", "))
    };
    let all: Vec<String> = answer.preparations.iter().map(one).collect();
    format!("\n## House preparations to have ready\n\n{}", items(&all))
}

fn moved(answer: &BatchAnswer, units: UnitSystem) -> String {
    let rows = batch_words::moved(answer, units)
        .into_iter()
        .map(|[name, unit, spec, batch, moved]| vec![escaped(&name), spec, batch, moved, escaped(&unit)]);
    let mut out = "\n## Measured again after the rounding, one serve\n\n".to_owned();
    out += &table(&["", "spec", "batch", "moved", ""], "lrrrl", rows);
    if let Some(sentence) = batch_words::misses(answer, units) {
        let _ = write!(out, "\n**{}**\n", escaped(&sentence));
    }
    out
}

fn buy(answer: &BatchAnswer) -> String {
    let rows = answer.buy.iter().map(|line| {
        let money = line.spend.map_or_else(String::new, |m| answer.money.write(m.0));
        vec![
            escaped(&batch_words::packs(line)),
            escaped(&line.ingredient),
            batch_words::need(line),
            batch_words::left_over(line),
            money,
        ]
    });
    format!("\n## To buy\n\n{}", table(&["packs", "", "used", "left over", "money"], "rlrrr", rows))
}

fn joined(sentences: &[String]) -> String {
    escaped(&sentences.join(" "))
}

fn items(texts: &[String]) -> String {
    let mut out = String::new();
    for text in texts {
        let _ = writeln!(out, "- {}", escaped(text));
    }
    out
}
