//! The hand that pours: how far single pours are off, and to which side, from what serves weighed before the
//! ice.

use statrs::distribution::{ChiSquared, ContinuousCDF};

use super::regression::{Errors, Observation, fit, interval_factor};
use super::{Estimate, Hand, gain};
use crate::brief::{Brief, Weighed};

/// What the serves say. A serve of several pours is off by the sum of their errors: each error times the density
/// of what it pours.
pub fn hand(brief: &Brief) -> Option<Hand> {
    let weighed: Vec<(usize, Observation)> =
        brief.weighed.iter().enumerate().filter_map(|(at, w)| Some((at, observed(brief, w)?))).collect();
    let rows: Vec<Observation> = weighed.iter().map(|(_, seen)| seen.clone()).collect();
    let found = fit(&rows, &[None], Errors::FromResiduals).filter(|found| found.freedom >= 2.0)?;
    let count = rows.len();
    let odd: Vec<usize> = found.outliers().into_iter().map(|at| weighed[at].0).collect();
    let (value, half) = (found.coefficients[0], interval_factor(Some(found.freedom)) * found.errors[0]);
    let bias =
        Estimate { value, low: value - half, high: value + half, count, gain: gain(count), odd: odd.clone() };
    // (n - 1) s²/σ² is distributed as χ² with n - 1 degrees of freedom.
    let chi = ChiSquared::new(found.freedom).ok()?;
    let end = |share: f64| found.residual * (found.freedom / chi.inverse_cdf(share)).sqrt();
    let error =
        Estimate { value: found.residual, low: end(0.975), high: end(0.025), count, gain: gain(count), odd };
    Some(Hand { error, bias })
}

/// Grams beyond what the jigger says: a bias of 1 ml a pour makes the sum of the densities, and single errors of
/// 1 ml make the root of the sum of their squares. Powders are weighed, not poured by hand.
fn observed(brief: &Brief, weighed: &Weighed) -> Option<Observation> {
    let liquids = || weighed.pours.iter().filter(|p| brief.candidates[p.candidate].portion.poured > 0.0);
    let mass = |at: usize| brief.candidates[at].portion.mass;
    let said: f64 = weighed.pours.iter().map(|p| mass(p.candidate) * p.amount).sum();
    let (sum, squares) =
        liquids().map(|p| mass(p.candidate)).fold((0.0, 0.0), |(s, q), m| (s + m, q + m * m));
    let value = weighed.grams_in? - said;
    (squares > 0.0).then(|| Observation { row: vec![sum], value, deviation: f64::sqrt(squares) })
}
