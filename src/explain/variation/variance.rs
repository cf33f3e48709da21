//! What the variance of a measure comes from, to first order.
//!
//! Each cause is moved alone by what it does in service, up and down, and the measure's change squared
//! is its part: of a normal error the standard deviation, of a uniform range half the range over the
//! root of three. The parts add up to the variance where the measure is straight over these moves.

use crate::brief::{Brief, Candidate, Measure, Pour, Range, Served, serve_on, serve_with};
use crate::larder::Figure;
use crate::liquid::{Around, Label, Portion};
use crate::simulate::{Cause, Serves, melt_reaches};

use super::causes;
use super::lean::{moved, varying};

/// A cause's part of something: of the variance of a measure, of what is missed.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Part {
    /// The cause.
    #[serde(skip)]
    pub of: Cause,
    /// What differs.
    pub cause: Kind,
    /// Of which ingredient; nothing of the ice.
    pub ingredient: Option<String>,
    /// The share, 0 to 1.
    pub share: f64,
}

/// What differs from serve to serve.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Kind {
    /// How much is poured.
    Pour,
    /// What an ingredient is made of.
    Composition,
    /// How much ice melts.
    Ice,
}

/// What kind of thing a cause is, and of which ingredient; nothing of the ice.
pub fn told(brief: &Brief, cause: Cause) -> (Kind, Option<String>) {
    let name = |at: usize| Some(brief.candidates[at].name.clone());
    match cause {
        Cause::Pour(at) => (Kind::Pour, name(at)),
        Cause::Nature(at) => (Kind::Composition, name(at)),
        Cause::Ice => (Kind::Ice, None),
    }
}

impl Part {
    /// So large a part.
    pub fn new(brief: &Brief, of: Cause, share: f64) -> Self {
        let (cause, ingredient) = told(brief, of);
        Self { of, cause, ingredient, share }
    }
}

/// Smaller parts than this are not worth a line.
const SMALLEST: f64 = 0.001;

/// A spec with one thing moved, up and down.
type Moved = (Cause, Vec<(Served, Served, f64)>);

/// The parts of every measure, the largest first, without the negligible ones.
pub fn parts(
    brief: &Brief,
    pours: &[Pour],
    serves: &Serves,
    measures: &[(Measure, usize)],
) -> Vec<Vec<Part>> {
    let moved: Vec<Moved> = causes(pours).map(|cause| (cause, moves(brief, pours, serves, cause))).collect();
    measures.iter().map(|(measure, _)| of_measure(brief, *measure, &moved)).collect()
}

fn of_measure(brief: &Brief, measure: Measure, moved: &[Moved]) -> Vec<Part> {
    let variance = |(up, down, scale): &(Served, Served, f64)| {
        let half = (up.value(measure) - down.value(measure)) / 2.0;
        half * half * scale
    };
    let sums: Vec<(Cause, f64)> =
        moved.iter().map(|(cause, moves)| (*cause, moves.iter().map(variance).sum())).collect();
    let total: f64 = sums.iter().map(|(_, variance)| variance).sum();
    if !total.is_finite() || total <= 0.0 {
        return vec![];
    }
    let mut parts: Vec<Part> =
        sums.into_iter().map(|(cause, variance)| Part::new(brief, cause, variance / total)).collect();
    parts.retain(|part| part.share >= SMALLEST);
    parts.sort_by(|a, b| b.share.total_cmp(&a.share));
    parts
}

/// The spec with a cause moved up and down, and by what the squared half difference is the variance:
/// 1 for a standard deviation, a third for the ends of a uniform range.
fn moves(brief: &Brief, pours: &[Pour], serves: &Serves, cause: Cause) -> Vec<(Served, Served, f64)> {
    match cause {
        Cause::Pour(candidate) => {
            let amount = pours.iter().find(|p| p.candidate == candidate).map_or(0.0, |p| p.amount);
            let error = serves.hand().error(candidate, amount);
            let moved = |by: f64| {
                let more =
                    |p: &Pour| if p.candidate == candidate { (p.amount + by).max(0.0) } else { p.amount };
                let pours: Vec<Pour> = pours.iter().map(|p| Pour { amount: more(p), ..*p }).collect();
                serve_with(brief, &pours, |at| &brief.candidates[at].portion)
            };
            vec![(moved(error), moved(-error), 1.0)]
        }
        Cause::Nature(candidate) => {
            let with = |portion: &Portion| {
                serve_with(brief, pours, |at| {
                    if at == candidate { portion } else { &brief.candidates[at].portion }
                })
            };
            let ends = ends(&brief.candidates[candidate]);
            ends.iter().map(|(high, low)| (with(high), with(low), 1.0 / 3.0)).collect()
        }
        Cause::Ice => {
            let (working, glass) = melt_reaches(brief);
            let with = |by: (f64, f64)| {
                let melting = brief.serve.melting().shifted(by);
                serve_on(brief, pours, |at| &brief.candidates[at].portion, melting)
            };
            let ends = [(working, 0.0), (0.0, glass)].into_iter().filter(|by| by.0 > 0.0 || by.1 > 0.0);
            ends.map(|by| (with(by), with((-by.0, -by.1)), 1.0 / 3.0)).collect()
        }
    }
}

/// The portions at the upper and lower end of each figure that varies, the other figures typical.
fn ends(candidate: &Candidate) -> Vec<(Portion, Portion)> {
    let label = &candidate.label;
    let around = Around::new(*label, candidate.portion);
    let ends = |(figure, _, range): (Figure, f64, Range)| {
        let portion = |value: f64| {
            let Label { strength, sugar, acid, .. } = moved(label, figure, value);
            around.at(strength, sugar, acid).ok()
        };
        portion(range.max).zip(portion(range.min))
    };
    varying(candidate, candidate.natural).filter_map(ends).collect()
}
