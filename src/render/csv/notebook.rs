//! Flights, what was said and what was measured, as rows.

use super::{HEAD, Rows, Sheet};
use crate::answer::{CalibrationAnswer, FigureOf, FlightAnswer, LessonsAnswer, Spelled as _};
use crate::learn::Learned;

impl Rows for FlightAnswer {
    /// Every glass as a spec under its code, with where it is to stand; then the orders of tasting.
    fn rows(&self) -> String {
        let mut out = Sheet::with_head(&HEAD);
        out.fact("title", &self.title);
        out.fact("outcome", self.outcome.spelled());
        out.fact("seed", self.seed);
        for glass in &self.glasses {
            for (along, place) in self.along.iter().zip(&glass.places) {
                out.row(&cells![&glass.code, "place", &along.target, *place, &along.unit]);
            }
            out.spec(&glass.code, &self.frame, &glass.spec);
        }
        for (at, order) in self.orders.iter().enumerate() {
            out.row(&cells![(), "order", format!("taster {}", at + 1), order]);
        }
        for (one, other) in &self.same {
            out.row(&cells![one, "pours the same as", other]);
        }
        out.close(&self.cautions, self.asked.as_ref())
    }
}

/// The columns of `learn`.
const LESSONS: [&str; 8] = ["what", "name", "glass", "value", "unit", "said", "from", "to"];

impl Rows for LessonsAnswer {
    /// What was said, a row a word; then every limit that follows with the two figures that it lies between.
    fn rows(&self) -> String {
        let mut out = Sheet::with_head(&LESSONS);
        out.row(&cells!["title", &self.title]);
        for facet in &self.facets {
            let (target, unit) = (&facet.target, &facet.unit);
            for point in &facet.points {
                out.row(&cells!["said", target, point.glass, point.value, unit, point.said.keyword()]);
            }
            let mut learned = |side, learned: &Learned| {
                let (from, to) = learned.unsure;
                out.row(&cells![side, target, learned.because, learned.at, unit, (), from, to]);
            };
            facet.min.iter().for_each(|min| learned("min", min));
            facet.max.iter().for_each(|max| learned("max", max));
            if let Some(gone) = &facet.gone {
                out.row(&cells!["gone", target, (), gone.at, unit, gone.side.keyword()]);
            }
            for (low, high) in &facet.contradictions {
                out.row(&cells!["contradiction", target, (), (), (), (), *low, *high]);
            }
        }
        for glass in self.glasses.iter().filter(|glass| glass.tasted.words.is_some()) {
            out.row(&cells!["words", (), glass.number, (), (), glass.tasted.words.as_ref()]);
        }
        if let Some(next) = &self.next {
            out.row(&cells!["next flight", &next.along, (), (), (), next.why.keyword(), next.from, next.to]);
        }
        for limit in &self.limits {
            out.row(&cells!["keep", &limit.target, (), (), (), (), limit.min, limit.max]);
        }
        out.finish()
    }
}

/// The columns of `calibrate`.
const FIGURES: [&str; 10] =
    ["figure", "of", "value", "unit", "from", "to", "before", "measurements", "one more narrows by", "odd"];

impl Rows for CalibrationAnswer {
    /// A row a figure, with its interval.
    fn rows(&self) -> String {
        let mut out = Sheet::with_head(&FIGURES);
        for figure in &self.figures {
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
            let measured = cells![name, of, figure.value, figure.unit, low, high];
            let rest = cells![figure.before, figure.count, figure.gain, &odd];
            out.row(&[&measured[..], &rest[..]].concat());
        }
        out.finish()
    }
}
