//! A batch as a prep card: one page for the wall of the prep room.

use super::{escaped, table};
use crate::quantity::{Amount, UnitSystem, number};
use crate::report::gather::{BatchAnswer, Outcome};
use crate::report::words;

/// The card, without its cautions.
pub fn card(answer: &BatchAnswer, units: UnitSystem) -> String {
    let mut out = format!("# {}\n\n", escaped(&words::batch::heading(answer)));
    if answer.outcome == Outcome::Stopped {
        out += "**Of the best spec found before the time limit, not proved to be the best.**\n\n";
    }
    out += "Made by ................ on ................ checked by ................\n\n";
    out += &vessel(answer, units);
    out += &preparations(answer, units);
    out += "\n## Measured again after the rounding, one serve\n\n";
    let rows = words::batch::moved(answer, units)
        .into_iter()
        .map(|[name, unit, spec, batch, moved]| vec![escaped(&name), spec, batch, moved, escaped(&unit)]);
    out += &table(&["", "spec", "batch", "moved", ""], "lrrrl", rows);
    if let Some(sentence) = words::batch::misses(answer, units) {
        out += &format!("\n**{}**\n", escaped(&sentence));
    }
    out += &buy(answer);
    let money: Vec<String> = words::batch::money(answer).iter().map(|s| escaped(s)).collect();
    out += &format!("\n{}\n", money.join(" "));
    out += &format!("\n## For a label or a menu\n\n**{}**\n\n", escaped(&words::batch::label(answer)));
    out += &items(&answer.label.statements);
    out + "\n## Keeping\n\n" + &items(&answer.keeping)
}

fn vessel(answer: &BatchAnswer, units: UnitSystem) -> String {
    let mut rows: Vec<Vec<String>> = Vec::new();
    for line in answer.lines.iter().filter(|l| l.place == "vessel") {
        rows.push(row(&line.ingredient, line.amount(), line.weight, units));
    }
    if answer.water_from == "added" && answer.water > 0.0 {
        let weight = answer.water * crate::liquid::ethanol::WATER;
        rows.push(row("water, for the melt of the ice", Amount::ml(answer.water), weight, units));
    }
    let said = [
        Some(words::batch::vessel(answer, units)),
        words::batch::bottles(answer, units),
        words::batch::water(answer, units),
        Some(words::batch::one_serve(answer, units)),
    ];
    let said: Vec<String> = said.into_iter().flatten().map(|s| escaped(&s)).collect();
    format!(
        "{}\n{}\n",
        table(&["into the vessel", "", "or weigh", "done"], "rlrl", rows.into_iter()),
        said.join(" ")
    )
}

fn row(name: &str, amount: Amount, weight: f64, units: UnitSystem) -> Vec<String> {
    let (figure, unit) = words::amount_digits(amount, units);
    let weight = if unit == "g" { String::new() } else { words::batch::weight(weight) };
    vec![format!("{figure} {unit}"), escaped(name), weight, String::new()]
}

fn preparations(answer: &BatchAnswer, units: UnitSystem) -> String {
    if answer.preparations.is_empty() {
        return String::new();
    }
    let items = answer.preparations.iter().map(|preparation| {
        let parts: Vec<String> = preparation
            .parts
            .iter()
            .map(|p| format!("{} {}", number::pour(p.amount(), units), p.ingredient))
            .collect();
        format!(
            "- {}\n",
            escaped(&format!("{}: {}", words::batch::preparation(preparation, units), parts.join(", ")))
        )
    });
    format!("\n## House preparations to have ready\n\n{}", items.collect::<String>())
}

fn buy(answer: &BatchAnswer) -> String {
    let rows = answer.buy.iter().map(|line| {
        let money = line.spend.map_or_else(String::new, |m| answer.money.write(m.0));
        vec![
            escaped(&words::batch::packs(line)),
            escaped(&line.ingredient),
            words::batch::need(line),
            words::batch::left_over(line),
            money,
        ]
    });
    format!("\n## To buy\n\n{}", table(&["packs", "", "used", "left over", "money"], "rlrrr", rows))
}

fn items(texts: &[String]) -> String {
    texts.iter().map(|text| format!("- {}\n", escaped(text))).collect()
}
