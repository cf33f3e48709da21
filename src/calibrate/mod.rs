//! From what was weighed, read and titrated to the figures of the house: its melt, its syrups and juices, its
//! hand, each with what is not known of it.

mod contents;
mod hand;
mod melt;
pub mod regression;

use crate::brief::Brief;

/// A figure, as measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Estimate {
    /// The most likely value.
    pub value: f64,
    /// Lower end of its 95 % interval.
    pub low: f64,
    /// Upper end.
    pub high: f64,
    /// How many measurements it rests on.
    pub count: usize,
    /// By which share the interval would narrow with one more measurement like these.
    pub gain: f64,
    /// Measurements that do not fit the others, by their places among the brief's `[[weighed]]`.
    pub odd: Vec<usize>,
}

/// Sugar or acid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Content {
    /// Sugar, g/L.
    Sugar,
    /// Titratable acid as citric, g/L.
    Acid,
}

/// What an ingredient was measured to hold.
#[derive(Debug, Clone, PartialEq)]
pub struct Held {
    /// Whose it is.
    pub candidate: usize,
    /// What.
    pub content: Content,
    /// How much, g/L.
    pub estimate: Estimate,
    /// What the brief had: typical, and the natural range where it varies.
    pub before: (f64, Option<(f64, f64)>),
    /// Whether the readings differ by more than their instruments do: then the interval has grown with them.
    pub scattered: bool,
}

/// How the house's ice melts.
#[derive(Debug, Clone, PartialEq)]
pub struct Melt {
    /// Water from the ice in % of what is poured, at the strength below.
    pub share: Estimate,
    /// How much single serves differ, % of what is poured (standard deviation); nothing under three of them.
    pub spread: Option<f64>,
    /// The mean strength of what was poured before the ice, % vol.
    pub strength: f64,
    /// What the rule says there, %.
    pub rule: f64,
    /// What the brief has there, %: the rule's, or what was kept.
    pub now: f64,
    /// By how many points more than the rule melts per point of strength more; nothing where strengths are too
    /// alike to tell.
    pub tilt: Option<Estimate>,
}

/// How the house pours.
#[derive(Debug, Clone, PartialEq)]
pub struct Hand {
    /// Standard deviation of one pour, ml.
    pub error: Estimate,
    /// How much more than the jigger says reaches the tin, ml a pour.
    pub bias: Estimate,
}

/// What the measurements of a brief say.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Calibration {
    /// The melt.
    pub melt: Option<Melt>,
    /// Sugars and acids.
    pub contents: Vec<Held>,
    /// The hand.
    pub hand: Option<Hand>,
}

/// Takes a brief's `[[weighed]]` together.
pub fn calibrate(brief: &Brief) -> Calibration {
    Calibration { melt: melt::melt(brief), contents: contents::contents(brief), hand: hand::hand(brief) }
}

/// By which share a standard error falls with one more of `count` like measurements: √(n/(n+1)).
fn gain(count: usize) -> f64 {
    let count = count as f64;
    1.0 - (count / (count + 1.0)).sqrt()
}
