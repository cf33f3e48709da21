//! The physics: masses in, measures out.
//!
//! Everything is at 20 °C unless a function takes a temperature. Masses are in grams, volumes in
//! millilitres, densities in g/ml. Masses add and volumes do not: [`Masses::volume`] is the one
//! place where a volume is computed from what is in it.

pub mod acid;
mod around;
pub mod energy;
pub mod ethanol;
pub mod heat;
pub mod ice;
pub mod instruments;
mod label;
pub mod melt;
mod mixture;
pub mod ph;
pub mod refraction;
pub mod sucrose;

pub use around::Around;
pub use label::{FRIDGE, Form, Label, LabelFault, Portion, ROOM, Stage};
pub use melt::{Dilution, Melting, Method};
pub use mixture::{CITRIC_VOLUME, Drink, Masses, PartialVolumes};

/// So many figures are gone over at once where there are many.
const MANY: usize = 50;

/// `Σ c_k x^k` by Horner's rule, each in the place of its x: step by step for all of them, as a processor goes over
/// several at once.
fn horner(coefficients: &[f64], values: &mut [f64]) {
    for values in values.chunks_mut(MANY) {
        let mut sums = [0.0; MANY];
        for c in coefficients.iter().rev() {
            sums.iter_mut().zip(values.iter()).for_each(|(sum, x)| *sum = *sum * x + c);
        }
        values.iter_mut().zip(sums).for_each(|(value, sum)| *value = sum);
    }
}
