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
pub use label::{Form, Label, LabelFault, Portion, ROOM, Stage};
pub use melt::{Dilution, Melting, Method};
pub use mixture::{CITRIC_VOLUME, Drink, Masses, PartialVolumes};
