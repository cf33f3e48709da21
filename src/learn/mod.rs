//! From what tasters said to limits: intervals where the words agree, a fit where sweet and sour trade off, and
//! the contradictions as they are. It keeps what was said and tastes nothing.

pub mod ordinal;

use serde::{Serialize, Serializer};

use crate::brief::{Brief, Facet, Measure, Said, Side, serve};

/// What was said of one glass.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Point {
    /// Its number, as the brief's `[[tasted]]` count them from 1.
    pub glass: usize,
    /// The glass's own figure, in the measure's unit.
    pub value: f64,
    /// The word.
    pub said: Said,
}

/// A limit that follows.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Learned {
    /// Where it goes, in the measure's unit.
    pub at: f64,
    /// What the brief has there, if anything.
    pub before: Option<f64>,
    /// The glass whose word lies beyond it.
    pub because: usize,
    /// The glass that was right and lies next to it, where any was.
    pub beside: Option<usize>,
    /// The true border lies between these two figures.
    pub unsure: (f64, f64),
    /// Whether it was seen from one side only, and lies somewhere beyond them.
    pub beyond: bool,
    /// Whether the brief's own limit agrees with all that was said.
    pub stays: bool,
}

/// A limit of the brief that goes.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Gone {
    /// Which side.
    pub side: Side,
    /// Where it stands.
    pub at: f64,
}

/// What the words say of one facet.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Lesson {
    /// Which facet.
    pub facet: Facet,
    /// The key of the target that it speaks of.
    pub target: String,
    /// Its unit.
    pub unit: String,
    /// Everything that was said of it, lowest figure first.
    pub points: Vec<Point>,
    /// The least that follows.
    pub min: Option<Learned>,
    /// The most that follows.
    pub max: Option<Learned>,
    /// A limit of the brief on the other side that cannot stand beside what was said, and goes.
    pub gone: Option<Gone>,
    /// Pairs of glasses, the one with the lower figure first, whose words cannot both be: more of it was too little
    /// where less of it was not. Then no limits follow from the facet alone.
    pub contradictions: Vec<(usize, usize)>,
}

/// A flight that would tell the most.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Next {
    /// Along which target, by its key.
    pub along: String,
    /// Which measure that is.
    #[serde(skip)]
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

impl Why {
    /// The words in JSON.
    pub fn keyword(self) -> &'static str {
        match self {
            Self::Unsure(Side::Min) => "unsure min",
            Self::Unsure(Side::Max) => "unsure max",
            Self::Open(Side::Min) => "open min",
            Self::Open(Side::Max) => "open max",
            Self::Contradiction => "contradiction",
            Self::Untasted => "untasted",
        }
    }
}

impl Serialize for Why {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.keyword())
    }
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
            value.is_finite().then_some(Point { glass: glass + 1, value, said })
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
            target.max.filter(|max| min.at >= *max).map(|at| Gone { side: Side::Max, at })
        }
        (None, Some(max), Some(target)) => {
            target.min.filter(|min| max.at <= *min).map(|at| Gone { side: Side::Min, at })
        }
        _ => None,
    };
    let measure = facet.measure();
    let (target, unit) = (brief.measure_name(measure).to_owned(), brief.measure_unit(measure));
    Some(Lesson { facet, target, unit, points, min, max, gone, contradictions })
}

/// Words that fall as the figure rises: a glass that was said to have more than a higher one was.
fn contradictions(points: &[Point]) -> Vec<(usize, usize)> {
    let pairs =
        points.iter().enumerate().flat_map(|(at, lower)| points[at + 1..].iter().map(move |h| (lower, h)));
    // Of two alike the words may differ by one step: one taster's right is the next one's a little too much.
    let apart = |lower: &Point, higher: &Point| higher.value - lower.value > 1e-9 * higher.value.abs();
    pairs
        .filter(|(lower, higher)| lower.said > higher.said && apart(lower, higher))
        .map(|(lower, higher)| (lower.glass, higher.glass))
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
    let own = before.filter(agrees);
    Some(Learned {
        at: own.unwrap_or(f64::midpoint(low, high)),
        before,
        because: last.glass,
        beside: first.filter(|p| p.said == Said::Right).map(|p| p.glass),
        unsure: (low, high),
        beyond: first.is_none(),
        stays: own.is_some(),
    })
}

/// Where nothing was right between too little and too much, both borders lie between the same two glasses: what is
/// right may be anywhere between them, and the limits are these glasses.
fn apart(min: Option<Learned>, max: Option<Learned>) -> (Option<Learned>, Option<Learned>) {
    let (Some(least), Some(most)) = (min, max) else { return (min, max) };
    if least.at < most.at {
        return (min, max);
    }
    let least = if least.stays { least } else { Learned { at: least.unsure.0, ..least } };
    let most = if most.stays { most } else { Learned { at: most.unsure.1, ..most } };
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
            Some(flight(brief, target.measure, (from, to), Why::Untasted))
        });
        widest(limited.collect())
    })
}

fn flight(brief: &Brief, measure: Measure, (from, to): (f64, f64), why: Why) -> Next {
    Next { along: brief.measure_name(measure).to_owned(), measure, from, to, why }
}

/// What is open about one facet.
fn open(brief: &Brief, lesson: &Lesson) -> Vec<Next> {
    let measure = lesson.facet.measure();
    let target = brief.target(measure);
    let next = |from: f64, to: f64, why: Why| flight(brief, measure, (from, to), why);
    if !lesson.contradictions.is_empty() {
        let value =
            |glass: usize| lesson.points.iter().find(|p| p.glass == glass).map_or(f64::NAN, |p| p.value);
        let from = lesson.contradictions.iter().map(|(low, _)| value(*low)).fold(f64::INFINITY, f64::min);
        let to = lesson.contradictions.iter().map(|(_, high)| value(*high)).fold(0.0, f64::max);
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
