//! Flights, what was said and what was measured, as rows.

use super::Cell::{Nothing, Number, Text};
use super::{HEAD, Sheet};
use crate::answer::{CalibrationAnswer, FigureOf, FlightAnswer, LessonsAnswer, Spelled as _};
use crate::learn::Learned;

/// Every glass as a spec under its code, with where it is to stand; then the orders of tasting.
pub fn flight(answer: &FlightAnswer) -> String {
    let mut out = Sheet::with_head(&HEAD);
    out.fact("title", &answer.title);
    out.fact("outcome", answer.outcome.spelled());
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

/// The columns of `learn`.
const LESSONS: [&str; 8] = ["what", "name", "glass", "value", "unit", "said", "from", "to"];

/// What was said, a row a word; then every limit that follows with the two figures that it lies between.
pub fn lessons(answer: &LessonsAnswer) -> String {
    let mut out = Sheet::with_head(&LESSONS);
    out.row(&[Text("title"), Text(&answer.title)]);
    for facet in &answer.facets {
        let (target, unit) = (Text(&facet.target), Text(&facet.unit));
        for point in &facet.points {
            let glass = Number(point.glass as f64);
            out.row(&[Text("said"), target, glass, Number(point.value), unit, Text(point.said.keyword())]);
        }
        let learned = |side: &'static str, learned: &Learned| {
            let (from, to) = learned.unsure;
            let glass = Number(learned.because as f64);
            [Text(side), target, glass, Number(learned.at), unit, Nothing, Number(from), Number(to)]
        };
        facet.min.iter().for_each(|min| out.row(&learned("min", min)));
        facet.max.iter().for_each(|max| out.row(&learned("max", max)));
        if let Some(gone) = &facet.gone {
            out.row(&[Text("gone"), target, Nothing, Number(gone.at), unit, Text(gone.side.keyword())]);
        }
        for (low, high) in &facet.contradictions {
            let pair = [Nothing, Nothing, Nothing, Number(*low as f64), Number(*high as f64)];
            out.row(&[&[Text("contradiction"), target, Nothing][..], &pair[..]].concat());
        }
    }
    for glass in &answer.glasses {
        if let Some(words) = &glass.tasted.words {
            out.row(&[Text("words"), Nothing, Number(glass.number as f64), Nothing, Nothing, Text(words)]);
        }
    }
    if let Some(next) = &answer.next {
        let ends = [Number(next.from), Number(next.to)];
        let row =
            [Text("next flight"), Text(&next.along), Nothing, Nothing, Nothing, Text(next.why.keyword())];
        out.row(&[&row[..], &ends[..]].concat());
    }
    for limit in &answer.limits {
        let empty = [Nothing, Nothing, Nothing, Nothing];
        let ends = [limit.min.into(), limit.max.into()];
        out.row(&[&[Text("keep"), Text(&limit.target)][..], &empty[..], &ends[..]].concat());
    }
    out.finish()
}

/// The columns of `calibrate`.
const FIGURES: [&str; 10] =
    ["figure", "of", "value", "unit", "from", "to", "before", "measurements", "one more narrows by", "odd"];

/// A row a figure, with its interval.
pub fn calibration(answer: &CalibrationAnswer) -> String {
    let mut out = Sheet::with_head(&FIGURES);
    for figure in &answer.figures {
        let (name, of) = match &figure.of {
            FigureOf::Melt { method, .. } => ("melt", *method),
            FigureOf::MeltSpread { method } => ("melt spread", *method),
            FigureOf::MeltTilt { method } => ("melt tilt", *method),
            FigureOf::Sugar { ingredient } => ("sugar", ingredient.as_str()),
            FigureOf::Acid { ingredient } => ("acid", ingredient.as_str()),
            FigureOf::PourError => ("pour error", ""),
            FigureOf::PourBias => ("pour bias", ""),
        };
        let odd: Vec<String> = figure.odd.iter().map(usize::to_string).collect();
        let (low, high) = figure.between.unzip();
        let row = [Text(name), Text(of), Number(figure.value), Text(figure.unit), low.into(), high.into()];
        let odd = odd.join("; ");
        let rest = [figure.before.into(), Number(figure.count as f64), figure.gain.into(), Text(&odd)];
        out.row(&[&row[..], &rest[..]].concat());
    }
    out.finish()
}
