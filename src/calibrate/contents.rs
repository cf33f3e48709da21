//! A syrup's sugar from its Brix or density, a juice's acid from a titration; several readings and what was
//! known before, weighted by how sure each is.

use super::regression::{Errors, Observation, Prior, fit, interval_factor};
use super::{Content, Estimate, Held, gain};
use crate::brief::{Brief, Candidate, Known, Origin, Range, Weighed};
use crate::larder;
use crate::liquid::acid::{Acid, titrated};
use crate::liquid::instruments::{Readings, readings};
use crate::liquid::{Dilution, Drink, Label};

/// Errors of the instruments (standard deviations). Common practice, no source: a hand refractometer ±0.2 °Brix, a
/// flask of 10 ml on a scale of 0.01 g ±0.0005 g/ml, a drop of 0.05 ml at either end of a burette.
const BRIX: f64 = 0.2;
const DENSITY: f64 = 0.0005;
const BURETTE: f64 = 0.1;
/// No liquid holds more sugar, g/L.
const MOST: f64 = 1200.0;
/// Readings that differ by more than this many of their instruments' errors are scattered.
const SCATTERED: f64 = 1.5;

/// Every content that was read, by candidate.
pub fn contents(brief: &Brief) -> Vec<Held> {
    let mut all = vec![];
    for at in 0..brief.candidates.len() {
        all.extend(one(brief, at, Content::Sugar));
        all.extend(one(brief, at, Content::Acid));
    }
    all
}

/// A reading as a content: its place among the weighed, the value, its error.
type Reading = (usize, f64, f64);

fn one(brief: &Brief, at: usize, content: Content) -> Option<Held> {
    let candidate = &brief.candidates[at];
    let of = |(place, weighed): (usize, &Weighed)| match weighed.pours.as_slice() {
        [only] if only.candidate == at => values(candidate, weighed, content)
            .into_iter()
            .map(|(value, error)| (place, value, error))
            .collect(),
        _ => vec![],
    };
    let read: Vec<Reading> = brief.weighed.iter().enumerate().flat_map(of).collect();
    if read.is_empty() {
        return None;
    }
    let (typical, range) = match content {
        Content::Sugar => (candidate.label.sugar, candidate.natural.sugar),
        Content::Acid => (candidate.label.acid, candidate.natural.acid),
    };
    let ends = |range: Range| (range.min, range.max);
    let (estimate, scattered) = estimate(&read, known(candidate, content).map(ends))?;
    Some(Held { candidate: at, content, estimate, before: (typical, range.map(ends)), scattered })
}

/// What was known before anything was measured. A figure that was measured and kept is no knowledge beside the
/// measurements that it is from: then the larder's range is, where there is one.
fn known(candidate: &Candidate, content: Content) -> Option<Range> {
    let natural = match (candidate.spread.known, &candidate.origin) {
        (Known::Before, _) => candidate.natural,
        (Known::Measured, Origin::Larder { entry, .. }) => larder::find(entry)?.varies(),
        (Known::Measured, _) => return None,
    };
    match content {
        Content::Sugar => natural.sugar,
        Content::Acid => natural.acid,
    }
}

/// What one weighing says of a content, with its error.
fn values(candidate: &Candidate, weighed: &Weighed, content: Content) -> Vec<(f64, f64)> {
    match content {
        Content::Sugar => {
            let brix =
                weighed.brix.and_then(|read| sugar(candidate, read, BRIX, 20.0, |r| r.refractometer_brix));
            let density = weighed
                .density
                .and_then(|read| sugar(candidate, read, DENSITY, weighed.celsius, |r| r.density));
            brix.into_iter().chain(density).collect()
        }
        Content::Acid => {
            let titration = weighed.titration.into_iter();
            let acid = |base, t: crate::brief::Titration| {
                titrated(base, t.molar, t.sample, Acid::Citric.equivalent())
            };
            titration.map(|t| (acid(t.base, t), acid(BURETTE, t))).collect()
        }
    }
}

/// The sugar at which an instrument would read what was read, by halving: every one of these readings rises
/// with it. The error is carried over by the slope there.
fn sugar(
    candidate: &Candidate,
    read: f64,
    error: f64,
    celsius: f64,
    instrument: impl Fn(&Readings) -> f64,
) -> Option<(f64, f64)> {
    let reading = |sugar: f64| {
        let label = Label { sugar, density: None, ..candidate.label };
        let portion = label.portion().ok()?;
        readings(&Drink::of([(&portion, 100.0)], Dilution::Share(0.0)), celsius).map(|r| instrument(&r))
    };
    let (mut low, mut high) = (0.0, MOST);
    // What cannot exist is too sweet.
    if reading(low)? > read + 3.0 * error {
        return None;
    }
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if reading(middle).is_some_and(|found| found < read) { low = middle } else { high = middle }
    }
    let by = 1.0;
    let slope = (reading(low + by)? - reading((low - by).max(0.0))?) / (low + by - (low - by).max(0.0));
    Some((low, error / slope))
}

/// The weighted mean of the readings and of what was known, and whether the readings are scattered.
fn estimate(read: &[Reading], range: Option<(f64, f64)>) -> Option<(Estimate, bool)> {
    let mut observations: Vec<Observation> = read
        .iter()
        .map(|(_, value, error)| Observation { row: vec![1.0], value: *value, deviation: *error })
        .collect();
    let alone = fit(&observations, &[None], Errors::FromResiduals)?;
    let scattered = alone.freedom >= 1.0 && alone.residual > SCATTERED;
    if scattered {
        observations.iter_mut().for_each(|seen| seen.deviation *= alone.residual);
    }
    // Evenly between the ends of a natural range: a standard deviation of its width over √12.
    let known = range.filter(|(min, max)| max > min);
    let prior =
        known.map(|(min, max)| Prior { mean: 0.5 * (min + max), deviation: (max - min) / 12f64.sqrt() });
    let found = fit(&observations, &[prior], Errors::Known)?;
    let half = interval_factor(scattered.then_some(alone.freedom)) * found.errors[0];
    let value = found.coefficients[0];
    let estimate = Estimate {
        value,
        low: (value - half).max(0.0),
        high: value + half,
        count: read.len(),
        gain: gain(read.len() + usize::from(prior.is_some())),
        odd: alone.outliers().into_iter().map(|at| read[at].0).collect(),
    };
    Some((estimate, scattered))
}
