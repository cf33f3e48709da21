//! Limits for every composition in the natural ranges: each judged at its own worst corner.
//!
//! Every measure rises or falls steadily with each figure of each ingredient, so its extremes over the
//! box of natural ranges stand at corners (box uncertainty, Soyster, *Operations Research* 21, 1973).
//! Which corner is worst is read off the first-order figures and then confirmed by the physics: no
//! single ingredient's change of corner may make it worse.

use super::tangent::Adds;
use super::{Model, Tangent};
use crate::brief::{HoldFor, Limit, Numerator, Over, Pour, Served, Side, serve_with};
use crate::liquid::{Drink, Portion};

/// The corners of every column's composition.
#[derive(Debug, Clone, PartialEq)]
pub struct Spread {
    /// At least one portion a column; only one where nothing varies.
    pub corners: Vec<Vec<Portion>>,
}

/// How often the worst corner is looked for anew from the drink that the last one gave.
const ROUNDS: usize = 6;

impl Spread {
    /// The corners, where the brief asks that limits hold for all of them.
    pub fn of(model: &Model) -> Option<Self> {
        if model.brief.variation.hold != HoldFor::Worst {
            return None;
        }
        let corners = (0..model.columns.len()).map(|c| model.candidate(c).corners()).collect();
        Some(Self { corners })
    }

    /// The worst corner of every column for a limit, by what one unit more of each corner would do to
    /// it in the given drink.
    pub fn picks(&self, model: &Model, limit: &Limit, drink: &Drink) -> Vec<usize> {
        let expansion = Tangent::partials(model.brief.serve.melting(), drink);
        (0..self.corners.len())
            .map(|column| {
                let effect = |p: &Portion| effect(model, column, limit, p, expansion.of(p));
                let corners = self.corners[column].iter().map(effect).enumerate();
                let worse = |a: &(usize, f64), b: &(usize, f64)| a.1.total_cmp(&b.1);
                let worst = match limit.side {
                    Side::Min => corners.min_by(worse),
                    Side::Max => corners.max_by(worse),
                };
                worst.map_or(0, |(at, _)| at)
            })
            .collect()
    }

    /// The portions of given corners.
    pub fn portions(&self, picks: &[usize]) -> Vec<Portion> {
        self.corners.iter().zip(picks).map(|(corners, at)| corners[*at]).collect()
    }

    /// By how much (volume fraction) a strength before the ice may lie under and over the typical one.
    pub fn strength_reach(&self, typical: &[Portion]) -> (f64, f64) {
        let pairs =
            self.corners.iter().zip(typical).flat_map(|(c, t)| c.iter().map(|p| p.strength - t.strength));
        pairs.fold((0.0, 0.0), |(low, high), by| (f64::min(low, by), f64::max(high, by)))
    }

    /// A limit's worst measured value over all compositions of a spec, and the drink that has it.
    pub fn worst(&self, model: &Model, pours: &[Pour], limit: &Limit) -> (f64, Served) {
        let mut typical: Vec<usize> = vec![0; self.corners.len()];
        let mut served = self.served(model, pours, &typical);
        for _ in 0..ROUNDS {
            let picks = self.picks(model, limit, &served.drink);
            if picks == typical {
                break;
            }
            served = self.served(model, pours, &picks);
            typical = picks;
        }
        self.confirmed(model, pours, limit, typical, served)
    }

    /// Tries every other corner of every used ingredient until none is worse.
    fn confirmed(
        &self,
        model: &Model,
        pours: &[Pour],
        limit: &Limit,
        mut picks: Vec<usize>,
        mut served: Served,
    ) -> (f64, Served) {
        let worse = |a: f64, b: f64| match limit.side {
            Side::Min => a < b || a.is_nan(),
            Side::Max => a > b || a.is_nan(),
        };
        let used: Vec<usize> = (0..self.corners.len())
            .filter(|c| pours.iter().any(|p| p.candidate == model.columns[*c].candidate))
            .collect();
        let mut value = served.value(limit.measure);
        let mut settled = false;
        while !settled {
            settled = true;
            for &column in &used {
                for corner in 0..self.corners[column].len() {
                    let before = std::mem::replace(&mut picks[column], corner);
                    let other = self.served(model, pours, &picks);
                    let found = other.value(limit.measure);
                    if worse(found, value) && !value.is_nan() {
                        (value, served, settled) = (found, other, false);
                    } else {
                        picks[column] = before;
                    }
                }
            }
        }
        (value, served)
    }

    fn served(&self, model: &Model, pours: &[Pour], picks: &[usize]) -> Served {
        serve_with(model.brief, pours, |candidate| {
            let column = model.columns.iter().position(|c| c.candidate == candidate);
            match column {
                Some(c) => &self.corners[c][picks[c]],
                None => &model.brief.candidates[candidate].portion,
            }
        })
    }
}

/// What one unit of a portion does to a limit: its share of the measure's sum, less the limit times
/// its share of the denominator. What the unit adds to the volume and the melt is known.
fn effect(model: &Model, column: usize, limit: &Limit, p: &Portion, adds: Adds) -> f64 {
    let Adds { volume, melt, level } = adds;
    let (part, over) = limit.measure.formula(model.brief);
    let sum = match part {
        Numerator::Volume => volume,
        Numerator::Melt => melt,
        Numerator::Level => level,
        Numerator::Portion(figure) => figure(p),
        // A price has no natural range.
        Numerator::Cost(_) => 0.0,
        Numerator::Carried(at, times) => times * model.candidate(column).carried(at),
    };
    match over {
        Over::One => sum,
        Over::Volume => sum - limit.value * volume,
        Over::Acid => sum - limit.value * p.masses.acid,
    }
}
