//! What runs through every lane of a sweep: where no spec meets the brief, the switches, the brief's own value.

use maud::{Markup, html};

use super::picture::{across, coordinate as c};
use super::way::{Stop, borders, own, place};
use crate::answer::SweepAnswer;

/// Stretches where no spec meets the brief.
pub fn gaps(all: &[Stop], height: f64) -> Markup {
    let gaps = all.iter().zip(borders(all)).filter(|(stop, _)| stop.spec.is_none());
    let mut merged: Vec<(f64, f64)> = Vec::new();
    for (_, (from, to)) in gaps {
        match merged.last_mut() {
            Some(last) if last.1 >= from => last.1 = to,
            _ => merged.push((from, to)),
        }
    }
    html! {
        @for (from, to) in merged {
            rect.page x=(across(from)) y="0" width=(across(to - from)) height=(c(height)) {}
            rect x=(across(from)) y="0" width=(across(to - from)) height=(c(height)) fill="url(#fill-out)" {}
        }
    }
}

/// What runs through curve and bands alike: switches and the brief's own value.
pub fn through(answer: &SweepAnswer, height: f64) -> Markup {
    html! {
        @for switch in &answer.switches {
            @let x = across(f64::midpoint(place(answer, switch.before), place(answer, switch.at)));
            line.switch x1=(x) x2=(x) y1="0" y2=(c(height)) {}
        }
        @if let Some(x) = own(answer) { line.own x1=(across(x)) x2=(across(x)) y1="0" y2=(c(height)) {} }
    }
}
