//! A batch as a page: what goes in, what to buy, where the money goes, what a label says.

use maud::{Markup, html};

use super::fill::Palette;
use super::page::{Heading, Page, Part, Tone};
use super::picture::{Said, name};
use super::strips::{Strays, strips};
use super::table::{shade, sideways, table};
use super::{lists, mind};
use crate::answer::{BatchAnswer, BatchLine, BuyLine};
use crate::batch::Recipe;
use crate::quantity::{Amount, UnitSystem, number};
use crate::render::words::{self, batch as said};
use crate::solve::Ending;

/// The page of a batch.
pub fn page(answer: &BatchAnswer, units: UnitSystem) -> Page<'_> {
    let palette = Palette::of([&answer.one]);
    let first = html! {
        section.specs aria-label="The batch" {
            div.spec.only {
                (vessel(answer, &palette, units))
                (strips(&answer.frame, &answer.one, Strays::default(), 0, units))
            }
        }
    };
    let parts = [
        preparations(answer, units),
        Some(buy(answer)),
        Some(money(answer)),
        Some(rounded(answer, units)),
        Some(label(answer)),
        (!answer.keeping.is_empty()).then(|| {
            let no_promise = "No promise is made of how long it keeps.".to_owned();
            let all: Vec<String> = std::iter::once(no_promise).chain(answer.keeping.clone()).collect();
            Part::new("keeping", "Keeping", lists::sentences(&all))
        }),
        mind(&answer.cautions),
    ];
    let which = match answer.alternative {
        0 => String::new(),
        n => format!(", alternative {n}"),
    };
    let stopped = answer.outcome == Ending::Stopped;
    let spend = format!(
        "{} a serve by use; the packs come to {}.",
        answer.money.write(answer.costing.per_serve.0),
        answer.money.write(answer.costing.spend.0)
    );
    let vessel = said::vessel_sentences(answer, units).into_iter().next();
    let unproved = stopped.then(|| said::UNPROVED.to_owned());
    Page {
        heading: Heading {
            kind: format!("A batch of {}{which}", said::serves(answer)),
            title: &answer.title,
            said: unproved.into_iter().chain(vessel).chain([spend]).collect(),
            tone: if stopped { Tone::Warned } else { Tone::Answered },
        },
        palette,
        first,
        parts: parts.into_iter().flatten().collect(),
        script: None,
    }
}

/// What goes into the vessel, and what is done with it.
fn vessel(answer: &BatchAnswer, palette: &Palette, units: UnitSystem) -> Markup {
    let known = |ingredient: &str| palette.names().any(|one| one == ingredient);
    html! {
        article.card id="card-0" aria-labelledby="card-0-t" {
            h2 id="card-0-t" { "Into the vessel" }
            (measures(&said::into_vessel(answer), &|one| html! { @if known(one) { (palette.swatch(one)) " " } }, units))
            @for sentence in said::vessel_sentences(answer, units).iter().skip(1) { p.method { (Said(sentence)) } }
        }
    }
}

/// Amounts, names and weights.
fn measures(lines: &[(&str, Amount, f64)], before: &dyn Fn(&str) -> Markup, units: UnitSystem) -> Markup {
    html! {
        table.pours {
            thead.unseen { tr { th scope="col" { "Amount" } th scope="col" { "Ingredient" } th scope="col" { "Weight" } } }
            tbody {
                @for (ingredient, amount, weight) in lines {
                    @let (figure, unit) = words::amount_digits(*amount, units);
                    tr {
                        td.amount { b { (figure) } " " (unit) }
                        th scope="row" { (before(ingredient)) (name(ingredient)) }
                        td.cost { (Said(&said::weight_beside(*amount, *weight).unwrap_or_default())) }
                    }
                }
            }
        }
    }
}

fn preparations(answer: &BatchAnswer, units: UnitSystem) -> Option<Part> {
    let parts = |p: &Recipe| {
        let lines: Vec<_> =
            p.parts.iter().map(|part| (part.ingredient.as_str(), part.amount(), part.weight)).collect();
        html! { div { h3 { (Said(&said::preparation(p, units))) } (measures(&lines, &|_| html! {}, units)) } }
    };
    let body = html! { div.blocks { @for one in &answer.preparations { (parts(one)) } } };
    (!answer.preparations.is_empty()).then(|| Part::new("made", "To make first", body))
}

fn rounded(answer: &BatchAnswer, units: UnitSystem) -> Part {
    let rows: Vec<Vec<String>> = said::moved(answer, units).into_iter().map(Vec::from).collect();
    let sentence = said::misses(answer, units).unwrap_or_else(|| {
        "Measured again from the rounded amounts, one serve meets every target.".to_owned()
    });
    let body = html! {
        (table(&sentence, &["figure", "unit", "spec", "batch", "moved"], &rows))
        p.note { (Said(said::ROUNDING)) }
    };
    Part::new("rounded", "One serve after the rounding", body)
}

fn buy(answer: &BatchAnswer) -> Part {
    let row = |line: &BuyLine| {
        let money = line.spend.map_or_else(String::new, |m| answer.money.write(m.0));
        vec![line.ingredient.clone(), said::packs(line), money, said::left_over(line)]
    };
    let rows: Vec<Vec<String>> = answer.buy.iter().map(row).collect();
    let caption = "House preparations taken apart.";
    Part::new("buy", "To buy", table(caption, &["what", "packs", "spend", "left over"], &rows))
}

fn money(answer: &BatchAnswer) -> Part {
    let mut lines: Vec<(&BatchLine, f64)> =
        answer.lines.iter().filter_map(|l| Some((l, l.share.filter(|s| s.is_finite())?))).collect();
    lines.sort_by(|a, b| b.1.total_cmp(&a.1));
    let body = html! {
        (sideways(&html! {
            table.brings {
                caption { "By use; the darker, the more of the money goes there." }
                thead { tr { th scope="col" { "ingredient" } th scope="col" { "cost" } th scope="col" { "share" } } }
                tbody {
                    @for (line, share) in &lines {
                        tr {
                            th scope="row" { (name(&line.ingredient)) }
                            td { (line.cost.map_or_else(String::new, |m| answer.money.write(m.0))) }
                            td class=(shade(share / 100.0)) { (number::fixed(*share, 1)) " %" }
                        }
                    }
                }
            }
        }))
        (lists::sentences(&said::money(answer)))
    };
    Part::new("money", "Money", body)
}

fn label(answer: &BatchAnswer) -> Part {
    let first = said::label(answer);
    let all: Vec<String> = std::iter::once(first).chain(answer.label.statements.clone()).collect();
    Part::new("label", "Label and menu", lists::sentences(&all))
}
