//! What may go into the drink: struck out, made a must, priced; what is aimed for; swaps beside each other.

use maud::{Markup, html};
use serde_json::json;

use super::View;
use crate::answer::{AimLine, Frame, SpecLine};
use crate::brief::{Candidate, Measure, Role};
use crate::draft::{method, method_word};
use crate::quantity::{UnitSystem, number};
use crate::render::html::choice::Choice;
use crate::render::html::fill::Palette;
use crate::render::html::matrix::matrix;
use crate::render::html::picture::{Said, name};

/// Every ingredient, in card order.
pub fn shelf(view: &View, palette: &Palette) -> Markup {
    let mut all: Vec<&Candidate> = view.brief.candidates.iter().collect();
    all.sort_by_key(|one| (one.out, Role::ALL.iter().position(|role| *role == one.role)));
    html! { ul.shelf { @for one in all { (ingredient(view, one, palette)) } } }
}

fn ingredient(view: &View, one: &Candidate, palette: &Palette) -> Markup {
    let poured =
        view.answer.best.iter().flat_map(|best| &best.pours).find(|pour| pour.ingredient == one.name);
    let price = one
        .price
        .as_ref()
        .map_or_else(String::new, |price| format!("{} per {}", price.amount, price.pack_text));
    let state = |to: &str| json!({ "kind": "use", "name": one.name, "to": to }).to_string();
    let field = format!("candidate.{}", one.name);
    html! {
        li.ingredient.out[one.out].poured[poured.is_some()] data-key=(one.name) {
            span.who data-field=(field) { (palette.swatch(&one.name)) " " (name(&one.name)) " " small { (one.role.keyword()) } }
            span.now { @match poured {
                Some(pour) => b { (number::pour(pour.amount(), view.units)) },
                None => "–",
            } }
            input.price type="text" autocomplete="off" placeholder="price per pack" aria-label=(format!("price of {}", one.name))
                data-edit=(json!({ "kind": "price", "name": one.name }).to_string()) data-field=(format!("{field}.price")) value=(price);
            span.does {
                button type="button" aria-pressed=(one.out.to_string()) data-edit=(state(if one.out { "may" } else { "out" })) {
                    "out" span.unseen { " " (Said(&one.name)) }
                }
                button type="button" aria-pressed=(one.must.to_string()) data-edit=(state(if one.must { "may" } else { "must" })) {
                    "must" span.unseen { " " (Said(&one.name)) }
                }
                button type="button" data-swap=(one.name) disabled[one.out] { "swap" span.unseen { " " (Said(&one.name)) } }
            }
        }
    }
}

/// What can be swapped: what is poured first.
pub fn olds(view: &View) -> Markup {
    let poured =
        |one: &Candidate| view.answer.best.iter().flat_map(|b| &b.pours).any(|p| p.ingredient == one.name);
    let mut all: Vec<&Candidate> = view.brief.candidates.iter().filter(|one| !one.out).collect();
    all.sort_by_key(|one| !poured(one));
    html! { @for one in all { option value=(one.name) { (Said(&one.name)) } } }
}

/// What can be aimed for; the brief's own aim is chosen.
pub fn aims(view: &View) -> Markup {
    let brief = view.brief;
    let own = own_aim(&view.answer.aim);
    let mut all: Vec<String> = ["lowest cost", "nearest middle"].map(str::to_owned).to_vec();
    all.extend(brief.reference.is_some().then(|| "nearest reference".to_owned()));
    let known = [Measure::Strength, Measure::Sugar, Measure::Acid, Measure::Energy, Measure::Volume];
    all.extend(known.iter().flat_map(|m| ["lowest", "highest"].map(|way| format!("{way} {}", m.keyword()))));
    all.extend(
        (0..brief.properties.len()).map(|at| format!("lowest {}", brief.measure_name(Measure::Property(at)))),
    );
    all.extend(brief.usable().map(|at| format!("highest {}", brief.candidates[at].name)));
    if !all.contains(&own) {
        all.insert(0, own.clone());
    }
    html! { @for one in &all { option value=(one) selected[*one == own] { (Said(one)) } } }
}

fn own_aim(aim: &AimLine) -> String {
    format!("{} {}", aim.direction.word(), aim.of)
}

/// Figures that nothing limits yet.
pub fn bounds(view: &View) -> Markup {
    let frame = &view.answer.frame;
    let best = view.answer.best.as_ref();
    let open = frame
        .gauges
        .iter()
        .filter(|gauge| !gauge.limited() && best.is_some_and(|best| !best.served.get(&gauge.key).is_nan()));
    html! { option value="" { "…" } @for gauge in open { option value=(gauge.key) { (Said(&gauge.label)) } } }
}

/// How it is made, and in which glass.
pub fn serve(view: &View) -> Markup {
    let made = method_word(view.brief.serve.method);
    let word = |key: &str| json!({ "kind": "word", "key": key }).to_string();
    let known = ["shake", "stir", "build", "blend", "none"];
    let glass = view
        .brief
        .serve
        .glass
        .map_or_else(String::new, |glass| format!("{} ml", number::trimmed(glass.brim, 1)));
    html! {
        label { span { "made by" } select data-edit=(word("serve.method")) data-field="serve.method" {
            @for one in known.into_iter().filter(|one| method(one).is_some()) { option value=(one) selected[one == made] { (one) } }
        } }
        label { span { "glass" } input.short type="text" autocomplete="off" size="7" placeholder="any" data-edit=(word("serve.glass")) data-field="serve.glass" value=(glass); }
    }
}

/// A swap that was tried.
pub struct Tried {
    /// What came for what.
    pub label: String,
    /// The swap as the page sends it; nothing of the brief as it stands.
    pub swap: Option<String>,
    /// The best spec with it, or why there is none.
    pub found: Result<SpecLine, String>,
}

/// Swaps beside each other, and what takes one over.
pub fn tried(frame: &Frame, rows: &[Tried], units: UnitSystem) -> Markup {
    let all: Vec<Choice> =
        rows.iter().filter_map(|row| Some(Choice::of(&row.label, row.found.as_ref().ok()?))).collect();
    let palette = Palette::of(all.iter().map(|choice| choice.spec));
    html! {
        @if !all.is_empty() { (matrix(frame, &all, &palette, 0, units)) }
        ul.swaps {
            @for row in rows {
                @if let Some(swap) = &row.swap {
                    li {
                        span { (Said(&row.label)) @if let Err(why) = &row.found { ": " (Said(why)) } }
                        @if row.found.is_ok() { button type="button" data-edit=(swap) { "take it" span.unseen { ": " (Said(&row.label)) } } }
                        button type="button" data-drop=(swap) { "leave it" span.unseen { ": " (Said(&row.label)) } }
                    }
                }
            }
        }
    }
}
