//! A batch as a page: what goes in, what to buy, where the money goes, what a label says.

use maud::{Markup, html};

use super::page::{self, Heading, Tone};
use super::pattern::Fill;
use super::picture::{Room, Said, Told, across, behind, name, picture, sideways, table};
use super::ranges::{self, Strays};
use super::section::Section;
use super::{glass, lists, mind};
use crate::brief::Role;
use crate::quantity::{Amount, UnitSystem, number};
use crate::report::gather::{BatchAnswer, BatchLine, BuyLine, Outcome, PreparationLine};
use crate::report::words::{self, batch as said};

/// The page of a batch.
pub fn page(answer: &BatchAnswer, units: UnitSystem) -> String {
    let mut sections = vec![vessel(answer, units)];
    if !answer.preparations.is_empty() {
        sections.push(preparations(answer, units));
    }
    sections.push(measured(answer, units));
    sections.push(buy(answer));
    sections.push(money(answer));
    let label = lists::sentences(&answer.label.statements);
    sections.push(Section::new("label", "What does a label or a menu say?", said::label(answer), label));
    if !answer.keeping.is_empty() {
        let body = lists::sentences(&answer.keeping);
        sections.push(Section::new(
            "keeping",
            "How long does it keep?",
            "No promise is made.".to_owned(),
            body,
        ));
    }
    sections.extend(mind(&answer.cautions));
    let stopped = answer.outcome == Outcome::Stopped;
    let which = match answer.alternative {
        0 => String::new(),
        n => format!(", alternative {n}"),
    };
    let (lines, tone) =
        if stopped { (vec![said::UNPROVED.to_owned()], Tone::Warned) } else { (vec![], Tone::Answered) };
    let figures = vec![
        ("in the vessel".to_owned(), number::pour_about(Amount::ml(answer.volume), units)),
        ("strength there".to_owned(), format!("{} % vol", number::fixed(answer.mix.strength, 1))),
        ("cost a serve".to_owned(), answer.money.write(answer.costing.per_serve.0)),
    ];
    let kind = format!("A batch of {}{which}", said::serves(answer));
    page::page(&Heading { kind, title: &answer.title, said: lines, tone, figures }, &sections)
}

fn vessel(answer: &BatchAnswer, units: UnitSystem) -> Section {
    let picture = glass::batch_figure(&layers(answer, units), answer.mix.volume, units);
    let mut section = Section::new(
        "vessel",
        "What goes into the vessel?",
        String::new(),
        html! { div.pair { (picture) (measures(&said::into_vessel(answer), "Into the vessel", units)) } },
    );
    section.answer = said::vessel_sentences(answer, units);
    section.answer.push(said::ROUNDING.to_owned());
    section
}

/// What lies in the vessel, with the pattern of its role; powders dissolve.
fn layers(answer: &BatchAnswer, units: UnitSystem) -> Vec<(Fill, String, f64)> {
    let role = |line: &BatchLine| {
        answer.one.pours.iter().find(|p| p.ingredient == line.ingredient).map_or(Role::Water, |p| p.role)
    };
    let still = answer.lines.iter().filter(|l| l.place == "vessel" && l.unit == "ml");
    let mut layers: Vec<(Fill, String, f64)> = still
        .map(|l| {
            let label = format!("{} {}", number::pour(l.amount(), units), l.ingredient);
            (Fill::Role(role(l)), label, l.amount)
        })
        .collect();
    if answer.water_from == "added" && answer.water > 0.0 {
        let label = format!("{} water", number::pour(Amount::ml(answer.water), units));
        layers.push((Fill::Melt, label, answer.water));
    }
    layers
}

/// Amounts, names and weights.
fn measures(lines: &[(&str, Amount, f64)], caption: &str, units: UnitSystem) -> Markup {
    html! {
        div.card {
            table {
                caption { (Said(caption)) }
                tbody {
                    @for (ingredient, amount, weight) in lines {
                        @let (figure, unit) = words::amount_digits(*amount, units);
                        tr {
                            td.amount { b { (figure) } " " (unit) }
                            th scope="row" { (name(ingredient)) }
                            td.cost { (Said(&said::weight_beside(*amount, *weight).unwrap_or_default())) }
                        }
                    }
                }
            }
        }
    }
}

fn preparations(answer: &BatchAnswer, units: UnitSystem) -> Section {
    let parts = |p: &PreparationLine| {
        let lines: Vec<_> =
            p.parts.iter().map(|part| (part.ingredient.as_str(), part.amount(), part.weight)).collect();
        measures(&lines, &said::preparation(p, units), units)
    };
    let body = html! { div.blocks { @for one in &answer.preparations { (parts(one)) } } };
    let count = words::counted(answer.preparations.len(), "preparation");
    Section::new(
        "made",
        "What does the house have to make first?",
        format!("{}.", words::upper_first(&count)),
        body,
    )
}

fn measured(answer: &BatchAnswer, units: UnitSystem) -> Section {
    let rows: Vec<Vec<String>> = said::moved(answer, units).into_iter().map(Vec::from).collect();
    let body = html! {
        (ranges::figure(&answer.frame, &answer.one, Strays::default(), "range", units))
        div.plain { (sideways(&table("One serve before and after the rounding", &["figure", "unit", "spec", "batch", "moved"], &rows))) }
    };
    let sentence = said::misses(answer, units).unwrap_or_else(|| {
        "Yes: measured again from the rounded amounts, one serve meets every target.".to_owned()
    });
    Section::new("ranges", "Does it still measure right after the rounding?", sentence, body)
}

fn buy(answer: &BatchAnswer) -> Section {
    let row = |line: &BuyLine| {
        let money = line.spend.map_or_else(String::new, |m| answer.money.write(m.0));
        vec![line.ingredient.clone(), said::packs(line), money, said::left_over(line)]
    };
    let rows: Vec<Vec<String>> = answer.buy.iter().map(row).collect();
    let body = html! { div.plain { (sideways(&table("To buy, house preparations taken apart", &["what", "packs", "spend", "left over"], &rows))) } };
    let spend = format!("For the packs: {}.", answer.money.write(answer.costing.spend.0));
    Section::new("buy", "What has to be bought?", spend, body)
}

fn money(answer: &BatchAnswer) -> Section {
    let mut lines: Vec<(&BatchLine, f64)> =
        answer.lines.iter().filter_map(|l| Some((l, l.share.filter(|s| s.is_finite())?))).collect();
    lines.sort_by(|a, b| b.1.total_cmp(&a.1));
    let cost = |line: &BatchLine| line.cost.map_or_else(String::new, |m| answer.money.write(m.0));
    let percent = |share: f64| format!("{} %", number::fixed(share, 1));
    let rows: Vec<Vec<String>> =
        lines.iter().map(|(l, share)| vec![l.ingredient.clone(), cost(l), percent(*share)]).collect();
    let body = html! {
        figure.service {
            ul.strips {
                @for (at, (line, share)) in lines.iter().enumerate() {
                    @let told = Told {
                        id: format!("money-{at}"),
                        title: format!("The share of {} in the cost", line.ingredient),
                        text: format!("{}, {}.", percent(*share), cost(line)),
                    };
                    li.strip {
                        span.what { (name(&line.ingredient)) }
                        (picture("pic-share", Room::Strip(24.0), &told, &bar(*share / 100.0)))
                        span.figure { (percent(*share)) }
                        span.margin { (Said(&cost(line))) }
                    }
                }
            }
            figcaption { "Each ingredient's share of what the batch costs by use." }
            (behind(&table("Cost by use", &["ingredient", "cost", "share"], &rows)))
        }
    };
    let mut section = Section::new("money", "Where does the money go?", String::new(), body);
    section.answer = said::money(answer);
    section
}

fn bar(share: f64) -> Markup {
    html! {
        rect.water x="0" y="4" width="100%" height="16" {}
        rect.within x="0" y="4" width=(across(share.clamp(0.0, 1.0))) height="16" {}
    }
}
