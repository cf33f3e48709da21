//! What moves all serves together and what moves each: tonight's lots beside the hand, and what stands still.

use std::num::NonZeroUsize;

use super::Share;
use super::lean::{moved, varying};
use crate::brief::{Brief, Candidate, Limit, Natural, Pour, Range, Spread, serve_with};
use crate::larder::Figure;
use crate::liquid::{Around, Form, Label};
use crate::quantity::Unit;
use crate::simulate::{Hand, Lot, Run, SERVES, Serves};

/// The shares of serves by which a lot is told to be good.
const LEVELS: [f64; 3] = [0.5, 0.75, 0.9];
/// A figure whose whole range moves a measure by less than this share of it is not asked for.
const MATTERS: f64 = 0.005;
/// The share of lots under the lower end of what most lots do, and over the upper one.
const TAIL: f64 = 0.05;

/// How far off the pours of one ingredient are.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Off {
    /// The ingredient.
    pub ingredient: String,
    /// `jigger`, `free hand`, `dash`, `scale`; nothing where a figure is stated.
    pub poured: Option<&'static str>,
    /// Standard deviation of this pour.
    pub error: f64,
    /// `ml` or `g`.
    pub unit: Unit,
}

/// A figure of an ingredient with its range.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Ranged {
    /// The ingredient.
    pub ingredient: String,
    /// `strength`, `sugar` or `acid`.
    pub figure: &'static str,
    /// % vol, g/L, or g/kg of a powder.
    pub unit: &'static str,
    /// What it typically is.
    pub typical: f64,
    /// Between what it lies.
    pub range: [f64; 2],
    /// What the range is between: `serve`, `lot`, `season` or `make`.
    pub between: &'static str,
}

/// How a spec does from lot to lot.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Lots {
    /// The ingredients of which all serves of a lot have the composition in common.
    pub ingredients: Vec<String>,
    /// The share within all targets with typical lots of all of them: what is left is the hand and the ice.
    pub typical: f64,
    /// Its 95 % interval.
    pub interval: [f64; 2],
    /// How many lots were simulated.
    pub lots: usize,
    /// Serves of each.
    pub serves: usize,
    /// For each level how many lots are good.
    pub good: Vec<Good>,
    /// Between which shares of serves nine of ten lots lie.
    pub middle: [f64; 2],
}

/// How many lots are good.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Good {
    /// At least so many of 100 serves of the lot are within all targets.
    pub level: f64,
    /// The share of lots of which that is so.
    pub share: f64,
    /// Its 95 % interval.
    pub interval: [f64; 2],
}

/// How each ingredient is poured, in the order of the pours.
pub fn hand(brief: &Brief, pours: &[Pour]) -> Vec<Off> {
    let of = |pour: &Pour| {
        let candidate = &brief.candidates[pour.candidate];
        let (way, error) = Hand::way(brief, candidate);
        Off {
            ingredient: candidate.name.clone(),
            poured: way.keyword(),
            error: error.at(pour.amount),
            unit: candidate.unit(),
        }
    };
    pours.iter().map(of).collect()
}

/// Lots beside the hand; nothing where no lot differs from the next.
pub fn lots(
    brief: &Brief,
    serves: &Serves,
    pours: &[Pour],
    limits: &[Limit],
    threads: NonZeroUsize,
) -> Option<Lots> {
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
        let share = Share::of(many, shares.len());
        Good { level: 100.0 * level, share: share.found, interval: share.interval() }
    };
    let at = |tail: f64| shares.get((tail * (shares.len() - 1) as f64).round() as usize).copied();
    let typical = share(serves.typical_lot(pours, limits));
    Some(Lots {
        ingredients: candidates.iter().map(|at| brief.candidates[*at].name.clone()).collect(),
        typical: typical.found,
        interval: typical.interval(),
        lots: drawn.len(),
        serves: drawn.first()?.draws,
        good: LEVELS.map(good).to_vec(),
        middle: [at(TAIL)?, at(1.0 - TAIL)?],
    })
}

/// The figures of what is poured that are drawn from a range.
pub fn drawn(brief: &Brief, pours: &[Pour]) -> Vec<Ranged> {
    ranged(brief, pours, |candidate| candidate.natural, |_, _, _| true)
}

/// The figures that stand still at their typical value although makes differ, of those that move a limited measure:
/// her own bottle has one.
pub fn held(brief: &Brief, pours: &[Pour], limits: &[Limit]) -> Vec<Ranged> {
    let matters = |at, figure, range| matters(brief, pours, limits, (at, figure, range));
    ranged(brief, pours, |candidate| candidate.spread.makes, matters)
}

/// Whether a limited measure is another at both ends of a range.
fn matters(
    brief: &Brief,
    pours: &[Pour],
    limits: &[Limit],
    (which, figure, range): (usize, Figure, Range),
) -> bool {
    let candidate = &brief.candidates[which];
    let label = candidate.label;
    let at = |value: f64| {
        let Label { strength, sugar, acid, .. } = moved(&label, figure, value);
        let portion = Around::new(label, candidate.portion).at(strength, sugar, acid).ok()?;
        let of = |at: usize| if at == which { &portion } else { &brief.candidates[at].portion };
        Some(serve_with(brief, pours, of))
    };
    // What cannot be told apart is left in.
    let Some((low, high)) = at(range.min).zip(at(range.max)) else { return true };
    limits.iter().any(|limit| {
        let (low, high) = (low.value(limit.measure), high.value(limit.measure));
        (high - low).abs() > MATTERS * low.abs().max(high.abs())
    })
}

fn ranged(
    brief: &Brief,
    pours: &[Pour],
    natural: impl Fn(&Candidate) -> Natural,
    counts: impl Fn(usize, Figure, Range) -> bool,
) -> Vec<Ranged> {
    let counts = &counts;
    let of = |pour: &Pour| {
        let at = pour.candidate;
        let candidate = &brief.candidates[at];
        let told = varying(candidate, natural(candidate))
            .filter(move |(figure, _, range)| counts(at, *figure, *range));
        told.map(move |(figure, typical, range)| Ranged {
            ingredient: candidate.name.clone(),
            figure: figure.words(),
            unit: unit(candidate.label.form, figure),
            typical,
            range: [range.min, range.max],
            between: candidate.spread.varies.keyword(),
        })
    };
    pours.iter().flat_map(of).collect()
}

/// The unit of a figure of a composition.
pub fn unit(form: Form, figure: Figure) -> &'static str {
    match (figure, form) {
        (Figure::Strength, _) => "% vol",
        (_, Form::Liquid) => "g/L",
        (_, Form::Powder) => "g/kg",
    }
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
