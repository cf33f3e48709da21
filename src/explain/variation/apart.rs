//! What moves all serves together and what moves each: tonight's lots beside the hand, and what stands still.

use std::num::NonZeroUsize;

use super::Share;
use super::lean::varying;
use crate::brief::{Brief, Limit, Natural, Pour, Poured, Range, Spread, Varies, serve_with};
use crate::larder::Figure;
use crate::liquid::{Around, Label};
use crate::simulate::{Hand, Lot, Run, SERVES, Serves};

/// The shares of serves by which a lot is told to be good.
const LEVELS: [f64; 3] = [0.5, 0.75, 0.9];
/// A figure whose whole range moves a measure by less than this share of it is not asked for.
const MATTERS: f64 = 0.005;
/// The share of lots under the lower end of what most lots do, and over the upper one.
const TAIL: f64 = 0.05;

/// How far off the pours of one ingredient are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Off {
    /// The ingredient.
    pub candidate: usize,
    /// How it is poured.
    pub way: Poured,
    /// Standard deviation of this pour, ml or g.
    pub error: f64,
}

/// A figure of an ingredient with its range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ranged {
    /// The ingredient.
    pub candidate: usize,
    /// Which figure.
    pub figure: Figure,
    /// Its typical value, in the unit of the figure.
    pub typical: f64,
    /// Between what it lies.
    pub range: Range,
    /// What the range is between.
    pub varies: Varies,
}

/// How a spec does from lot to lot.
#[derive(Debug, Clone, PartialEq)]
pub struct Lots {
    /// The ingredients of which all serves of a lot have the composition in common.
    pub candidates: Vec<usize>,
    /// The share within all targets with typical lots of all of them.
    pub typical: Share,
    /// How many lots were simulated, and serves of each.
    pub drawn: (usize, usize),
    /// For each level, 0 to 1: the share of lots of which at least so many serves are within all targets.
    pub good: Vec<(f64, Share)>,
    /// Between which shares of serves nine of ten lots lie.
    pub middle: (f64, f64),
}

/// How each ingredient is poured, in the order of the pours.
pub fn hand(brief: &Brief, pours: &[Pour]) -> Vec<Off> {
    let of = |pour: &Pour| {
        let (way, error) = Hand::way(brief, &brief.candidates[pour.candidate]);
        Off { candidate: pour.candidate, way, error: error.at(pour.amount) }
    };
    pours.iter().map(of).collect()
}

/// Lots beside the hand; nothing where no lot differs from the next.
pub fn lots(serves: &Serves, pours: &[Pour], limits: &[Limit], threads: NonZeroUsize) -> Option<Lots> {
    let candidates = serves.from_lots(pours);
    if candidates.is_empty() || limits.is_empty() {
        return None;
    }
    let share = |lot: Lot| Share::of(lot.within_all, lot.draws);
    let drawn = serves.lots(pours, limits, threads);
    let mut shares: Vec<f64> = drawn.iter().map(|lot| share(*lot).found).collect();
    shares.sort_by(f64::total_cmp);
    let good = |level: f64| {
        let many = shares.iter().filter(|share| **share >= level).count();
        (level, Share::of(many, shares.len()))
    };
    let at = |tail: f64| shares.get((tail * (shares.len() - 1) as f64).round() as usize).copied();
    Some(Lots {
        candidates,
        typical: share(serves.typical_lot(pours, limits)),
        drawn: (drawn.len(), drawn.first()?.draws),
        good: LEVELS.map(good).to_vec(),
        middle: at(TAIL).zip(at(1.0 - TAIL))?,
    })
}

/// The figures of what is poured that are drawn from a range.
pub fn drawn(brief: &Brief, pours: &[Pour]) -> Vec<Ranged> {
    ranged(brief, pours, |candidate| candidate.natural)
}

/// The figures that stand still at their typical value although makes differ, of those that move a limited measure:
/// her own bottle has one.
pub fn held(brief: &Brief, pours: &[Pour], limits: &[Limit]) -> Vec<Ranged> {
    let mut all = ranged(brief, pours, |candidate| candidate.spread.makes);
    all.retain(|one| matters(brief, pours, limits, one));
    all
}

/// Whether a limited measure is another at both ends of a range.
fn matters(brief: &Brief, pours: &[Pour], limits: &[Limit], ranged: &Ranged) -> bool {
    let candidate = &brief.candidates[ranged.candidate];
    let label = candidate.label;
    let at = |value: f64| {
        let Label { strength, sugar, acid, .. } = match ranged.figure {
            Figure::Strength => Label { strength: value, ..label },
            Figure::Sugar => Label { sugar: value, ..label },
            _ => Label { acid: value, ..label },
        };
        let portion = Around::new(label, candidate.portion).at(strength, sugar, acid).ok()?;
        let of = |at: usize| if at == ranged.candidate { &portion } else { &brief.candidates[at].portion };
        Some(serve_with(brief, pours, of))
    };
    // What cannot be told apart is left in.
    let Some((low, high)) = at(ranged.range.min).zip(at(ranged.range.max)) else { return true };
    limits.iter().any(|limit| {
        let (low, high) = (low.value(limit.measure), high.value(limit.measure));
        (high - low).abs() > MATTERS * low.abs().max(high.abs())
    })
}

fn ranged(
    brief: &Brief,
    pours: &[Pour],
    natural: impl Fn(&crate::brief::Candidate) -> Natural,
) -> Vec<Ranged> {
    let of = |pour: &Pour| {
        let candidate = &brief.candidates[pour.candidate];
        let (ranges, label, varies) = (natural(candidate), candidate.label, candidate.spread.varies);
        let poured = pour.candidate;
        varying(ranges).filter_map(move |figure| {
            let (typical, range) = match figure {
                Figure::Strength => (label.strength, ranges.strength),
                Figure::Sugar => (label.sugar, ranges.sugar),
                _ => (label.acid, ranges.acid),
            };
            Some(Ranged { candidate: poured, figure, typical, range: range?, varies })
        })
    };
    pours.iter().flat_map(of).collect()
}

/// The share within all targets over all makes that could stand on the shelf; nothing where none differ.
pub fn any_make(brief: &Brief, pours: &[Pour], limits: &[Limit], threads: NonZeroUsize) -> Option<Share> {
    if held(brief, pours, limits).is_empty() || limits.is_empty() {
        return None;
    }
    let mut open = brief.clone();
    for candidate in &mut open.candidates {
        let (own, makes) = (candidate.natural, candidate.spread.makes);
        candidate.natural = Natural {
            strength: own.strength.or(makes.strength),
            sugar: own.sugar.or(makes.sugar),
            acid: own.acid.or(makes.acid),
        };
        candidate.spread = Spread { makes: Natural::default(), ..candidate.spread };
    }
    Some(Share::of(Serves::new(&open, Run::First).holding(pours, limits, threads), SERVES))
}
