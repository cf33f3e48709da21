//! Specs side by side: rows the specs, columns their pours, their figures and how often they hold.

use maud::{Markup, html};

use super::choice::{Choice, pick};
use super::fill::Palette;
use super::picture::{Said, name};
use super::table::sideways;
use crate::answer::{Frame, Gauge, SpecLine, Turn};
use crate::quantity::{Unit, UnitSystem};
use crate::render::words;

/// Every spec as a row, the first of them chosen; the first so many have a card to show.
pub fn matrix(frame: &Frame, all: &[Choice], palette: &Palette, cards: usize, units: UnitSystem) -> Markup {
    let gauges = figures(frame, all);
    let shared = all.iter().any(|choice| choice.spec.within_all.is_some());
    let noted = all.iter().any(|choice| !choice.spec.notes.is_empty());
    let poured = |one: &&str| all.iter().any(|c| c.spec.pours.iter().any(|p| p.ingredient == *one));
    let names: Vec<&str> = palette.names().filter(poured).collect();
    let id = |of: &str| (cards > 0).then(|| of.to_owned());
    sideways(&html! {
        table.matrix id=[id("matrix")] {
            caption { @if cards > 0 { "Choose a row: card and strips follow. " } "Bold is poured differently, – is left out." }
            thead {
                tr {
                    th.corner scope="col" { "spec" }
                    @for one in &names {
                        th scope="col" { (palette.swatch(one)) " " (name(one)) " " small { (unit_of(all, one, units)) } }
                    }
                    @for gauge in &gauges { th.measured scope="col" { (name(&gauge.label)) " " small { (name(words::unit(gauge, units))) } } }
                    @if shared { th.measured scope="col" { "holds " small { "of 100" } } }
                    @if noted { th scope="col" { "notes" } }
                }
            }
            tbody {
                @for (at, choice) in all.iter().enumerate() {
                    tr id=[id(&format!("row-{at}"))] {
                        th scope="row" { (pick(at, &choice.label, cards)) }
                        @for one in &names { (amount(choice.spec, one, units)) }
                        @for gauge in &gauges { (figure(gauge, choice.spec, units)) }
                        @if shared { td.measured { (choice.spec.within_all.map_or_else(|| "–".to_owned(), words::hundredths)) } }
                        @if noted { td.words { (Said(&words::notes_carried(choice.spec))) } }
                    }
                }
            }
        }
    })
}

/// What the amounts of a column count.
fn unit_of(all: &[Choice], ingredient: &str, units: UnitSystem) -> &'static str {
    let mut pours = all.iter().flat_map(|choice| &choice.spec.pours);
    let weighed = pours.find(|p| p.ingredient == ingredient).is_some_and(|p| p.amount().unit == Unit::G);
    match (weighed, units) {
        (true, _) => "g",
        (false, UnitSystem::Metric) => "ml",
        (false, UnitSystem::UsOunces) => "oz",
    }
}

/// An amount; bold where the spec that it is held against pours another.
fn amount(spec: &SpecLine, ingredient: &str, units: UnitSystem) -> Markup {
    let changed = |turn: &Turn| *turn != Turn::Out;
    let changed = spec.change.iter().any(|c| c.ingredient == ingredient && changed(&c.turn));
    match spec.pours.iter().find(|p| p.ingredient == ingredient) {
        None => html! { td.none { "–" } },
        Some(pour) => {
            let (amount, unit) = words::amount_digits(pour.amount(), units);
            // A dash stays a dash where everything else is in ounces.
            let other = !matches!(unit.as_str(), "ml" | "oz" | "g");
            let text = if other { format!("{amount} {unit}") } else { amount };
            html! { td { @if changed { b { (text) } } @else { (text) } } }
        }
    }
}

fn figure(gauge: &Gauge, spec: &SpecLine, units: UnitSystem) -> Markup {
    let text = words::figure(gauge, spec.served.get(&gauge.key), units);
    let missed = spec.margins.iter().any(|m| m.target == gauge.key && !m.met);
    html! {
        @if missed { td.measured.missed { (text) " ×" span.unseen { " misses its limit" } } }
        @else { td.measured { (text) } }
    }
}

/// What is limited, and what people know a drink by.
fn figures<'a>(frame: &'a Frame, all: &[Choice]) -> Vec<&'a Gauge> {
    const KNOWN: [&str; 5] = ["volume", "strength", "sugar", "acid", "cost"];
    let known = |g: &&Gauge| {
        (g.limited() || KNOWN.contains(&g.key.as_str()))
            && all.iter().any(|choice| !choice.spec.served.get(&g.key).is_nan())
    };
    frame.gauges.iter().filter(known).collect()
}
