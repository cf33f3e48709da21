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
    /// Whether anything lies on its other side.
    pub seen: Seen,
}

/// From how many sides a border was seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Seen {
    /// From both: it lies between two glasses.
    Between,
    /// From one: it lies somewhere beyond the last glass.
    Beyond,
}

impl Learned {
    /// Whether the brief's own limit agrees with all that was said, and so stays.
    pub fn stays(&self) -> bool {
        self.before == Some(self.at)
    }
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
    /// A limit of the brief on the other side that cannot stand beside what was said, and goes.
    pub gone: Option<(Side, f64)>,
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
    /// Why there.
    pub why: Why,
}

/// Why a flight is worth tasting next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// This limit is the least sure.
    Unsure(Side),
    /// So far nobody has said that there was too little, or too much: this side is open.
    Open(Side),
    /// Words contradict one another between here and there.
    Contradiction,
    /// Nothing was said of it yet.
    Untasted,
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
    let next = next(brief, &facets);
    let traded =
        facets.iter().any(|l| matches!(l.facet, Facet::Sweet | Facet::Sour) && !l.contradictions.is_empty());
    let balance = if traded { ordinal::balance(&judged(brief)) } else { None };
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
            let said = tasted.of(facet)?;
            let value = serve(brief, &tasted.pours).value(facet.measure());
            value.is_finite().then_some(Point { glass, value, said })
        })
        .collect();
    if points.is_empty() {
        return None;
    }
    points.sort_by(|a, b| a.value.total_cmp(&b.value).then(a.glass.cmp(&b.glass)));
    let contradictions = contradictions(&points);
    let target = brief.target(facet.measure());
    let (min, max) = if contradictions.is_empty() {
        apart(
            border(&points, Said::TooLittle, target.and_then(|t| t.min)),
            border(&points, Said::TooMuch, target.and_then(|t| t.max)),
        )
    } else {
        (None, None)
    };
    // A limit that was learned takes the place of one on the other side that it has passed.
    let gone = match (min, max, target) {
        (Some(min), None, Some(target)) => {
            target.max.filter(|max| min.at >= *max).map(|max| (Side::Max, max))
        }
        (None, Some(max), Some(target)) => {
            target.min.filter(|min| max.at <= *min).map(|min| (Side::Min, min))
        }
        _ => None,
    };
    Some(Lesson { facet, points, min, max, gone, contradictions })
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

/// The limit between the words of one kind and the rest. The brief's own stays where it agrees with all of them;
/// else it lies in the middle between the last glass that had too little and the first that had not (of too much
/// the other way round).
fn border(points: &[Point], beyond: Said, before: Option<f64>) -> Option<Learned> {
    let outer = |point: &&Point| point.said == beyond;
    let (last, first) = match beyond {
        Said::TooLittle => (points.iter().rev().find(outer)?, points.iter().find(|p| p.said != beyond)),
        _ => (points.iter().find(outer)?, points.iter().rev().find(|p| p.said != beyond)),
    };
    let other = first.map_or(last.value, |first| first.value);
    let (low, high) = (last.value.min(other), last.value.max(other));
    let agrees = |limit: &f64| match (first, beyond) {
        (Some(_), _) => low < *limit && *limit < high,
        (None, Said::TooLittle) => *limit > high,
        (None, _) => *limit < low,
    };
    Some(Learned {
        at: before.filter(agrees).unwrap_or(f64::midpoint(low, high)),
        before,
        beyond: last.glass,
        within: first.filter(|p| p.said == Said::Right).map(|p| p.glass),
        unsure: (low, high),
        seen: if first.is_some() { Seen::Between } else { Seen::Beyond },
    })
}

/// Where nothing was right between too little and too much, both borders lie between the same two glasses: what is
/// right may be anywhere between them, and the limits are these glasses.
fn apart(min: Option<Learned>, max: Option<Learned>) -> (Option<Learned>, Option<Learned>) {
    let (Some(least), Some(most)) = (min, max) else { return (min, max) };
    if least.at < most.at {
        return (min, max);
    }
    let least = if least.stays() { least } else { Learned { at: least.unsure.0, ..least } };
    let most = if most.stays() { most } else { Learned { at: most.unsure.1, ..most } };
    (Some(least), Some(most))
}

/// Sugar, acid and the words on both, of every glass that has both figures.
fn judged(brief: &Brief) -> Vec<ordinal::Judged> {
    let glass = |tasted: &crate::brief::Tasted| {
        let served = serve(brief, &tasted.pours);
        let (sugar, acid) = (served.value(Measure::Sugar), served.value(Measure::Acid));
        let judged =
            ordinal::Judged { sugar, acid, sweet: tasted.of(Facet::Sweet), sour: tasted.of(Facet::Sour) };
        (sugar.is_finite() && acid.is_finite()).then_some(judged)
    };
    brief.tasted.iter().filter_map(glass).collect()
}

/// Where the brief has no limit, a flight goes on by this share beyond the last glass of a side that is open. Common
/// practice, no source.
const BEYOND: f64 = 0.3;

/// The flight that would tell most: across the border that is the least sure, or the words that contradict one
/// another, as a share of its figure; where one side was never reached, on from
/// the last glass to the brief's own limit. Where all that was
/// tasted is known to what a taster just tells, a facet that the brief limits and nobody spoke of.
fn next(brief: &Brief, facets: &[Lesson]) -> Option<Next> {
    let wide = |next: &Next| (next.to - next.from) / (0.5 * (next.to + next.from)).max(1e-9);
    let worth = |next: &Next| {
        let apart = next.to - next.from;
        apart.is_finite() && apart > next.measure.just_told().unwrap_or(0.0)
    };
    let widest = |all: Vec<Next>| all.into_iter().filter(worth).max_by(|a, b| wide(a).total_cmp(&wide(b)));
    let said = widest(facets.iter().flat_map(|lesson| open(brief, lesson)).collect());
    said.or_else(|| {
        let untold =
            Facet::ALL.into_iter().filter(|facet| facets.iter().all(|lesson| lesson.facet != *facet));
        let limits = brief.limits();
        let limited = untold.filter_map(|facet| {
            let target = limits.iter().find(|target| target.measure == facet.measure())?;
            let (from, to) = (target.min?, target.max?);
            Some(Next { measure: target.measure, from, to, why: Why::Untasted })
        });
        widest(limited.collect())
    })
}

/// What is open about one facet.
fn open(brief: &Brief, lesson: &Lesson) -> Vec<Next> {
    let measure = lesson.facet.measure();
    let target = brief.target(measure);
    let next = |from: f64, to: f64, why: Why| Next { measure, from, to, why };
    if !lesson.contradictions.is_empty() {
        let from = lesson.contradictions.iter().map(|c| c.lower.value).fold(f64::INFINITY, f64::min);
        let to = lesson.contradictions.iter().map(|c| c.higher.value).fold(0.0, f64::max);
        return vec![next(from, to, Why::Contradiction)];
    }
    let (Some(first), Some(last)) = (lesson.points.first(), lesson.points.last()) else { return vec![] };
    let side = |learned: Option<Learned>, side: Side| match (learned, side) {
        (Some(learned), side) => next(learned.unsure.0, learned.unsure.1, Why::Unsure(side)),
        (None, Side::Min) => {
            let own = target.and_then(|target| target.min).filter(|min| *min < first.value);
            next(own.unwrap_or((1.0 - BEYOND) * first.value), first.value, Why::Open(side))
        }
        (None, Side::Max) => {
            let own = target.and_then(|target| target.max).filter(|max| *max > last.value);
            next(last.value, own.unwrap_or((1.0 + BEYOND) * last.value), Why::Open(side))
        }
    };
    vec![side(lesson.min, Side::Min), side(lesson.max, Side::Max)]
}
