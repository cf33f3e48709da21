//! The spec as one writes it on a card: amounts, ingredients, method.

use super::page::{Ink, Page, WIDTH, aligned, left, right, width, wrap};
use crate::quantity::{UnitSystem, number};
use crate::report::gather::{Frame, SpecLine};
use crate::report::words;

/// Writes the card of a spec.
pub fn write(page: &mut Page, frame: &Frame, spec: &SpecLine, units: UnitSystem) {
    let amounts: Vec<(String, String)> =
        spec.pours.iter().map(|p| words::amount_digits(p.amount(), units)).collect();
    let numbers = aligned(&amounts.iter().map(|(number, _)| number.clone()).collect::<Vec<_>>());
    let costs = costs(frame, spec);
    let cost_columns = costs.iter().map(|c| width(c)).max().unwrap_or(0);
    let head_columns = 2 + numbers.iter().map(|n| width(n)).max().unwrap_or(0) + 1 + 2 + 2;
    let room = WIDTH.saturating_sub(head_columns + 3 + cost_columns).max(8);
    let longest = spec.pours.iter().map(|p| width(&p.ingredient)).max().unwrap_or(0).min(room);
    for (((pour, number), (_, unit)), cost) in spec.pours.iter().zip(&numbers).zip(&amounts).zip(&costs) {
        let head = format!("  {number} {}  ", left(unit, 2));
        for (at, name) in wrap(&pour.ingredient, room).iter().enumerate() {
            let (head, cost) = if at == 0 { (head.as_str(), cost.as_str()) } else { ("", "") };
            page.line(&[
                (Ink::Strong, &left(head, head_columns)),
                (Ink::Plain, &left(name, longest)),
                (Ink::Faint, &format!("   {}", right(cost, cost_columns))),
            ]);
        }
    }
    page.gap();
    page.paragraph(2, Ink::Plain, &words::method_sentences(frame, spec, units));
}

/// What every pour costs; nothing where no pour has a price.
fn costs(frame: &Frame, spec: &SpecLine) -> Vec<String> {
    let known = spec.pours.iter().any(|p| p.cost.is_some());
    let text = |cost: Option<f64>| match cost {
        Some(cost) => format!("{} {}", number::fixed(cost, 2), frame.currency),
        None if known => "no price".to_owned(),
        None => String::new(),
    };
    spec.pours.iter().map(|p| text(p.cost)).collect()
}
