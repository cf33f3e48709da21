//! From what tasters said to limits: intervals where the words agree, a fit where sweet and sour trade off, and
//! the contradictions as they are. It keeps what was said and tastes nothing.

pub mod ordinal;

use crate::brief::{Brief, Facet, Measure, Said, Side, serve};

/// What was said of one glass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Its place among the brief's `[[tasted]]`.
    pub glass: usize,
    /// The glass's own figure, in the measure's unit.
    pub value: f64,
    /// The word.
    pub said: Said,
}

/// A limit that follows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Learned {
    /// Where it goes, in the measure's unit.
    pub at: f64,
    /// What the brief has there, if anything.
    pub before: Option<f64>,
    /// The glass whose word lies beyond it.
    pub beyond: usize,
    /// The glass that was right and lies next to it, where any was.
    pub within: Option<usize>,
    /// The true border lies between these two figures.
    pub unsure: (f64, f64),
}

/// Two words that cannot both be: more of it was too little where less of it was not.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contradiction {
    /// The glass with the lower figure.
    pub lower: Point,
    /// The glass with the higher one.
    pub higher: Point,
}

/// What the words say of one facet.
#[derive(Debug, Clone, PartialEq)]
pub struct Lesson {
    /// Which facet.
    pub facet: Facet,
    /// Everything that was said of it, lowest figure first.
    pub points: Vec<Point>,
    /// The least that follows.
    pub min: Option<Learned>,
    /// The most that follows.
    pub max: Option<Learned>,
    /// What contradicts itself; then no limits follow from the facet alone.
    pub contradictions: Vec<Contradiction>,
}

/// A flight that would tell the most.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Next {
    /// Along which measure.
    pub measure: Measure,
    /// From here.
    pub from: f64,
    /// To there.
    pub to: f64,
    /// Which of the two limits is the least sure; nothing where nothing was said yet.
    pub about: Option<Side>,
}

/// Everything that follows from what was said.
#[derive(Debug, Clone, PartialEq)]
pub struct Lessons {
    /// A facet each that something was said of.
    pub facets: Vec<Lesson>,
    /// Sweetness against sourness, where the words of one contradict one another along their own figure.
    pub balance: Option<ordinal::Balance>,
    /// What to taste next.
    pub next: Option<Next>,
}

/// Learns from a brief's `[[tasted]]`.
pub fn learn(brief: &Brief) -> Lessons {
    let facets: Vec<Lesson> = Facet::ALL.into_iter().filter_map(|facet| lesson(brief, facet)).collect();
    let traded =
        facets.iter().any(|l| matches!(l.facet, Facet::Sweet | Facet::Sour) && !l.contradictions.is_empty());
    let balance = if traded { ordinal::balance(&judged(brief)) } else { None };
    let next = next(&facets);
    Lessons { facets, balance, next }
}

/// What was said of a facet, lowest figure first; words on figures that are none (acid in a drink without) do
/// not count.
fn lesson(brief: &Brief, facet: Facet) -> Option<Lesson> {
    let mut points: Vec<Point> = brief
        .tasted
        .iter()
        .enumerate()
        .filter_map(|(glass, tasted)| {
            let (_, said) = tasted.said.iter().find(|(of, _)| *of == facet)?;
            let value = serve(brief, &tasted.pours).value(facet.measure());
            value.is_finite().then_some(Point { glass, value, said: *said })
        })
        .collect();
    if points.is_empty() {
        return None;
    }
    points.sort_by(|a, b| a.value.total_cmp(&b.value).then(a.glass.cmp(&b.glass)));
    let contradictions = contradictions(&points);
    let target = brief.target(facet.measure());
    let (min, max) = if contradictions.is_empty() {
        (
            border(&points, Said::TooLittle, target.and_then(|t| t.min)),
            border(&points, Said::TooMuch, target.and_then(|t| t.max)),
        )
    } else {
        (None, None)
    };
    Some(Lesson { facet, points, min, max, contradictions })
}

/// Words that fall as the figure rises: a glass that was said to have more than a higher one was.
fn contradictions(points: &[Point]) -> Vec<Contradiction> {
    let pairs =
        points.iter().enumerate().flat_map(|(at, lower)| points[at + 1..].iter().map(move |h| (lower, h)));
    // Of two alike the words may differ by one step: one taster's right is the next one's a little too much.
    let apart = |lower: &Point, higher: &Point| higher.value - lower.value > 1e-9 * higher.value.abs();
    pairs
        .filter(|(lower, higher)| lower.said > higher.said && apart(lower, higher))
        .map(|(lower, higher)| Contradiction { lower: *lower, higher: *higher })
        .collect()
}

/// The limit between the words of one kind and the rest: in the middle between the last glass that had too
/// little and the first that had not.
fn border(points: &[Point], beyond: Said, before: Option<f64>) -> Option<Learned> {
    let outer = |point: &&Point| point.said == beyond;
    let (last, first) = match beyond {
        Said::TooLittle => (points.iter().rev().find(outer)?, points.iter().find(|p| p.said != beyond)),
        _ => (points.iter().find(outer)?, points.iter().rev().find(|p| p.said != beyond)),
    };
    let at = first.map_or(last.value, |first| 0.5 * (last.value + first.value));
    let other = first.map_or(last.value, |first| first.value);
    Some(Learned {
        at,
        before,
        beyond: last.glass,
        within: first.filter(|p| p.said == Said::Right).map(|p| p.glass),
        unsure: (last.value.min(other), last.value.max(other)),
    })
}

/// Sugar, acid and the words on both, of every glass that has both figures.
fn judged(brief: &Brief) -> Vec<ordinal::Judged> {
    let glass = |tasted: &crate::brief::Tasted| {
        let served = serve(brief, &tasted.pours);
        let said = |facet: Facet| tasted.said.iter().find(|(of, _)| *of == facet).map(|(_, said)| *said);
        let (sugar, acid) = (served.value(Measure::Sugar), served.value(Measure::Acid));
        let judged = ordinal::Judged { sugar, acid, sweet: said(Facet::Sweet), sour: said(Facet::Sour) };
        (sugar.is_finite() && acid.is_finite()).then_some(judged)
    };
    brief.tasted.iter().filter_map(glass).collect()
}

/// The flight that would tell most: across the border that is the least sure, as a share of its figure; where one
/// side was never reached, on from the last glass.
fn next(facets: &[Lesson]) -> Option<Next> {
    let open = |lesson: &Lesson| {
        let measure = lesson.facet.measure();
        let (first, last) = (lesson.points.first()?.value, lesson.points.last()?.value);
        let side = |learned: Option<Learned>, side: Side| {
            let (from, to) = match (learned, side) {
                (Some(learned), _) => learned.unsure,
                (None, Side::Min) => (0.7 * first, first),
                (None, Side::Max) => (last, 1.3 * last),
            };
            let width = (to - from) / (0.5 * (to + from)).max(1e-9);
            (width, Next { measure, from, to, about: Some(side) })
        };
        let sides = [side(lesson.min, Side::Min), side(lesson.max, Side::Max)];
        sides.into_iter().max_by(|a, b| a.0.total_cmp(&b.0))
    };
    let all = facets.iter().filter(|lesson| lesson.contradictions.is_empty()).filter_map(open);
    all.max_by(|a, b| a.0.total_cmp(&b.0)).filter(|(width, _)| *width > 0.01).map(|(_, next)| next)
}
