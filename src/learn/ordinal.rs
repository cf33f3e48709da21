//! Where sweetness and sourness trade off: an ordered logistic fit of the words in two figures, sugar and acid.
//!
//! The chance that a glass is said to have more than a threshold is `1/(1 + exp(-(z - τ)))`, with
//! `z = b_s·sugar/10 + b_a·acid` and two thresholds, τ₁ between "too little" and "right" and τ₂ over it (the
//! proportional-odds model: `McCullagh`, *Regression models for ordinal data*, J. R. Statist. Soc. B 42, 1980). A
//! handful of glasses does not determine four figures: a weak normal prior holds them, and the answer says how
//! far they could lie elsewhere. The maximum is found by Newton's steps; its curvature is the uncertainty.

use nalgebra::{DMatrix, DVector};

use crate::brief::Said;

/// One glass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Judged {
    /// Sugar, g/L.
    pub sugar: f64,
    /// Acid, g/L.
    pub acid: f64,
    /// What was said of its sweetness.
    pub sweet: Option<Said>,
    /// What was said of its sourness.
    pub sour: Option<Said>,
}

/// How sweetness was judged by sugar and acid together.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Balance {
    /// How many g/L of sugar one g/L more of acid takes to taste as sweet as before.
    pub sugar_per_acid: f64,
    /// Its 95 % interval.
    pub between: (f64, f64),
    /// The mean acid of the glasses, g/L.
    pub acid: f64,
    /// At that acid: between which sugars (g/L) more would say "right" than anything else.
    pub right: (f64, f64),
    /// How many words it rests on.
    pub words: usize,
}

/// Standard deviation of the weak prior of every slope and threshold, in the fit's own units.
const WEAK: f64 = 3.0;
/// Fewer words than this determine nothing.
const LEAST: usize = 5;
/// More steps than Newton ever takes on a concave sum.
const STEPS: usize = 100;

/// Fits the words on sweetness, and those on sourness turned round (what is too sour is not sweet enough), to
/// sugar and acid; nothing where there are too few of them.
pub fn balance(glasses: &[Judged]) -> Option<Balance> {
    let acid = glasses.iter().map(|g| g.acid).sum::<f64>() / glasses.len() as f64;
    let sugar = glasses.iter().map(|g| g.sugar).sum::<f64>() / glasses.len() as f64;
    let turned = |said: Said| match said {
        Said::TooLittle => Said::TooMuch,
        Said::Right => Said::Right,
        Said::TooMuch => Said::TooLittle,
    };
    let words: Vec<([f64; 2], Said)> = glasses
        .iter()
        .flat_map(|g| {
            let row = [(g.sugar - sugar) / 10.0, g.acid - acid];
            [g.sweet, g.sour.map(turned)].into_iter().flatten().map(move |said| (row, said))
        })
        .collect();
    if words.len() < LEAST {
        return None;
    }
    let (at, covariance) = fitted(&words)?;
    let [by_sugar, by_acid] = [at[0], at[1]];
    if by_sugar <= 0.0 {
        return None;
    }
    // -b_a/b_s, and its deviation to the first order.
    let rate = -by_acid / by_sugar;
    let gradient = DVector::from_vec(vec![-rate / by_sugar, -1.0 / by_sugar, 0.0, 0.0]);
    let deviation = (gradient.transpose() * &covariance * &gradient)[(0, 0)].sqrt();
    let (rate, deviation) = (10.0 * rate, 10.0 * deviation);
    let sugar_at = |threshold: f64| sugar + 10.0 * threshold / by_sugar;
    Some(Balance {
        sugar_per_acid: rate,
        between: (rate - 1.96 * deviation, rate + 1.96 * deviation),
        right: (sugar_at(at[2]).max(0.0), sugar_at(at[2] + at[3].exp()).max(0.0)),
        acid,
        words: words.len(),
    })
}

/// The most likely `b_s, b_a, τ₁, ln(τ₂ - τ₁)`, and their covariance.
fn fitted(words: &[([f64; 2], Said)]) -> Option<(DVector<f64>, DMatrix<f64>)> {
    let mut at = DVector::from_vec(vec![1.0, -1.0, -0.5, 0.0]);
    let mut value = log_likelihood(words, &at);
    for _ in 0..STEPS {
        let (gradient, curvature) = derivatives(words, &at);
        let step = curvature.clone().lu().solve(&gradient)?;
        let mut share = 1.0;
        let better = loop {
            let tried = &at - share * &step;
            let found = log_likelihood(words, &tried);
            if found >= value {
                break Some((tried, found));
            }
            share *= 0.5;
            if share < 1e-9 {
                break None;
            }
        };
        let Some((tried, found)) = better else { break };
        let gained = found - value;
        (at, value) = (tried, found);
        if gained < 1e-13 {
            break;
        }
    }
    let (_, curvature) = derivatives(words, &at);
    Some((at, (-curvature).try_inverse()?))
}

/// Logarithm of the likelihood of the words and of the prior.
fn log_likelihood(words: &[([f64; 2], Said)], at: &DVector<f64>) -> f64 {
    let chance = |z: f64| 1.0 / (1.0 + (-z).exp());
    let (low, high) = (at[2], at[2] + at[3].exp());
    let word = |([s, a], said): &([f64; 2], Said)| {
        let z = at[0] * s + at[1] * a;
        let p = match said {
            Said::TooLittle => 1.0 - chance(z - low),
            Said::Right => chance(z - low) - chance(z - high),
            Said::TooMuch => chance(z - high),
        };
        p.max(1e-300).ln()
    };
    words.iter().map(word).sum::<f64>() - 0.5 * at.norm_squared() / (WEAK * WEAK)
}

/// Gradient and second derivatives, by central differences: four figures, a few dozen words.
fn derivatives(words: &[([f64; 2], Said)], at: &DVector<f64>) -> (DVector<f64>, DMatrix<f64>) {
    let h = 1e-4;
    let moved = |by: &[(usize, f64)]| {
        let mut there = at.clone();
        by.iter().for_each(|(axis, by)| there[*axis] += by);
        log_likelihood(words, &there)
    };
    let size = at.len();
    let gradient = DVector::from_fn(size, |i, _| (moved(&[(i, h)]) - moved(&[(i, -h)])) / (2.0 * h));
    let second = DMatrix::from_fn(size, size, |i, j| {
        let corner = |a: f64, b: f64| moved(&[(i, a), (j, b)]);
        (corner(h, h) - corner(h, -h) - corner(-h, h) + corner(-h, -h)) / (4.0 * h * h)
    });
    (gradient, second)
}
