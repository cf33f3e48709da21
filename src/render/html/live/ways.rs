//! Why nothing can be poured, and the smallest changes as buttons.

use maud::{Markup, html};
use serde_json::{Value, json};

use crate::answer::{ConflictLine, Frame, SpecAnswer};
use crate::brief::Side;
use crate::explain::loosen::{Change, Knob};
use crate::quantity::UnitSystem;
use crate::render::html::conflict::clashes;
use crate::render::html::picture::Said;
use crate::render::words;

/// What clashes, and the ways out of it.
pub fn ways(answer: &SpecAnswer, found: &ConflictLine, units: UnitSystem) -> Markup {
    let frame = &answer.frame;
    html! {
        (clashes(answer, found, units))
        @if !found.routes.is_empty() {
            ul.ways {
                @for route in &found.routes {
                    @let edits: Option<Vec<Value>> = route.changes.iter().map(|need| edit(frame, need)).collect();
                    li {
                        @match edits {
                            Some(edits) => button type="button" data-edits=(Value::from(edits).to_string()) { (Said(&change(frame, &route.changes, units))) },
                            None => b { (Said(&change(frame, &route.changes, units))) },
                        }
                        " " span { (Said(&words::pours(&route.spec, units))) }
                    }
                }
            }
        }
    }
}

fn change(frame: &Frame, needs: &[Change], units: UnitSystem) -> String {
    words::upper_first(&words::listed(&words::needs(frame, needs, units)))
}

/// The change as the page sends it; nothing where the brief has no one figure for it.
fn edit(frame: &Frame, need: &Change) -> Option<Value> {
    let Some(needed) = need.needed else {
        let target = (need.knob == Knob::Target).then_some(&need.gauge)?;
        return Some(json!({ "kind": "limit", "key": target, "side": need.side.keyword(), "to": "" }));
    };
    match need.knob {
        Knob::Target => {
            // As loose as it is told, and never tighter than it has to be.
            let scale = 10_f64.powf(frame.gauge(&need.gauge)?.digits.max(2) as f64);
            let to = if need.side == Side::Min { (needed * scale).floor() } else { (needed * scale).ceil() }
                / scale;
            Some(
                json!({ "kind": "limit", "key": need.gauge, "side": need.side.keyword(), "to": to.to_string() }),
            )
        }
        Knob::Glass => {
            Some(json!({ "kind": "word", "key": "serve.glass", "to": format!("{} ml", needed.ceil()) }))
        }
        Knob::Ingredient(unit) if need.side == Side::Max => Some(
            json!({ "kind": "amount", "name": need.target, "side": "max", "to": format!("{needed} {}", unit.symbol()) }),
        ),
        Knob::Hold => {
            let to = (needed * 100.0).ceil() / 100.0;
            Some(json!({ "kind": "hold", "key": need.gauge, "to": to }))
        }
        Knob::Ingredient(_) if needed == 0.0 => {
            Some(json!({ "kind": "use", "name": need.target, "to": "may" }))
        }
        Knob::Ingredient(unit) => Some(json!({
            "kind": "amount", "name": need.target, "side": "min", "to": format!("{needed} {}", unit.symbol())
        })),
        Knob::Most => Some(json!({ "kind": "word", "key": "serve.most", "to": needed.to_string() })),
        Knob::Headroom => {
            Some(json!({ "kind": "word", "key": "serve.headroom", "to": needed.floor().to_string() }))
        }
        _ => None,
    }
}
