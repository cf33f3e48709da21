//! Flights, what was said and what was measured, as rows.

use super::Cell::{Nothing, Number, Text};
use super::{HEAD, Sheet, outcome_word};
use crate::report::gather::FlightAnswer;

/// Every glass as a spec under its code, with where it is to stand; then the orders of tasting.
pub fn flight(answer: &FlightAnswer) -> String {
    let mut out = Sheet::with_head(&HEAD);
    out.fact("title", &answer.title);
    out.fact("outcome", outcome_word(answer.outcome));
    out.row(&[Nothing, Text("answer"), Text("seed"), Number(answer.seed as f64)]);
    for glass in &answer.glasses {
        for (along, place) in answer.along.iter().zip(&glass.places) {
            let unit = Text(&along.unit);
            out.row(&[Text(&glass.code), Text("place"), Text(&along.target), Number(*place), unit]);
        }
        out.spec(&glass.code, &answer.frame, &glass.spec);
    }
    for (at, order) in answer.orders.iter().enumerate() {
        let taster = format!("taster {}", at + 1);
        out.row(&[Nothing, Text("order"), Text(&taster), Text(&order.join("; "))]);
    }
    for (one, other) in &answer.same {
        out.row(&[Text(one), Text("pours the same as"), Text(other)]);
    }
    answer.cautions.iter().for_each(|c| out.fact("caution", c));
    out.asked(answer.asked.as_ref());
    out.finish()
}
